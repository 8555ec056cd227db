"""The impact assessment as page and paper: whole, in the user's language, of nobody."""

import subprocess
from io import BytesIO

import pikepdf
import pytest
from django.urls import reverse

from relations.people.models import Participant
from relations.privacy.models import AccessEntry
from relations.rights.impact_table import LISTED
from relations.rights.impact_words import ANSWERABLE, BY_HAND, risks
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def keeper(client):
    cast.signed_in(client, cast.keeper())
    return client


def squeezed(text):
    return " ".join(text.split())


def printed(client):
    answer = client.get(reverse("rights:impact_pdf"))
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    return answer.content


def words(content):
    ran = subprocess.run(["pdftotext", "-raw", "-", "-"], input=content, capture_output=True)
    return squeezed(ran.stdout.decode())


def test_page_names_every_field_and_says_where_it_lies(keeper, settings):
    settings.RELATIONS_IDLE_MINUTES = 7
    page = keeper.get(reverse("rights:impact")).content.decode()
    for label, kept in LISTED.items():
        said = page.split(f">{label}: ")[1].split("</bdi>")[0]
        assert [name.rstrip("*†") for name in said.split(", ")] == list(kept.names)
    assert "Unused for 7 minutes, the site locks itself." in page
    assert "no TLS" in page and "not set: write it on the paper" in page
    assert " call_name*, " in page and " light_copy†, " in page
    assert risks()[0].what in page and str(BY_HAND[0]) in page


def test_page_says_what_is_set(keeper, settings):
    settings.RELATIONS_STORED_IN = settings.RELATIONS_LAW_OF = "FR"
    settings.SECURE_COOKIES, settings.RELATIONS_PROJECT = True, "Harbour faces"
    page = keeper.get(reverse("rights:impact")).content.decode()
    assert "It is stored in: France." in page and "The law that is gone by: France." in page
    assert "The way to the browser is sealed (TLS)." in page and "Harbour faces" in page


@pytest.mark.needs("pdftotext")
def test_paper_is_whole_numbered_and_dated(keeper, settings):
    settings.RELATIONS_PROJECT = "Harbour faces"
    content = printed(keeper)
    said = words(content)
    names = [f"{label}:" for label in LISTED]
    assert [name for name in names if name not in said] == []
    lines = [*ANSWERABLE, *BY_HAND, *(one for risk in risks() for one in risk)]
    assert [str(one) for one in lines if str(one) not in said] == []
    assert "printed on 23 November 2026" in said and "Harbour faces" in said
    with pikepdf.open(BytesIO(content)) as pdf:
        pages = len(pdf.pages)
        sizes = {tuple(round(float(side)) for side in page.mediabox[2:]) for page in pdf.pages}
    assert sizes == {(595, 842)}
    assert f"1 / {pages}" in said and f"{pages} / {pages}" in said
    assert 6 <= pages <= 20


@pytest.mark.needs("pdftotext")
def test_paper_is_of_nobody_and_leaves_no_line(keeper):
    make(Participant, call_name="Zéphirine")
    before = AccessEntry.objects.count()
    content = printed(keeper)
    said = words(content)
    assert "Somebody of whom word came" in said and "Zéphirine" not in said
    assert AccessEntry.objects.count() == before
    with pikepdf.open(BytesIO(content)) as pdf:
        told = {str(key): str(value) for key, value in pdf.docinfo.items()}
    assert told["/Title"] == "impact-2026-11-23"
    assert not {"/Author", "/Subject", "/Keywords"} & told.keys()


@pytest.mark.needs("pdftotext")
def test_paper_is_in_the_language_of_the_screen(client):
    user = cast.keeper()
    user.language = "fr"
    user.save()
    cast.signed_in(client, user)
    said = words(printed(client))
    for expected in ("Analyse d’impact", "imprimée le 23 novembre 2026", "Ce que fait le site"):
        assert expected in said
    assert "What" not in said and "Somebody" not in said
