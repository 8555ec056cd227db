"""Addresses of the pages about sittings and pictures: codes only."""

from django.urls import path

from . import frame_views, sitting_views, views

app_name = "pictures"

# A sitting's code may hold a slash, as 07/T2; a picture's never does.
urlpatterns = [
    path("", views.list, name="list"),
    path("sittings/", sitting_views.sittings, name="sittings"),
    path("sit/<slug:code>/", sitting_views.sit, name="sit"),
    path("sitting/<path:code>/more/", sitting_views.join, name="join"),
    path("sitting/<path:code>/film/", sitting_views.sheets, name="sheets"),
    path("sitting/<path:code>/", sitting_views.sitting, name="sitting"),
    path("add/<path:code>/", sitting_views.add, name="add"),
    path("leaks/", frame_views.leaks, name="leaks"),
    path("<slug:code>/", views.detail, name="detail"),
    path("<slug:code>/light-copy/", views.light_copy, name="light_copy"),
    path("<slug:code>/copy/", views.copy, name="copy"),
    path("<slug:code>/mend/", views.mend, name="mend"),
    path("<slug:code>/caption/", views.caption, name="caption"),
    path("<slug:code>/quote/", frame_views.quote, name="quote"),
    path("<slug:code>/crop/", frame_views.crop, name="crop"),
    path("<slug:code>/strangers/", frame_views.strangers, name="strangers"),
    path("<slug:code>/hold/", views.hold, name="hold"),
    path("<slug:code>/lift/", views.lift, name="lift"),
]
