"""Every pattern of the style sheet on one page, and a long form gone wrong: two pages for tests."""

from datetime import UTC, date, datetime
from pathlib import Path
from types import SimpleNamespace

from django import forms
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import include, path
from django.utils import translation

from relations.languages.forms import (
    CodeField,
    DayField,
    Group,
    HourField,
    NameField,
    NoteField,
    PhoneField,
    PlainForm,
    SerialField,
    TicksField,
    YesNoField,
)

TEMPLATE = Path(__file__).with_name("patterns.html")
USES = ["Exhibition wall", "Book", "Teaching, talk", "Press", "Web", "Juries and funders"]
# Half of it right, half of it wrong.
TYPED = {
    "name": "Ali\u202e",
    "serial": "6002",
    "day": "२०२६-११-३५",
    "use_2": "yes",
    "note": "Ring.",
}


class Find(PlainForm):
    method = "get"
    press = "Find"
    words = forms.CharField(label="Code or name", required=False)


class Long(PlainForm):
    press = "File"
    name = NameField(label="Name as the person writes it", help_text="In any script.")
    code = CodeField(label="Code")
    serial = SerialField(label="Serial on the form")
    phone = PhoneField(label="Telephone, as given", help_text="One number.", required=False)
    day = DayField(label="Day of the sitting")
    hour = HourField(label="Hour", required=False)
    note = NoteField(label="What to do", required=False)
    level = forms.ChoiceField(
        label="Level", choices=[("o", "Ordinary"), ("r", "Raised")], widget=forms.RadioSelect
    )
    scan = forms.FileField(label="Scan", required=False)
    read = TicksField(label="Languages", choices=[("fr", "French"), ("ar", "Arabic")])
    place = forms.ChoiceField(label="Place", choices=[("a", "La Forme"), ("b", "Le Môle")])
    sure = forms.BooleanField(label="I have read both pages")
    use_0, use_1, use_2, use_3, use_4, use_5 = (
        YesNoField(label=use, required=use == "Book") for use in USES
    )

    def groups(self) -> tuple[Group | str, ...]:
        uses = [f"use_{number}" for number in range(len(USES))]
        return (
            Group("The person", "name", "code", "phone"),
            *("serial", "day", "hour", "note"),
            Group("What is allowed", *uses, ticks=True),
        )


def _ways(*labels: str) -> list[SimpleNamespace]:
    marks = {"Stop / Hold": "stop", "Alarm": "risk"}
    return [
        SimpleNamespace(url="/", label=label, mark=marks.get(label, ""), current=number == 0)
        for number, label in enumerate(labels)
    ]


def _page(request: HttpRequest, **context: object) -> HttpResponse:
    """One page in the language asked for, as the artist would see it in rehearsal."""
    shell = {
        "user": SimpleNamespace(called="Ines"),
        "who": "Ines",
        "role_copy": "artist’s copy",
        "is_rehearsal": True,
        "nav": _ways("Clearing", "Forms", "Pictures", "Introductions", "Wordings", "Trips"),
        "bar": _ways("Today", "People", "Prints owed", "Stop / Hold", "Alarm"),
        "on": date(2026, 11, 23),
        "at": datetime(2026, 11, 23, 9, 5, tzinfo=UTC),
    }
    template = engines["django"].from_string(TEMPLATE.read_text("utf-8"))
    with translation.override(request.GET.get("lang", "en")):
        return HttpResponse(template.render({**shell, **context}, request))


def patterns(request: HttpRequest) -> HttpResponse:
    page = Paginator(range(50), 10).page(2)
    return _page(request, find=Find(), nine=range(9), page=page)


def long_form(request: HttpRequest) -> HttpResponse:
    return _page(request, form=Long(request.POST or TYPED))


def gone(request: HttpRequest) -> HttpResponse:
    return HttpResponse("<!doctype html><title>In</title><p>Signed out", status=200)


# What the shell of every page links to.
SHELL = [path("out/", gone, name="sign_out"), path("own/", gone, name="own")]
urlpatterns = [
    path("", patterns),
    path("form/", long_form),
    path("", include((SHELL, "privacy"))),
]
