"""A paper in one language: the screen’s or another, its direction, its style sheet read once."""

import pytest
from django.utils import translation

from relations.documents import one_language
from relations.documents.render import LaidOut


@pytest.fixture
def laid(monkeypatch) -> list[dict]:
    """What the layout engine is given, instead of a paper."""
    seen: list[dict] = []

    def lay_out(html: str, **how) -> LaidOut:
        seen.append({"html": html, **how})
        return LaidOut(b"", 1, ())

    monkeypatch.setattr(one_language, "lay_out", lay_out)
    return seen


def lay(laid: list[dict], **how) -> dict:
    one_language.lay_out_in(
        "rights/paper/card.html",
        {"cards": [{"lang": "ar", "direction": "rtl", "lines": ["1"]}], "each": "1"},
        style="rights/paper/card.css",
        title="card",
        **how,
    )
    return laid[-1]


def test_paper_speaks_the_language_of_the_screen(laid) -> None:
    with translation.override("fr"):
        made = lay(laid)
    assert (made["lang"], made["title"]) == ("fr", "card")
    assert '<html lang="fr" dir="ltr"' in made["html"]


def test_paper_speaks_another_language_where_one_is_given(laid) -> None:
    with translation.override("fr"):
        made = lay(laid, language="ar")
        assert translation.get_language() == "fr"
    assert made["lang"] == "ar"
    assert '<html lang="ar" dir="rtl"' in made["html"]


def test_without_a_language_of_the_screen_the_office_decides(laid, settings) -> None:
    settings.RELATIONS_OFFICE_LANGUAGE = "fr"
    with translation.override(None):
        assert lay(laid)["lang"] == "fr"


def test_style_sheet_is_of_the_paper_in_use(laid, settings) -> None:
    settings.RELATIONS_PAPER_SIZE = "Letter"
    assert "Letter" in lay(laid)["css"]
    settings.RELATIONS_PAPER_SIZE = "A4"
    assert "A4" in lay(laid)["css"]
