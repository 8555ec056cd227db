"""Addresses of the working page, of the day sheet and of the whole page of a person."""

from django.urls import path

from . import outbox_views, sheet_views, views

app_name = "today"

urlpatterns = [
    path("", views.today, name="today"),
    path("person/<slug:code>/", views.person, name="person"),
    path("outbox/", outbox_views.waiting, name="waiting"),
    path("outbox/write/", outbox_views.write, name="write"),
    path("outbox/send/", outbox_views.send, name="send"),
    path("outbox/<uuid:key>/", outbox_views.entry, name="entry"),
    path("outbox/<uuid:key>/let-go/", outbox_views.let_entry_go, name="let_entry_go"),
    path("hello/", outbox_views.hello, name="hello"),
    path("sw.js", outbox_views.worker, name="worker"),
    path("day-sheet/", sheet_views.day_sheet, name="day_sheet"),
    path("day-sheet/<serial:serial>/", sheet_views.type_in, name="type_in"),
    path("receipt/<slug:person>/<slug:picture>/", views.receipt, name="receipt"),
]
