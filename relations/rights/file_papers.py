"""The file of a person on paper: in their language beside the artist's, or to be read aloud."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from babel import Locale

from relations.consent.models import Wording
from relations.consent.source import is_ready, refuse_unready
from relations.consent.values import Scope
from relations.consent.wordings import words_of
from relations.documents.one_language import lay_out_in
from relations.documents.values import PaperKind
from relations.languages.direction import direction
from relations.languages.paper_days import paper_day
from relations.languages.said import comma
from relations.privacy.refused import Refused

from .file_of import File, Item, Value
from .file_table import HOLDS, PARTS

# The words stand with those of the notice, which says of what kinds a file is made.
TITLE = "file_title"
WHOLE_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
FROM_THE_LEFT = frozenset({"code", "number", "hours", "form", "picture", "recording"})


@dataclass(frozen=True)
class Voice:
    """One language of the paper, with its words on the lines."""

    lang: str
    labels: Mapping[str, str]

    @property
    def direction(self) -> str:
        """Give "ltr" or "rtl", the way this language runs."""
        return direction(self.lang)


@dataclass(frozen=True)
class Said:
    """One line in one language: its words, and what is held."""

    voice: Voice
    words: str
    value: str
    # Which way the value runs: numbers run from the left in every language.
    way: str = "auto"

    @property
    def colon(self) -> str:
        """What stands between the words and the value; French sets it off, and keeps it there."""
        return "\u00a0:" if self.voice.lang.startswith("fr") else ":"


@dataclass(frozen=True)
class Part:
    """One part of the paper: its heading in each language, and entries of lines in each."""

    headings: list[Said]
    entries: list[list[list[Said]]]


def has_words(languages: Sequence[str], wordings: Iterable[Wording]) -> bool:
    """Whether the first of somebody's languages has the words of this paper."""
    said = {one.language: one for one in wordings}
    found = said.get(next(iter(languages), ""))
    return found is not None and _is_whole(words_of(found, PaperKind.NOTICE)[1])


def _is_whole(labels: Mapping[str, str]) -> bool:
    """Whether every line has its words: a wording from before a line was added lacks some."""
    lines = {f"file_{key}" for held in HOLDS.values() for key in held.fields.values() if key}
    return {TITLE, *PARTS, *lines} <= set(labels)


def voices(*wordings: Wording) -> list[Voice]:
    """Open the words of the languages chosen. Refused: no_words where one has none for this."""
    found = [Voice(one.language, words_of(one, PaperKind.NOTICE)[1]) for one in wordings]
    if not all(_is_whole(voice.labels) for voice in found):
        raise Refused("no_words")
    return found


def bilingual(file: File, first: Wording, second: Wording, on: date) -> bytes:
    """The file as a tagged PDF in two languages; its title is the day alone.

    Refused as `editions.printing_codes` says of the two wordings, and with "no_words".
    """
    refuse_unready(first, second)
    return _pdf("rights/paper/file.html", file, voices(first, second), on)


def read_aloud(file: File, first: Wording, on: date) -> bytes:
    """The same in their language alone: large, one short numbered line for each thing.

    Refused: first_unread where nobody has read the wording, no_words.
    """
    if not is_ready(first):
        raise Refused("first_unread")
    return _pdf("rights/paper/file_aloud.html", file, voices(first), on)


def _pdf(template: str, file: File, said_in: list[Voice], on: date) -> bytes:
    context = {
        "voices": said_in,
        "titles": [Said(voice, voice.labels[TITLE], "") for voice in said_in],
        "masked": [Said(voice, voice.labels["file_masked"], "") for voice in said_in],
        "more": [Said(voice, voice.labels["file_more"], "") for voice in said_in],
        "parts": list(_parts(file, said_in)),
        "day": [Said(one, one.labels["day"], paper_day(on, one.lang)) for one in said_in],
    }
    made = lay_out_in(
        template,
        context,
        style="rights/paper/file.css",
        title=on.isoformat(),
        language=said_in[0].lang,
    )
    return made.content


def _parts(file: File, said_in: list[Voice]) -> Iterator[Part]:
    for part, entries in file.parts.items():
        told = [
            lines
            for entry in entries
            if (lines := [line for item in entry.items for line in _line(file, item, said_in)])
        ]
        if told:
            yield Part([Said(voice, voice.labels[part], "") for voice in said_in], told)


def _line(file: File, item: Item, said_in: list[Voice]) -> Iterator[list[Said]]:
    """What is held as a line in each language; nothing where it is not for paper, or empty."""
    if not item.words:
        return
    said = []
    for voice in said_in:
        value = file.said(item, voice.labels["file_somebody"])
        way = "ltr" if item.words in FROM_THE_LEFT else "auto"
        words = voice.labels[f"file_{item.words}"]
        said.append(Said(voice, words, in_words(item, value, voice), way))
    if said[0].value:
        yield said


def in_words(item: Item, value: Value, voice: Voice) -> str:
    """A value in the words, days and names of one language; "" where there is nothing to say."""
    if special := SPECIAL.get(item.words):
        return special(value, voice)
    if isinstance(value, bool):
        return voice.labels["yes" if value else "no"]
    if isinstance(value, datetime):
        value = value.date()
    if isinstance(value, date):
        return paper_day(value, voice.lang)
    return "" if value is None else str(value)


def _uses(value: Any, voice: Voice) -> str:
    """The names of uses; "all" is everything, other scopes are said by what stands beside them."""
    if value == Scope.ALL:
        return voice.labels["file_all"]
    codes = [value] if isinstance(value, str) else value
    names = [voice.labels[f"use_{one}"] for one in codes if f"use_{one}" in voice.labels]
    return comma(voice.lang).join(names)


def _promised(value: Any, voice: Voice) -> str:
    return voice.labels[f"file_promised_{value}"]


def _asked_for(value: Any, voice: Voice) -> str:
    return voice.labels[f"file_asked_{value}"]


def _level(value: Any, voice: Voice) -> str:
    return voice.labels[f"file_level_{value}"] if value else ""


def _born(value: Any, voice: Voice) -> str:
    """A whole day in the form of the language; a year, or what else was said, as it was said."""
    return paper_day(date.fromisoformat(value), voice.lang) if WHOLE_DAY.fullmatch(value) else value


def _languages(value: Any, voice: Voice) -> str:
    names = Locale.parse(voice.lang, sep="-").languages
    return comma(voice.lang).join(str(names.get(tag.split("-")[0], tag)) for tag in value.split())


def _hours(value: Any, voice: Voice) -> str:
    """Hours of the day as they were noted, or words about them."""
    if isinstance(value, str):
        return value
    return comma(voice.lang).join("–".join(one) for one in value or ())


SPECIAL = {
    "born": _born,
    "yes_to": _uses,
    "back_what": _uses,
    "level": _level,
    "promised": _promised,
    "asked_for": _asked_for,
    "speaks": _languages,
    "hours": _hours,
}
