"""Addresses of the prints that are owed, of their way, and of promises."""

from django.urls import path

from . import views

app_name = "prints"

urlpatterns = [
    path("", views.owed, name="owed"),
    path("owe/", views.owe, name="owe"),
    path("without-picture/", views.without_picture, name="without_picture"),
    path("promises/", views.promises, name="promises"),
    path("promises/new/", views.new_promise, name="new_promise"),
    path("promises/<uuid:key>/kept/", views.kept, name="kept"),
    path("<slug:person>/<slug:picture>/", views.way, name="way"),
    path("<slug:person>/<slug:picture>/<slug:to>/", views.step, name="step"),
]
