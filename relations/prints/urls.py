"""Addresses of the prints that are owed, of their way, and of promises."""

from django.urls import path

from . import lab_views, round_views, slip_views, views

app_name = "prints"

urlpatterns = [
    path("", views.owed, name="owed"),
    path("owe/", views.owe, name="owe"),
    path("without-picture/", views.without_picture, name="without_picture"),
    path("find/", slip_views.find, name="find"),
    path("slips/", slip_views.slips, name="slips"),
    path("promises/", views.promises, name="promises"),
    path("promises/new/", views.new_promise, name="new_promise"),
    path("promises/<uuid:key>/kept/", views.kept, name="kept"),
    path("promises/<uuid:key>/ended/", views.end_promise, name="end_promise"),
    path("lab/", lab_views.lab, name="lab"),
    path("lab/<slug:code>/", lab_views.order, name="order"),
    path("lab/<slug:code>/slip/", lab_views.lab_slip, name="lab_slip"),
    path("lab/<slug:code>/files/", lab_views.lab_files, name="lab_files"),
    path("lab/<slug:code>/handed-over/", lab_views.hand_over, name="hand_over"),
    path("lab/<slug:code>/collect/", lab_views.collect, name="collect"),
    path("lab/<slug:code>/prices/", lab_views.prices, name="prices"),
    path("quarters/", round_views.quarters, name="quarters"),
    path("rounds/", round_views.rounds, name="rounds"),
    path("rounds/new/", round_views.round, name="round"),
    path("rounds/<slug:round_code>/", round_views.walk, name="walk"),
    path("rounds/<slug:round_code>/set-out/", round_views.set_out, name="set_out"),
    path("rounds/<slug:round_code>/called-off/", round_views.call_off, name="call_off"),
    path("rounds/<slug:round_code>/places/", round_views.places, name="places"),
    path("rounds/<slug:round_code>/names/", round_views.names, name="names"),
    path("rounds/<slug:round_code>/typed/", round_views.typed, name="typed"),
    path("<slug:person>/<slug:picture>/where/", round_views.where, name="where"),
    path("<slug:person>/<slug:picture>/place/", round_views.place, name="place"),
    path("<slug:person>/<slug:picture>/", views.way, name="way"),
    path("<slug:person>/<slug:picture>/<slug:to>/", views.step, name="step"),
]
