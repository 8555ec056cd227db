"""The wordings that come with the site are taken in as drafts, once, with the artist as writer."""

import io

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.consent.models import Clause, Wording
from relations.consent.values import ClauseState
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def load() -> str:
    said = io.StringIO()
    call_command("load_wordings", stdout=said)
    return said.getvalue()


def test_shipped_wordings_come_in_as_drafts_that_nobody_has_read() -> None:
    ines = cast.artist()
    assert load().startswith("7 wordings taken in as drafts")
    taken = Wording.objects.all()
    assert {wording.language for wording in taken} == set(desk.LANGUAGES)
    for wording in taken:
        assert (wording.written_by, wording.read_by, wording.frozen_at) == (ines, None, None)
    assert set(Clause.objects.values_list("state", flat=True)) == {ClauseState.DRAFTED}
    assert not Clause.objects.exclude(approved_by=None).exists()


def test_second_time_takes_nothing_and_leaves_what_was_mended() -> None:
    cast.artist()
    load()
    clause = Clause.objects.filter(wording__language="ne").first()
    assert clause
    Clause.objects.filter(pk=clause.pk).update(text="Put right by a reader.")
    assert load().startswith("0 wordings taken in")
    clause.refresh_from_db()
    assert clause.text == "Put right by a reader."
    assert Wording.objects.count() == 7


def test_without_an_artist_nobody_answers_for_the_drafts() -> None:
    cast.assistant()
    with pytest.raises(CommandError, match="no artist"):
        load()
    assert not Wording.objects.exists()
