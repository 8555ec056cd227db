"""The words of the papers beside the form: alike in every language, plain, whole."""

import re
import unicodedata

import pytest

from relations.documents.values import PaperKind
from relations.languages.direction import hidden_characters
from relations.languages.reading_level import grade, sentences
from relations.meetings.values import EXPLAINED, TOLD_BACK
from tests.house.test_form_wordings import LANGUAGES, SCRIPTS

ENGLISH = LANGUAGES["en"]["papers"]
SLOT = re.compile(r"{.*?}")


def texts(lang: str, kind: str) -> dict[str, str]:
    held = LANGUAGES[lang]["papers"][kind]
    said = {f"{c['key']} {part}": c[part] for c in held["clauses"] for part in ("heading", "text")}
    return said | held["labels"]


def test_every_paper_is_one_that_the_site_prints():
    assert set(ENGLISH) <= set(PaperKind) - {PaperKind.FORM}


@pytest.mark.parametrize("lang", LANGUAGES)
def test_every_language_holds_the_same_words_of_every_paper(lang):
    papers = LANGUAGES[lang]["papers"]
    assert list(papers) == list(ENGLISH)
    for kind, held in papers.items():
        shape = [(clause["key"], clause["number"]) for clause in held["clauses"]]
        assert shape == [(one["key"], one["number"]) for one in ENGLISH[kind]["clauses"]], kind
        assert [number for _key, number in shape] == list(range(1, len(shape) + 1)), kind
        assert list(held["labels"]) == list(ENGLISH[kind]["labels"]), kind
        for key, text in held["labels"].items():
            assert SLOT.findall(text) == SLOT.findall(ENGLISH[kind]["labels"][key]), (kind, key)


@pytest.mark.parametrize("lang", LANGUAGES)
@pytest.mark.parametrize("kind", ENGLISH)
def test_nothing_is_empty_hidden_or_left_in_another_script(lang, kind):
    for key, text in texts(lang, kind).items():
        assert text.strip() == text != "", key
        assert not hidden_characters(text), key
        assert unicodedata.normalize("NFC", text) == text, key
        letters = [c for c in SLOT.sub("", text) if unicodedata.category(c) in ("Lo", "Ll", "Lu")]
        strange = [c for c in letters if not unicodedata.name(c).startswith(SCRIPTS[lang])]
        assert not strange, (key, strange)


@pytest.mark.parametrize("lang", sorted(set(LANGUAGES) - {"en"}))
@pytest.mark.parametrize("kind", ENGLISH)
def test_no_english_is_left_in_place(lang, kind):
    here, there = texts(lang, kind), texts("en", kind)
    same = {key for key, text in here.items() if text == there[key] and len(text.split()) > 1}
    assert not same


@pytest.mark.parametrize("kind", ENGLISH)
def test_english_is_short_and_plain(kind):
    # Boards ask for grade 6 to 8 (languages.md 7); a number never approves a clause.
    for key, text in texts("en", kind).items():
        for sentence in sentences(text):
            assert len(sentence) <= 20, f"{key}: {' '.join(sentence)}"
    for clause in ENGLISH[kind]["clauses"]:
        assert grade(clause["text"]) <= 8, clause["key"]


def test_notice_has_the_twelve_lines_that_the_law_asks_for():
    # GDPR 13, by way of checks.md 1.3: "12 lines of the notice".
    assert len(ENGLISH["notice"]["clauses"]) == 12


def test_explanation_says_what_the_meeting_ticks():
    assert tuple(clause["key"] for clause in ENGLISH["explanation"]["clauses"]) == EXPLAINED
    assert {f"told_{code}" for code in TOLD_BACK} <= set(ENGLISH["explanation"]["labels"])
