"""Addresses of the pages about rings, meetings and trips: codes and random keys only."""

from django.urls import path

from . import ring_views, views

app_name = "meetings"

urlpatterns = [
    path("", views.list, name="list"),
    path("rings/", ring_views.rings, name="rings"),
    path("ring/<slug:code>/", ring_views.ring, name="ring"),
    path("ring/<slug:code>/later/", ring_views.ring_later, name="ring_later"),
    path("ring/<slug:code>/thinking/", ring_views.thinking, name="thinking"),
    path("ring/<slug:code>/never/", ring_views.never, name="never"),
    path("ring/<slug:code>/plan/", ring_views.plan, name="plan"),
    path("fix/<slug:code>/", views.fix, name="fix"),
    path("trips/", views.trips, name="trips"),
    path("trips/new/", views.new_trip, name="new_trip"),
    path("helpers/", views.helpers, name="helpers"),
    path("<uuid:key>/", views.detail, name="detail"),
    path("<uuid:key>/place/", views.place, name="place"),
    path("<uuid:key>/write-up/", views.write_up, name="write_up"),
]
