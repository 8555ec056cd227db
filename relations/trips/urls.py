"""Addresses of trips; a trip is known by its code."""

from django.urls import path

from . import views

app_name = "trips"

urlpatterns = [
    path("<slug:code>/balance/", views.balance, name="balance"),
]
