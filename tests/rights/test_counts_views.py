"""The page of counts for funders and its paper: for the artist, once, and of nobody."""

import subprocess
import time
from datetime import date
from io import BytesIO
from uuid import uuid4

import pikepdf
import pytest
from django.urls import reverse

from relations.people.models import Participant
from relations.privacy.ending import SURE_AT
from relations.rights.models import CountsReport
from tests import cast
from tests.rights.test_counting import group, sat
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client):
    cast.signed_in(client, cast.artist())
    session = client.session
    session[SURE_AT] = time.time()
    session.save()
    return client


def printed(client, day="2026-06-30", token=None):
    sent = {"token": token or str(uuid4()), "as_of": day}
    return client.post(reverse("rights:counts_pdf"), sent)


def words(answer):
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    ran = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    return " ".join(ran.stdout.decode().split())


def test_page_shows_what_would_be_said_and_keeps_nothing(artist):
    sat(group("Aulne"), 12)
    page = artist.get(reverse("rights:counts")).content.decode()
    assert "Counted up to 30 June 2026" in page and "Print and keep it" in page
    assert "Nothing was said yet." in page
    assert not CountsReport.objects.exists()


@pytest.mark.needs("pdftotext")
def test_paper_says_what_the_page_said_and_nothing_of_anybody(artist, settings):
    settings.RELATIONS_PROJECT = "Harbour faces"
    sat(group("Aulne"), 12, call_name="Zéphirine", level="grave")
    sat(group("Bouleau"), 3, call_name="Zéphirine")
    answer = printed(artist)
    said = words(answer)
    for expected in (
        *("Harbour faces – Counted up to 30 June 2026", "Aulne not shown", "Bouleau under 5"),
        "Hidden cells stay hidden, also by telephone.",
    ):
        assert expected in said
    codes = Participant.objects.values_list("code", flat=True)
    assert not [word for word in ("Zéphirine", "grave", *codes) if word in said]
    assert answer["Content-Disposition"] == 'inline; filename="counts.pdf"'
    with pikepdf.open(BytesIO(answer.content)) as opened:
        assert {"/Author", "/CreationDate", "/ModDate"}.isdisjoint(opened.docinfo.keys())


@pytest.mark.needs("pdftotext")
def test_second_press_prints_what_the_first_one_said(artist):
    aulne = group("Aulne")
    sat(aulne, 12)
    first = words(printed(artist))
    sat(aulne, 30)
    assert words(printed(artist)) == first
    page = artist.get(reverse("rights:counts")).content.decode()
    assert page.count("Print it again") == 2 and "Print and keep it" not in page


def test_press_that_is_sent_twice_leads_back_to_the_page(artist):
    token = str(uuid4())
    assert printed(artist, token=token).status_code == 200
    again = printed(artist, token=token)
    assert (again.status_code, again["Location"]) == (302, reverse("rights:counts"))
    assert CountsReport.objects.count() == 1


@pytest.mark.parametrize("day", ["2026-07-01", "x"])
def test_report_of_no_fixed_day_is_refused_in_words(artist, day):
    answer = printed(artist, day)
    assert answer.status_code == 422
    assert "There is no report of this day." in answer.content.decode()
    assert not CountsReport.objects.exists()


def test_table_that_was_left_out_is_named_with_its_reason(artist):
    for name, many in (("Aulne", 13), ("Bouleau", 7), ("Cèdre", 6), ("Frêne", 0)):
        sat(group(name), many)
    page = artist.get(reverse("rights:counts")).content.decode()
    assert "beside another table it would tell too much" in page
    assert "January to June 2025" not in page


def test_half_years_and_people_in_no_group_are_said_in_words(artist):
    sat(None, 12, on=date(2024, 7, 1))
    sat(None, 12, on=date(2025, 1, 1))
    make(CountsReport, as_of=date(2024, 6, 30))
    page = artist.get(reverse("rights:counts")).content.decode()
    for expected in ("In no group", "July to December 2024", "January to June 2025", "None yet."):
        assert expected in page
