"""The answer to a stop on paper: with neither name nor place, in two languages, once a press."""

import subprocess
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.consent.models import TakenBack
from relations.documents.models import Sheet
from relations.pictures.models import Picture
from relations.uses.models import Shown, UndoLine
from tests import cast
from tests.consent.test_sheets import wording
from tests.rows import AT, DAY, make

pytestmark = pytest.mark.django_db


@pytest.fixture
def stopped():
    """Somebody who took back everything, with one thing that is down already."""
    person = cast.danuta()
    make(TakenBack, person=person, scope="all", use="", picture=None, said_on=DAY)
    shown = make(Shown, use="web", place="A wall by the quay", holder="The keeper of the site")
    picture = make(Picture, code="K12")
    make(
        UndoLine,
        person=person,
        shown=shown,
        picture=picture,
        code="take_down",
        force="forced",
        due_at=AT,
        done_on=DAY,
    )
    return person


def press(client, person, **rest: str):
    sent = {"token": str(uuid4()), "first": str(wording("fr").pk), "second": str(wording("en").pk)}
    return client.post(reverse("uses:in_words", args=[person.code]), {**sent, **rest})


@pytest.mark.needs("pdftotext")
def test_answer_says_what_is_done_and_neither_name_nor_place(client, stopped):
    cast.signed_in(client, cast.artist())
    answer = press(client, stopped)
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    ran = subprocess.run(
        ["pdftotext", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    words = " ".join(ran.stdout.decode().split())
    assert "Elle est retirée de la page web." in words and "done on 23 November 2026" in words
    for hidden in (stopped.call_name, "quay", "keeper of the site"):
        assert hidden not in words
    assert Sheet.objects.get(kind="answer").serial in words


def test_looking_prints_nothing_and_two_equal_languages_are_refused(client, stopped):
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("uses:in_words", args=[stopped.code]))
    assert page.status_code == 200
    assert press(client, stopped, second=str(wording("fr").pk)).status_code == 422
    assert not Sheet.objects.exists()


def test_page_of_somebody_who_took_nothing_back_says_so(client):
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("uses:in_words", args=[cast.danuta().code]))
    assert b"They have taken nothing back." in page.content
