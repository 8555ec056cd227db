"""Addresses of the pages about rings, meetings and trips: codes and random keys only."""

from django.urls import path

from . import recording_views, ring_views, stay_views, views

app_name = "meetings"

urlpatterns = [
    path("", views.list, name="list"),
    path("rings/", ring_views.rings, name="rings"),
    path("ring/<slug:code>/", ring_views.ring, name="ring"),
    path("ring/<slug:code>/number/<uuid:key>/", ring_views.number, name="number"),
    path("ring/<slug:code>/later/", ring_views.ring_later, name="ring_later"),
    path("ring/<slug:code>/thinking/", ring_views.thinking, name="thinking"),
    path("ring/<slug:code>/never/", ring_views.never, name="never"),
    path("ring/<slug:code>/plan/", ring_views.plan, name="plan"),
    path("fix/<slug:code>/", views.fix, name="fix"),
    path("trips/", stay_views.trips, name="trips"),
    path("trips/new/", stay_views.new_trip, name="new_trip"),
    path("trips/<slug:code>/light/", stay_views.light_of, name="light_of"),
    path("calendar/", views.calendar, name="calendar"),
    path("helpers/", views.helpers, name="helpers"),
    path("recordings/", recording_views.recordings, name="recordings"),
    path("recordings/<uuid:key>/", recording_views.recording, name="recording"),
    path("recordings/<uuid:key>/last-day/", recording_views.last_day, name="last_day"),
    path("interviews/<slug:code>/", recording_views.interviews, name="interviews"),
    path("interview/<uuid:key>/", recording_views.interview, name="interview"),
    path("interview/<uuid:key>/how-are-you/", recording_views.how_are_you, name="how_are_you"),
    path("<uuid:key>/", views.detail, name="detail"),
    path("<uuid:key>/place/", views.place, name="place"),
    path("<uuid:key>/who-helps/", views.who_helps, name="who_helps"),
    path("<uuid:key>/write-up/", views.write_up, name="write_up"),
]
