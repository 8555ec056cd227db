"""The names opened in memory: as they stand now, once for each, and none after they are let go."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.people import known_names
from relations.people.models import Name, Participant
from relations.privacy.keys import keyring
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def nothing_opened() -> None:
    known_names.forget()


def codes(typed: str) -> list[str]:
    keys = [key for key, _ in known_names.known().like(typed)]
    people = Participant.objects.in_bulk(keys)
    return [people[key].code for key in keys]


def test_a_name_is_known_as_soon_as_it_is_written() -> None:
    marcel = cast.marcel()
    assert codes("Marcel") == ["01"]
    assert codes("Zénobie") == []
    Name.objects.create(person=marcel, kind="spelling", text="Zénobie")
    assert codes("zenobie") == ["01"]


def test_a_name_that_was_changed_is_not_known_any_more() -> None:
    marcel = cast.marcel()
    assert codes("Marcel") == ["01"]
    marcel.call_name = "Odilon"
    marcel.save()
    assert (codes("Marcel"), codes("Odilon")) == ([], ["01"])


def test_nothing_stays_of_a_name_that_was_let_go() -> None:
    name = Name.objects.create(person=cast.marcel(), kind="own", text="Zénobie")
    assert codes("Zénobie") == ["01"]
    name.delete()
    assert codes("Zénobie") == []
    assert len(known_names.known()) == Participant.objects.count()


def test_a_name_never_to_be_printed_is_not_among_them() -> None:
    Name.objects.create(person=cast.marcel(), kind="never_print", text="Zénobie")
    assert codes("Zénobie") == []


def test_names_are_opened_once_and_a_look_asks_two_questions(monkeypatch) -> None:
    cast.marcel(), cast.herve()
    known_names.known()
    opened = []
    monkeypatch.setattr(known_names, "_texts", lambda: opened.append(1) or [])
    with CaptureQueriesContext(
        connection,
    ) as asked:
        known_names.known()
    assert (len(asked), opened) == (2, [])


def test_only_what_is_new_is_opened() -> None:
    cast.marcel()
    first = known_names.known()
    before = len(first)
    cast.person("90", "Odilon")
    assert known_names.known() is first
    assert len(first) == before + 1


def test_under_new_keys_everything_is_opened_anew(monkeypatch) -> None:
    cast.marcel()
    first = known_names.known()
    monkeypatch.setattr(keyring, "generation", keyring.generation + 1)
    again = known_names.known()
    assert again is not first
    assert len(again) == len(first)


def test_no_key_made_of_a_name_is_in_the_database() -> None:
    """What the search compares is in no column: those of a person are as they were."""
    cast.marcel()
    known_names.known()
    columns = {field.column for field in Participant._meta.fields + Name._meta.fields}
    assert not {name for name in columns if any(word in name for word in ("fold", "sound", "key_"))}
