"""Start-up stops, and no home opens, at a field that the impact assessment leaves out."""

import pytest
from django.apps import apps
from django.core.checks import run_checks
from django.core.management import call_command
from django.core.management.base import SystemCheckError
from django.db import models

from relations.people.models import Name
from relations.privacy.keys import StaysLocked, keyring
from relations.privacy.opening import let_in
from relations.rights import checks, impact_table


@pytest.fixture
def faith():
    """A real model with one field more, for the length of a test."""
    meta = Name._meta
    before, was_there = list(meta.local_fields), dict(vars(Name))
    models.CharField(max_length=9, default="").contribute_to_class(Name, "faith")
    yield
    meta.local_fields[:] = before
    for name in set(vars(Name)) - set(was_there):
        delattr(Name, name)
    meta._expire_cache()
    apps.clear_cache()


def said():
    return [(one.id, one.msg.split()[0]) for one in run_checks() if one.id.startswith("rights.")]


def test_nothing_is_said_of_the_tables_of_now():
    assert said() == []


def test_model_with_a_field_more_stops_the_start(faith):
    assert said() == [("rights.E001", "people.Name.faith")]
    with pytest.raises(SystemCheckError, match=r"people\.Name\.faith is stored"):
        call_command("check")


@pytest.mark.parametrize("command", ["begin", "update"])
def test_no_home_is_made_and_no_table_changed(faith, command):
    """Asked as from the command line, where nothing else of the command comes before it."""
    with pytest.raises(SystemCheckError, match=r"people\.Name\.faith is stored"):
        call_command(command, skip_checks=False)


def test_a_model_is_whole_again_after_the_control():
    assert [field.name for field in Name._meta.local_fields] == impact_table.stored()["people.Name"]
    assert not hasattr(Name, "faith") and said() == []


def test_field_that_is_listed_and_not_stored_stops_it_too(monkeypatch):
    found = impact_table.stored()
    found["people.Name"] = [name for name in found["people.Name"] if name != "script"]
    monkeypatch.setattr(impact_table, "stored", lambda: found)
    assert said() == [("rights.E002", "people.Name.script")]
    assert all(one.is_serious() for one in checks.impact())


def test_home_opens_with_the_tables_of_now():
    checks.stand()


def test_field_left_out_keeps_the_home_locked(faith):
    with pytest.raises(checks.Unlisted, match=r"not in the impact assessment"):
        checks.stand()


def test_opening_asks_it_before_anybody_is_let_in(faith, settings, monkeypatch):
    calls = []
    monkeypatch.setattr(keyring, "lock", lambda: calls.append("locked"))
    monkeypatch.setattr(keyring, "let_in", lambda: calls.append("in"))
    assert "relations.rights.checks.stand" in settings.RELATIONS_ON_OPENING
    settings.RELATIONS_ON_OPENING = ["relations.rights.checks.stand"]
    with pytest.raises(StaysLocked):
        let_in()
    assert calls == ["locked"]
