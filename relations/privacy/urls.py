"""Addresses of signing in and out."""

from django.urls import path

from . import views

app_name = "privacy"

urlpatterns = [
    path("in/", views.sign_in, name="sign_in"),
    path("out/", views.sign_out, name="sign_out"),
    path("away/", views.away, name="away"),
    path("favicon.ico", views.no_icon, name="no_icon"),
]
