"""Addresses of wordings and forms; a form is known by the serial on its paper."""

from django.urls import path, register_converter

from . import paper_views, views


class SerialConverter:
    """Five figures, a line and two figures, as on the paper."""

    regex = "[0-9]{5}-[0-9]{2}"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(SerialConverter, "serial")

app_name = "consent"

urlpatterns = [
    path("", views.list, name="list"),
    path("print/", views.print, name="print"),
    path("from-before/", views.from_before, name="from_before"),
    path("file/", views.file, name="file"),
    path("wordings/", views.wordings, name="wordings"),
    path("wordings/<slug:language>/<int:version>/", views.wording, name="wording"),
    path("wordings/<slug:language>/write/", views.write, name="write"),
    path("proof/<slug:first>/<slug:second>/", views.proof, name="proof"),
    path("<serial:serial>/", paper_views.detail, name="detail"),
    path("<serial:serial>/pdf/", paper_views.pdf, name="pdf"),
    path("<serial:serial>/move/", paper_views.move, name="move"),
    path("<serial:serial>/scan/<int:number>/", paper_views.scan, name="scan"),
    path("<serial:serial>/read/", paper_views.read, name="read"),
    path("<serial:serial>/settle/", paper_views.settle, name="settle"),
    path("<serial:serial>/answers/", paper_views.answers, name="answers"),
    path("<serial:serial>/guardian/", paper_views.guardian, name="guardian"),
    path("<slug:code>/speaker-says/", paper_views.speaker_says, name="speaker_says"),
]
