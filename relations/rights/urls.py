"""Addresses of alarms, requests, erasing, letting go, handing on, closing and backups."""

from django.urls import path

from . import (
    asked_views,
    closing_views,
    counts_views,
    erase_views,
    impact_views,
    letting_views,
    notice_views,
    request_views,
    views,
)

app_name = "rights"

urlpatterns = [
    path("", views.alarm, name="alarm"),
    path("backups/", views.backups, name="backups"),
    path("raised/", views.raised, name="raised"),
    path("others-ask/", asked_views.others_ask, name="others_ask"),
    path("misuse/", asked_views.misuse, name="misuse"),
    path("misuse/<uuid:key>/", asked_views.misuse_step, name="misuse_step"),
    path("counts/", counts_views.counts, name="counts"),
    path("counts/pdf/", counts_views.counts_pdf, name="counts_pdf"),
    path("closing/", closing_views.closing, name="closing"),
    path("closing/begin/", closing_views.begin_closing, name="begin_closing"),
    path("closing/call-off/", closing_views.call_off_closing, name="call_off_closing"),
    path("closing/close/", closing_views.close_project, name="close_project"),
    path("closing/print/<uuid:key>/", closing_views.end_print, name="end_print"),
    path("impact/", impact_views.impact, name="impact"),
    path("impact/pdf/", impact_views.impact_pdf, name="impact_pdf"),
    path("erase/", erase_views.erase, name="erase"),
    path("erase/done/", erase_views.erased, name="erased"),
    path("erase/<str:code>/", erase_views.erase_whom, name="erase_whom"),
    path("letting-go/", letting_views.letting_go, name="letting_go"),
    path("letting-go/<slug:clock>/<slug:key>/", letting_views.let_one_go, name="let_one_go"),
    path("letting-go/<slug:clock>/<slug:key>/later/", letting_views.postpone, name="postpone"),
    path("requests/", request_views.requests, name="requests"),
    path("requests/word/<slug:code>/", request_views.agreed_word, name="agreed_word"),
    path("requests/<uuid:key>/", request_views.request, name="request"),
    path("requests/<uuid:key>/file/", request_views.request_file, name="request_file"),
    path("requests/<uuid:key>/<slug:step>/", request_views.request_step, name="request_step"),
    path("notice/<slug:code>/", notice_views.notice, name="notice"),
    path("<uuid:key>/", views.affected, name="affected"),
    path("<uuid:key>/close/", views.close, name="close"),
]
