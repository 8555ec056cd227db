"""How the screen speaks: its language, whose figures it writes, and which calendar it adds."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from enum import StrEnum

from .local_calendars import Calendar


class Figures(StrEnum):
    """Which figures days and counts are written in."""

    USUAL = "usual"  # what readers of the language meet most: २५ in Nepali, 25 in plain Arabic
    OWN = "own"  # those of the script: ٢٥ in Arabic, २५ in Nepali
    EUROPEAN = "european"  # 25 everywhere


@dataclass(frozen=True)
class Manner:
    """What one user chose: a BCP 47 tag, figures, and the calendar beside the Gregorian one.

    It holds for words in this language only: what is written for somebody else in theirs, as a
    paper is, keeps to the usual figures of that language.
    """

    language: str = "en"
    figures: Figures = Figures.USUAL
    calendar: Calendar = Calendar.GREGORIAN


USUAL = Manner()
_now: ContextVar[Manner] = ContextVar("manner", default=USUAL)


def manner() -> Manner:
    """Give the manner of now: the one being spoken in, else English, usual, Gregorian alone."""
    return _now.get()


@contextmanager
def speaking(how: Manner) -> Iterator[None]:
    """Speak in this manner until the block ends, then in the one before."""
    before = _now.set(how)
    try:
        yield
    finally:
        _now.reset(before)
