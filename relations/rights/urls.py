"""Addresses of the alarm."""

from django.urls import path

from . import views

app_name = "rights"

urlpatterns = [
    path("", views.alarm, name="alarm"),
    path("raised/", views.raised, name="raised"),
    path("<uuid:key>/", views.affected, name="affected"),
    path("<uuid:key>/close/", views.close, name="close"),
]
