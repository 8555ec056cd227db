"""A bad value of a setting stops the site loudly; it never falls back to another."""

import pytest
from django.core.exceptions import ImproperlyConfigured

from relations import settings


@pytest.mark.parametrize(("said", "size"), [("", "A4"), ("A4", "A4"), (" Letter ", "Letter")])
def test_paper_is_a4_unless_letter_is_said(monkeypatch, said, size):
    monkeypatch.setenv("RELATIONS_PAPER_SIZE", said)
    assert settings._paper_size("PAPER_SIZE", "A4") == size


@pytest.mark.parametrize("said", ["A3", "letter", "a4", "Legal"])
def test_paper_of_another_size_stops_the_site_and_is_named(monkeypatch, said):
    monkeypatch.setenv("RELATIONS_PAPER_SIZE", said)
    with pytest.raises(ImproperlyConfigured, match=f"A4 or Letter, not '{said}'"):
        settings._paper_size("PAPER_SIZE", "A4")
