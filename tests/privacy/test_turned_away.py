"""Who asks for what is not there for them leaves a line, which says nothing that was typed."""

import logging
import re

import pytest

from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def loic(client):
    user = cast.assistant()
    client.force_login(user)
    client.get("/")
    return user


@pytest.fixture
def lines(caplog):
    """What the server's log says of it."""

    def said():
        name = "relations.privacy.turned_away"
        return [record.getMessage() for record in caplog.records if record.name == name]

    caplog.set_level(logging.WARNING)
    return said


@pytest.mark.parametrize(
    ("address", "page"),
    [
        ("/accounts/", "privacy:accounts"),  # another role's
        ("/person/99/", "today:person"),  # nobody, or not in sight
        ("/no/such/page/", "no page"),
    ],
)
def test_somebody_turned_away_is_noted_by_key_and_page(client, loic, lines, address, page):
    kept = AccessEntry.objects.count()
    assert client.get(address).status_code == 404
    assert lines() == [f"404 at {page} for user {loic.pk}"]
    assert AccessEntry.objects.count() == kept


def test_nobody_is_noted_at_a_page_that_is_there(client, loic, lines):
    assert client.get("/own/").status_code == 200
    assert lines() == []


def test_stranger_is_led_to_the_door_and_not_noted(client, lines):
    assert client.get("/accounts/").status_code == 302
    assert client.get("/no/such/page/").status_code == 404
    assert lines() == []


def test_address_that_was_typed_forges_no_line(client, loic, caplog):
    caplog.set_level(logging.WARNING)
    assert client.get("/no%0AERROR%20forged:%20line").status_code == 404
    formatter = logging.Formatter("{levelname} {name}: {message}", style="{")
    said = [formatter.format(record) for record in caplog.records]
    assert len(said) == 2  # Django's and ours
    assert not [line for line in said if "\n" in line or "\r" in line]


def test_line_says_when_with_the_offset_from_utc(settings):
    said = settings.LOGGING["formatters"]["plain"]
    formatter = logging.Formatter(said["format"], said["datefmt"], style=said["style"])
    record = logging.makeLogRecord({"msg": "404", "levelname": "WARNING", "name": "relations"})
    line = formatter.format(record)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d{4} WARNING relations: 404", line)
