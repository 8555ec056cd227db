"""The rows of who told us of whom, for the hands that look after them: nothing here is drawn."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID

from django.db.models import Exists, F, Max, OuterRef, Q, QuerySet
from django.http import Http404

from relations.languages.codes import tidy
from relations.languages.finding import Names
from relations.people import links as people
from relations.people import rules
from relations.people.models import (
    Introduction,
    OutsideIntroducer,
    Participant,
    PhoneLine,
    Speaker,
)
from relations.people.queries import vouching
from relations.people.values import Clocks, LinkOver, Precision, Refusal, Standing
from relations.pictures.models import Picture

from . import queries
from .graph import ARTIST, WITHHELD, Kind
from .questions import Hearing, Question
from .questions import questions as asked

# As many days as the months of `rules.link_over` are at least.
PERHAPS_OVER = timedelta(days=28 * Clocks().links)
# Of a hearing, what the questions ask for: no instance is made of it.
HEARD = (
    *("pk", "person__code", "introducer__code", "outside__code", "is_withheld", "heard_on"),
    "precision",
)


@dataclass(frozen=True)
class Held:
    """One link that can be looked after: its row, who told us by code, and what it came to be."""

    row: Introduction
    source: str
    kind: Kind

    @property
    def is_named(self) -> bool:
        """Whether it says who it was, so that there is something to seal."""
        return self.source not in (ARTIST, WITHHELD)


@dataclass(frozen=True)
class Over:
    """One link that need not be known any more: why, and the day of the last sitting."""

    row: Introduction
    source: str
    why: LinkOver
    sat_on: date | None


def source(row: Introduction) -> str:
    """Who told us: a code, ARTIST or WITHHELD."""
    if row.is_withheld:
        return WITHHELD
    told = row.introducer or row.outside
    return told.code if told else ARTIST


def _rows() -> QuerySet[Introduction]:
    rows = Introduction.objects.select_related("person__community", "introducer", "outside")
    return rows.order_by("heard_on", "number", "id")


def row_or_404(key: UUID) -> Introduction:
    """One link that names who told us; Http404 where there is none, or it is sealed already."""
    found = _rows().filter(people.naming(), pk=key).first()
    if found is None:
        raise Http404
    return found


def whose_or_404(code: str) -> Participant | OutsideIntroducer:
    """Somebody of the web, inside or outside, by code; Http404 where there is nobody."""
    said = tidy(code)
    found = (
        Participant.objects.filter(code=said).first()
        or OutsideIntroducer.objects.filter(code=said).first()
    )
    if found is None:
        raise Http404
    return found


def of(whose: Participant | OutsideIntroducer) -> list[Held]:
    """All links of somebody, by day: who told us of them, and of whom they told us."""
    if isinstance(whose, Participant):
        ends = Q(person=whose) | Q(introducer=whose)
    else:
        ends = Q(outside=whose)
    kinds = {(link.person, link.introducer): link.kind for link in queries.web().links}
    rows = [(row, source(row)) for row in _rows().filter(ends)]
    return [Held(row, told, kinds[row.person.code, told]) for row, told in rows]


def waves(rows: Iterable[Introduction]) -> dict[UUID, int | None]:
    """How far out each of these stubs will stand, by key: one further than who told us.

    Where whoever told us was not known on that day, it is as far out as the person is now; None
    where that is known neither. So no wave of anybody moves.
    """
    found = queries.web()
    waves: dict[UUID, int | None] = {}
    for row in rows:
        told, own = found.reached.get(source(row)), found.reached.get(row.person.code)
        if source(row) in found.outside:
            waves[row.pk] = 1
        elif told is not None and told.on <= row.heard_on:
            waves[row.pk] = told.wave + 1
        else:
            waves[row.pk] = own.wave if own else None
    return waves


def seal_again(key: UUID) -> bool:
    """Seal a link once more that the ledger says was sealed; whether there was one to seal."""
    row = _rows().filter(pk=key).first()
    return row is not None and people.seal_again(key, waves([row]))


def over(on: date) -> list[Over]:
    """The links that are proposed for sealing on a day, those of the oldest sitting first."""
    through = PhoneLine.objects.filter(
        person=OuterRef("person"), through=OuterRef("introducer"), ended_on=None
    )
    rows = (
        _rows()
        .filter(people.naming())
        .annotate(sat_on=Max("person__sittings__on"), is_rung_through=Exists(through))
        # Nearly all sat too short a time ago: they are not read. The rule has the last word.
        .filter(Q(person__standing__in=rules.ENDS) | Q(sat_on__lte=on - PERHAPS_OVER))
        .order_by(F("sat_on").asc(nulls_last=True), "person__code", "id")
    )
    found = []
    for row in rows:
        why = rules.link_over(
            sat_on=row.sat_on,
            standing=Standing(row.person.standing),
            is_rung_through=row.is_rung_through,
            on=on,
        )
        if why is not None:
            found.append(Over(row, source(row), why, row.sat_on))
    return found


def still_told(row: Introduction) -> list[str]:
    """What else of the register says that these two know each other, once their link is sealed.

    "telephone": they share a number; "speaker": one speaks for the other; "picture": they are in
    one picture; "words": a line of what to do or to say at one of them names the other.
    """
    told, person = row.introducer, row.person
    if told is None:
        label = row.outside.label if row.outside else ""
        return ["words"] if _names(person, [label]) else []
    marks = person.lines.exclude(mark=None).values("mark")
    pictures = Picture.objects.filter(appearances__person=person)
    speakers = Q(speaker=told, person=person) | Q(speaker=person, person=told)
    holds = {
        "telephone": told.lines.filter(mark__in=marks).exists(),
        "speaker": Speaker.objects.filter(speakers).exists(),
        "picture": pictures.filter(appearances__person=told).exists(),
        "words": _names(person, _called(told)) or _names(told, _called(person)),
    }
    return [code for code, is_so in holds.items() if is_so]


def still_told_of_all(links: Iterable[Held]) -> list[str]:
    """What else says that any of these pairs know each other, each once."""
    return list(dict.fromkeys(code for link in links for code in still_told(link.row)))


def _called(person: Participant) -> list[str]:
    return [person.code, person.call_name, *(one.text for one in person.names.all())]


def _names(person: Participant, names: Iterable[str]) -> bool:
    known = Names((name, name) for name in names)
    return any(known.found(text) for text in (person.may_say, person.instruction))


def open_questions() -> list[Question]:
    """Everything that the web leaves open; the pure part says what that is."""
    return asked(queries.web(), _hearings(), dict(_refused()))


def _hearings() -> Iterable[Hearing]:
    for key, person, inside, outside, is_withheld, first, said in _rows().values_list(*HEARD):
        precision = Precision(said)
        told = WITHHELD if is_withheld else inside or outside or ARTIST
        yield Hearing(str(key), person, told, first, rules.ends(first, precision), precision)


def _refused() -> Iterable[tuple[str, tuple[Refusal, ...]]]:
    for row in _rows().filter(person__standing=Standing.NAMED):
        yield str(row.pk), rules.vouch(vouching(row, row.person))
