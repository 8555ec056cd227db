"""Find whom somebody means who says a code, a number or a name; opened in memory only."""

from django.conf import settings

from relations.languages.codes import tidy
from relations.languages.sorting import fold
from relations.privacy.fields import mark

from . import phones
from .known_names import Names, known
from .models import Participant

# One letter is in every name.
SHORTEST = 2
# Letters of what is typed that are looked at; no name is longer.
LONGEST = 160
# How many are shown of those whose names are like what was typed, and how like they must be to be
# found, or to be asked about as perhaps the same person (1 is the same spelling).
SHOWN, LIKE, SAME = 20, 0.6, 0.8


def find(typed: str) -> list[Participant]:
    """Those who may be meant, the likest first, at most SHOWN by name; [] for nobody.

    A code wins over a number, a number over a name. A number is found by its keyed mark, however
    it is typed; a name in whatever script and spelling it is typed or kept. Names are opened in
    memory and never asked of the database.
    """
    return by_code(typed) or by_number(typed) or _by_any_name(typed)[:SHOWN]


def _by_any_name(typed: str) -> list[Participant]:
    if len(fold(typed)) < SHORTEST:
        return []
    names = known()  # one look for both
    return [*_both(_with_words(names, typed), _like(names, typed, SHOWN))]


def _both(exactly: list[Participant], perhaps: list[Participant]) -> dict[Participant, None]:
    """Those in whose names the very words stand come before those whose names are like them."""
    return dict.fromkeys((*sorted(exactly, key=lambda one: one not in perhaps), *perhaps))


def like(typed: str, least: float = LIKE, but: Participant | None = None) -> list[Participant]:
    """Those whose names are like this one in any script, the likest first, at most SHOWN.

    `least`: how like, from 0 to 1; `but`: who is left out.
    """
    typed = typed[:LONGEST]
    if len(fold(typed)) < SHORTEST:
        return []
    found = _like(known(), typed, SHOWN + 1, least)
    return [person for person in found if person != but][:SHOWN]


def _like(names: Names, typed: str, limit: int, least: float = LIKE) -> list[Participant]:
    keys = [key for key, _ in names.like(typed, limit, least)]
    found = Participant.objects.in_bulk(keys)
    return [found[key] for key in keys]


def same(call_name: str, but: Participant | None = None) -> list[Participant]:
    """Those who may be the same person as one of this name; for the artist's eyes only.

    Nobody is merged: a name is compared, a person decides. Source: job.md row 4.
    """
    return like(call_name, SAME, but)


def by_code(typed: str) -> list[Participant]:
    """The one with this code, typed in any case."""
    return list(Participant.objects.filter(code=tidy(typed)))


def by_number(typed: str, country: str | None = None) -> list[Participant]:
    """All who are reached by this number; read as in `country`, else as in the project's."""
    reading = phones.read(typed, country or settings.RELATIONS_COUNTRY)
    if reading.e164 is None:
        return []
    found = Participant.objects.filter(lines__mark=mark(reading.e164), lines__ended_on=None)
    return list(found.distinct())


def by_name(typed: str) -> list[Participant]:
    """All whose call-name or name holds these words, in any case and with or without accents."""
    return _with_words(known(), typed) if len(fold(typed)) >= SHORTEST else []


def _with_words(names: Names, typed: str) -> list[Participant]:
    return list(Participant.objects.filter(pk__in=names.with_words(fold(typed))))
