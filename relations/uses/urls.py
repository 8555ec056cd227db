"""Addresses of plans, the use register, and a stop."""

from django.urls import path

from . import paper_views, stop_views, views

app_name = "uses"

urlpatterns = [
    path("plans/", views.plans, name="plans"),
    path("plans/new/", views.new_plan, name="new_plan"),
    path("plan/<slug:code>/", views.weigh, name="weigh"),
    path("plan/<slug:code>/pictures/", views.pictures, name="pictures"),
    path("plan/<slug:code>/names/", views.names, name="names"),
    path("plan/<slug:code>/drop/", views.drop, name="drop"),
    path("shown/", views.shown, name="shown"),
    path("shown/new/", views.new_shown, name="new_shown"),
    path("stop/", stop_views.stop_whom, name="stop_whom"),
    path("stop/done/", stop_views.stopped, name="stopped"),
    path("stop/unseen/", stop_views.stop_unseen, name="stop_unseen"),
    path("stop/<slug:code>/", stop_views.stop, name="stop"),
    path("undo/", stop_views.undo_all, name="undo_all"),
    path("undo/<slug:code>/", stop_views.undo, name="undo"),
    path("undo/<slug:code>/in-words/", paper_views.in_words, name="in_words"),
    path("undo/<slug:code>/<uuid:key>/", stop_views.undo_line, name="undo_line"),
]
