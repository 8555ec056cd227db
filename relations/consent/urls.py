"""Addresses of wordings and forms; a form is known by the serial on its paper."""

from django.urls import path

from . import (
    aloud_views,
    blank_views,
    home_views,
    paper_views,
    record_views,
    sheet_views,
    team_views,
    views,
    wording_views,
)

app_name = "consent"

urlpatterns = [
    path("", views.list, name="list"),
    path("print/", views.print, name="print"),
    path("blanks/<slug:code>/", blank_views.blanks, name="blanks"),
    path("blanks/<slug:code>/pdf/", blank_views.blanks_pdf, name="blanks_pdf"),
    path("from-before/", views.from_before, name="from_before"),
    path("file/", views.file, name="file"),
    path("coming-home/", home_views.bring_home, name="bring_home"),
    path("coming-home/<uuid:key>/", home_views.brought, name="brought"),
    path("coming-home/<uuid:key>/on/", home_views.go_on, name="go_on"),
    path("tray/", home_views.tray, name="tray"),
    path("tray/blank/", home_views.blanks_aside, name="blanks_aside"),
    path("tray/<uuid:key>/", home_views.place, name="place"),
    path("tray/<uuid:key>/aside/", home_views.set_aside, name="set_aside"),
    path("tray/<uuid:key>/page/", home_views.loose_page, name="loose_page"),
    path("keep/", record_views.keep, name="keep"),
    path("wordings/", wording_views.wordings, name="wordings"),
    path("wordings/<slug:language>/<int:version>/", wording_views.wording, name="wording"),
    path("wordings/<slug:language>/write/", wording_views.write, name="write"),
    path("proof/<slug:first>/<slug:second>/", views.proof, name="proof"),
    path("meeting-sheet/<uuid:key>/", team_views.meeting_sheet, name="meeting_sheet"),
    path("sitting-sheet/<slug:code>/", team_views.sitting_sheet, name="sitting_sheet"),
    path("papers/", sheet_views.papers, name="papers"),
    path(
        "papers/<slug:kind>/<slug:first>/<slug:second>/",
        sheet_views.paper_proof,
        name="paper_proof",
    ),
    path("said-of/<slug:picture>/", aloud_views.said_of, name="said_of"),
    path("said-of/<slug:picture>/<slug:code>/", aloud_views.read_to, name="read_to"),
    path("<serial:serial>/", paper_views.detail, name="detail"),
    path("<serial:serial>/pdf/", paper_views.pdf, name="pdf"),
    path("<serial:serial>/move/", paper_views.move, name="move"),
    path("<serial:serial>/scan/<int:number>/", paper_views.scan, name="scan"),
    path("<serial:serial>/record/", record_views.record, name="record"),
    path("<serial:serial>/receipt/", record_views.receipt, name="receipt"),
    path("<serial:serial>/kept/<int:number>/", record_views.kept, name="kept"),
    path("<serial:serial>/read/", paper_views.read, name="read"),
    path("<serial:serial>/boxes/", paper_views.boxes, name="boxes"),
    path("<serial:serial>/whose/", home_views.whose, name="whose"),
    path("<serial:serial>/settle/", paper_views.settle, name="settle"),
    path("<serial:serial>/answers/", paper_views.answers, name="answers"),
    path("<serial:serial>/spot-sheet/", team_views.spot_sheet, name="spot_sheet"),
    path("<serial:serial>/guardian/", paper_views.guardian, name="guardian"),
    path("<slug:code>/speaker-says/", paper_views.speaker_says, name="speaker_says"),
]
