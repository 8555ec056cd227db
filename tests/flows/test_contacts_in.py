"""A telephone's file becomes one person who may be rung, and leaves nothing else behind."""

import re
from collections.abc import Iterator
from html import unescape
from uuid import uuid4

import pytest
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from relations.people import actions
from relations.people.models import Participant
from tests import cast

pytestmark = pytest.mark.django_db

# As a spreadsheet saves it: semicolons, UTF-16 with its mark; Aya asked never to be rung.
FILE = """Nom;Téléphone;Courriel;Anniversaire
Nélida;06 39 98 00 51;n@example.org;1987-05-28
Bruno;06 39 98 00 52;b@example.org;
Aya;06 39 98 00 53;;
""".encode("utf-16")
WRITES = re.compile(r"\s*(INSERT|UPDATE|DELETE|REPLACE|CREATE)\b", re.IGNORECASE)


def rows() -> Iterator[tuple[str, int]]:
    for model in apps.get_models():
        yield model._meta.label, model._default_manager.count()


def sent(client: Client, page: str, **said: object) -> tuple[int, str]:
    """A press that must write nothing but when the session was last seen."""
    before, keys = dict(rows()), set(client.session.keys())
    with CaptureQueriesContext(connection) as asked:
        answer = client.post(reverse(f"people:{page}"), {"token": str(uuid4()), **said})
    writes = [one["sql"] for one in asked if WRITES.match(one["sql"])]
    assert not [sql for sql in writes if not sql.startswith('UPDATE "django_session"')]
    kept = client.session
    assert (set(kept.keys()), "Nélida" in str(dict(kept.items()))) == (keys, False)
    assert (dict(rows()), "no-store" in answer.headers["Cache-Control"]) == (before, True)
    return answer.status_code, answer.content.decode()


def carried(page: str) -> str:
    found = re.search(r'name="carried" value="([^"]+)"', page)
    assert found
    return unescape(found[1])


def test_from_the_file_to_somebody_who_may_be_rung(client: Client) -> None:
    cast.marcel()
    aya = cast.person("53", "Aya")
    cast.line(aya, "06 39 98 00 53")
    actions.never_ring(person=aya, by=cast.artist(), at=cast.moment())
    artist = cast.signed_in(client, cast.artist())
    artist.get("/")  # the session knows the day of its last look
    file = SimpleUploadedFile("contacts.csv", FILE)
    _, page = sent(artist, "contacts", file=file)
    wrong = {"carried": carried(page), "called": "1", "numbers": "1", "country": "FR"}
    status, _ = sent(artist, "contact_columns", **wrong)
    assert status == 422
    right = {**wrong, "called": "0", "has_head": "on"}
    status, page = sent(artist, "contact_columns", **right)
    assert (status, "Courriel" in page, "example.org" in page) == (200, True, False)
    assert page.count('name="take"') == 2
    assert "This number may not be rung." in page
    _, page = sent(artist, "contact_lines", carried=carried(page), take="0")
    assert ("Nélida" in page, "Bruno" in page, "Aya" in page) == (True, False, False)

    said = {
        "token": str(uuid4()), "country": "FR", "0-call_name": "Nélida", "0-source": "person",
        "0-introducer": "01", "0-heard_on": "2026-11-20", "0-precision": "day",
        "0-may_say_who": "yes", "0-has_power": "no", "0-number_0": "06 39 98 00 51",
    }  # fmt: skip
    taken = reverse("people:take_contacts")
    answer = artist.post(taken, {**said, "0-asked_first": "not_said"})
    assert (answer.status_code, Participant.objects.count()) == (422, 2)
    assert 'value="06 39 98 00 51"' in answer.content.decode()
    for _press in range(2):
        answer = artist.post(taken, {**said, "0-asked_first": "yes"})
        assert answer.status_code == 302
    nelida = Participant.objects.exclude(code__in=("01", "53")).get()
    vouch = reverse("people:vouch", args=[nelida.code])
    yes = {"asked_first": "yes", "may_say_who": "yes", "has_power": "no", "token": str(uuid4())}
    assert artist.post(vouch, yes).status_code == 302
    nelida.refresh_from_db()
    assert (nelida.standing, nelida.lines.get().number) == ("vouched_for", "+33639980051")
