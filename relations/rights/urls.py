"""Addresses of the alarm and of the backups."""

from django.urls import path

from . import erase_views, notice_views, views

app_name = "rights"

urlpatterns = [
    path("", views.alarm, name="alarm"),
    path("backups/", views.backups, name="backups"),
    path("raised/", views.raised, name="raised"),
    path("erase/", erase_views.erase, name="erase"),
    path("erase/done/", erase_views.erased, name="erased"),
    path("erase/<str:code>/", erase_views.erase_whom, name="erase_whom"),
    path("notice/<slug:code>/", notice_views.notice, name="notice"),
    path("<uuid:key>/", views.affected, name="affected"),
    path("<uuid:key>/close/", views.close, name="close"),
]
