"""The address of the introductions."""

from django.urls import path

from . import views

app_name = "referrals"

urlpatterns = [path("", views.introductions, name="introductions")]
