"""Where the register lies is said as the site is set."""

import pytest
from django.db import connection

from relations.rights.impact_place import place


def test_place_is_read_from_the_settings(settings):
    settings.RELATIONS_IDLE_MINUTES, settings.SECURE_COOKIES = 7, True
    settings.RELATIONS_LAW_OF, settings.RELATIONS_STORED_IN = "FR", ""
    settings.RELATIONS_PROJECT = "Harbour faces"
    found = place()
    assert (found.idle_minutes, found.has_tls) == (7, True)
    assert (found.law_of, found.stored_in) == (["FR"], [])
    assert (found.session_minutes, found.session_hours) == (30, 8)
    assert found.backup_days == 90
    assert found.project == "Harbour faces" and "Français" in found.languages


@pytest.mark.parametrize(("vendor", "is_on_server"), [("postgresql", True), ("sqlite", False)])
def test_server_is_told_from_a_file(monkeypatch, vendor, is_on_server):
    monkeypatch.setattr(connection, "vendor", vendor)
    assert place().is_on_server is is_on_server
