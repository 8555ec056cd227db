"""Addresses of the pages about people: codes only."""

from django.urls import path

from . import change_views, group_views, known_views, phone_views, told_views, views

app_name = "people"

urlpatterns = [
    path("", views.list, name="list"),
    path("new/", views.new, name="new"),
    path("rang-us/", views.rang_us, name="rang_us"),
    path("rang-us/<uuid:key>/settled/", views.settle_rang_us, name="settle_rang_us"),
    path("never-ring/<uuid:key>/whole/", views.settle_shared, name="settle_shared"),
    path("heard/", views.heard, name="heard"),
    path("hold/", views.hold_by_code, name="hold_by_code"),
    path("lift/", views.lift_by_code, name="lift_by_code"),
    path("undo-never-ring/", views.undo_never_ring, name="undo_never_ring"),
    path("communities/", views.communities, name="communities"),
    path("communities/<slug:key>/hope/", group_views.hope, name="hope"),
    path("outside/", views.outside, name="outside"),
    path("<slug:code>/", views.detail, name="detail"),
    path("<slug:code>/vouch/", views.vouch, name="vouch"),
    path("<slug:code>/may-vouch/", views.may_vouch, name="may_vouch"),
    path("<slug:code>/told/", told_views.told, name="told"),
    path("<slug:code>/told/<uuid:key>/", told_views.mend_told, name="mend_told"),
    path("<slug:code>/same/", known_views.same, name="same"),
    path("<slug:code>/mend/", views.mend, name="mend"),
    path("<slug:code>/hold/", views.hold, name="hold"),
    path("<slug:code>/lift/", views.lift, name="lift"),
    path("<slug:code>/never-ring/", views.never_ring, name="never_ring"),
    path("<slug:code>/phone/", phone_views.phone, name="phone"),
    path("<slug:code>/phone/split/", phone_views.split, name="split"),
    path("<slug:code>/phone/<uuid:key>/", phone_views.show_number, name="show_number"),
    path("<slug:code>/phone/<uuid:key>/ended/", phone_views.end_line, name="end_line"),
    path("<slug:code>/phone/<uuid:key>/zone/", phone_views.zone, name="zone"),
    path("<slug:code>/names/", known_views.names, name="names"),
    path("<slug:code>/names/<uuid:key>/", known_views.mend_name, name="mend_name"),
    path("<slug:code>/names/shown/", known_views.show_names, name="show_names"),
    path("<slug:code>/born/", known_views.born, name="born"),
    path("<slug:code>/level/", known_views.level, name="level"),
    path("<slug:code>/condition/", known_views.condition, name="condition"),
    path("<slug:code>/speaker/", known_views.speaker, name="speaker"),
    path("<slug:code>/changed/", change_views.changed, name="changed"),
    path("<slug:code>/changed/asked-again/", change_views.asked_again, name="asked_again"),
    path("<slug:code>/new-name/", change_views.new_name, name="new_name"),
    path("<slug:code>/ways/", known_views.ways, name="ways"),
]
