"""Addresses of plans, the use register, and a stop."""

from django.urls import path

from . import (
    clearing_views,
    last_word_views,
    paper_views,
    register_views,
    sidecar_views,
    situation_views,
    stop_views,
    venue_views,
    views,
)

app_name = "uses"

urlpatterns = [
    path("plans/", views.plans, name="plans"),
    path("plans/new/", views.new_plan, name="new_plan"),
    path("plan/<slug:code>/", views.weigh, name="weigh"),
    path("plan/<slug:code>/pictures/", views.pictures, name="pictures"),
    path("plan/<slug:code>/names/", views.names, name="names"),
    path("plan/<slug:code>/words/<slug:picture>/", views.words, name="words"),
    path("plan/<slug:code>/people/", views.people, name="people"),
    path("plan/<slug:code>/calendar/", views.calendar, name="calendar"),
    path("plan/<slug:code>/drop/", views.drop, name="drop"),
    path("plan/<slug:code>/sidecars/", sidecar_views.sidecars, name="sidecars"),
    path("plan/<slug:code>/sidecars/zip/", sidecar_views.sidecars_zip, name="sidecars_zip"),
    path("plan/<slug:code>/sheet/", clearing_views.new_sheet, name="new_sheet"),
    path("sheets/", clearing_views.sheets, name="sheets"),
    path("sheets/<int:number>/", clearing_views.clearance, name="clearance"),
    path("sheets/<int:number>/pdf/", clearing_views.clearance_pdf, name="clearance_pdf"),
    path("sheets/<int:number>/link/", clearing_views.link, name="link"),
    path("sheets/<int:number>/end/", clearing_views.end_sheet, name="end_sheet"),
    path("sheets/<int:number>/word/<slug:picture>/", clearing_views.word, name="word"),
    path("venue/", venue_views.open_sheet, name="open_sheet"),
    path("sheet/", venue_views.sheet, name="sheet"),
    path("sheet/pdf/", venue_views.sheet_pdf, name="sheet_pdf"),
    path("sheet/confirm/", venue_views.confirm_sheet, name="confirm_sheet"),
    path("sheet/down/", venue_views.confirm_down, name="confirm_down"),
    path("shown/", views.shown, name="shown"),
    path("shown/new/", views.new_shown, name="new_shown"),
    path("shown/<slug:code>/", register_views.use, name="use"),
    path("last-words/", last_word_views.last_words, name="last_words"),
    path("last-words/calendar/", last_word_views.last_words_calendar, name="last_words_calendar"),
    path("situation/", situation_views.situation, name="situation"),
    path("situation/<uuid:key>/", situation_views.situation_of, name="situation_of"),
    path("stop/", stop_views.stop_whom, name="stop_whom"),
    path("stop/done/", stop_views.stopped, name="stopped"),
    path("stop/unseen/", stop_views.stop_unseen, name="stop_unseen"),
    path("stop/<slug:code>/", stop_views.stop, name="stop"),
    path("undo/", stop_views.undo_all, name="undo_all"),
    path("undo/<slug:code>/", stop_views.undo, name="undo"),
    path("undo/<slug:code>/in-words/", paper_views.in_words, name="in_words"),
    path("undo/<slug:code>/<uuid:key>/", stop_views.undo_line, name="undo_line"),
]
