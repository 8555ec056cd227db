"""What the register knows of the numbers of a file: whose they are, and which may not be rung.

For the artist alone: a file of numbers would let anybody else ask for everybody.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.conf import settings
from django.db.models import Q

from relations.privacy.fields import mark, marks

from . import phones
from .contacts import Line
from .models import NeverRing, PhoneLine


@dataclass(frozen=True)
class Number:
    """A number of a line as eyes read it, or as it stands where it could not be read.

    `problem`: as of `phones.read`; `whose`: codes of those who have it; `is_shared`: other lines of
    the file have it too.
    """

    shown: str
    problem: str = ""
    whose: tuple[str, ...] = ()
    is_shared: bool = False


@dataclass(frozen=True)
class Seen:
    """A line as the page shows it; `refused`: as of `contacts.Line`, or never_ring."""

    at: int
    line: Line
    numbers: tuple[Number, ...]
    refused: str


def seen(lines: Iterable[Line], country: str | None) -> list[Seen]:
    """Each line with what is known of its numbers, in two queries for all of them.

    A line of which any number may not be rung is refused as a whole: it may be who asked for that,
    under another name (job.md row 9). Notes are read for such numbers too.
    """
    lines = list(lines)
    asked = [_numbers(line, country) for line in lines]
    never = _never({number for numbers in asked for number in numbers})
    whose = _whose({number for line in lines for number in line.e164})
    count: dict[str, int] = defaultdict(int)
    for line in lines:
        for number in line.e164:
            count[number] += 1
    found = []
    for at, (line, numbers) in enumerate(zip(lines, asked, strict=True)):
        shown = tuple(
            Number(
                phones.international(one.e164, one.extension) if one.e164 else one.kept_raw,
                one.problem,
                whose.get(one.e164 or "", ()),
                count[one.e164] > 1 if one.e164 else False,
            )
            for one in line.readings
        )
        refused = "never_ring" if numbers & never else line.refused
        found.append(Seen(at, line, shown, refused))
    return found


def _numbers(line: Line, country: str | None) -> set[str]:
    """Every number that a line may hold, also in what could not be read and in its note."""
    raw = [one.kept_raw for one in line.readings if not one.e164]
    texts = [text for text in (*raw, line.entry.note) if sum(map(str.isdigit, text)) > 5]
    countries = {country, settings.RELATIONS_COUNTRY}
    found = {one for text in texts for each in countries for one in phones.numbers_in(text, each)}
    return found | line.e164


def _never(numbers: set[str]) -> set[str]:
    """Those of these numbers that nobody new may be rung by."""
    laid = NeverRing.objects.filter(Q(whole_number=True) | Q(who=None), undone_at=None)
    known = {bytes(one) for one in laid.values_list("mark", flat=True)}
    return {number for number in numbers if known.intersection(marks(number))}


def _whose(numbers: set[str]) -> dict[str, tuple[str, ...]]:
    """The codes of those who have each of these numbers."""
    by_mark = {mark(number): number for number in numbers}
    rows = PhoneLine.objects.filter(mark__in=list(by_mark), ended_on=None)
    found: dict[str, list[str]] = defaultdict(list)
    for key, code in rows.order_by("person__code").values_list("mark", "person__code"):
        found[by_mark[bytes(key or b"")]].append(code)
    return {number: tuple(codes) for number, codes in found.items()}
