"""Find whom somebody means who says a code, a number or a name; opened in memory only."""

from django.conf import settings

from relations.languages.codes import tidy
from relations.languages.sorting import contains_folded, fold
from relations.privacy.fields import mark

from . import phones
from .models import Name, NameKind, Participant

# One letter is in every name.
SHORTEST = 2


def find(typed: str) -> list[Participant]:
    """Those who may be meant, in the order of their codes; [] for nobody.

    A code wins over a number, a number over a name. A number is found by its keyed mark, however
    it is typed; a call-name or a name by its folded words (relations.languages.sorting.fold).
    Names are opened in memory and never asked of the database.
    """
    return by_code(typed) or by_number(typed) or by_name(typed)


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
    words = fold(typed)
    if len(words) < SHORTEST:
        return []
    known = Name.objects.exclude(kind=NameKind.NEVER_PRINT).only("text", "person_id")
    keys = {name.person_id for name in known if contains_folded(fold(name.text), words)}
    called = Participant.objects.only("call_name")
    keys |= {person.pk for person in called if contains_folded(fold(person.call_name), words)}
    return list(Participant.objects.filter(pk__in=keys))
