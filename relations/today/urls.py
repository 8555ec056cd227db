"""Addresses of the working page and of the whole page of a person."""

from django.urls import path

from . import views

app_name = "today"

urlpatterns = [
    path("", views.today, name="today"),
    path("person/<slug:code>/", views.person, name="person"),
    path("receipt/<slug:person>/<slug:picture>/", views.receipt, name="receipt"),
]
