"""The notice of what is kept: kinds and no value, in two languages, once a press."""

import subprocess
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.documents.models import Sheet
from relations.people.models import PhoneLine
from tests import cast
from tests.consent.test_sheets import wording
from tests.rows import make

pytestmark = pytest.mark.django_db
PROJECT = "Harbour faces"


def printed(client, person, **rest: str) -> str:
    """The words of the paper."""
    sent = {"token": str(uuid4()), "first": str(wording("en").pk), "second": str(wording("fr").pk)}
    answer = client.post(reverse("rights:notice", args=[person.code]), {**sent, **rest})
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    ran = subprocess.run(
        ["pdftotext", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    return " ".join(ran.stdout.decode().split())


@pytest.mark.needs("pdftotext")
def test_notice_names_the_kinds_that_are_kept_and_no_value(client, settings):
    settings.RELATIONS_PROJECT = PROJECT
    person = cast.danuta()
    make(PhoneLine, person=person, as_typed="06 39 98 00 07")
    cast.signed_in(client, cast.artist())
    words = printed(client, person)
    assert "How to reach you: while a yes" in words and "Your name, and how to say it:" in words
    assert "Your prints, and what we promised" not in words
    for hidden in (person.call_name, "06 39", PROJECT):
        assert hidden not in words
    assert Sheet.objects.get(kind="notice").serial in words


@pytest.mark.needs("pdftotext")
def test_project_is_named_where_that_was_asked(client, settings):
    settings.RELATIONS_PROJECT = PROJECT
    cast.signed_in(client, cast.artist())
    assert PROJECT in printed(client, cast.danuta(), names_project="on")


def test_looking_prints_nothing(client):
    wording("fr")
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("rights:notice", args=[cast.danuta().code]))
    assert page.status_code == 200 and not Sheet.objects.exists()
