"""Reads of plans, answers, what is shown and what must come down, in a fixed number of queries."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cached_property
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import Count, F, OuterRef, Prefetch, Q, QuerySet, Subquery
from django.http import Http404

from relations.consent import queries as consent
from relations.consent import rules, values
from relations.consent.answers import Answer
from relations.consent.models import TakenBack
from relations.people.access import people
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.models import Role

from . import grouping
from .digest import digests
from .models import NameShown, PlannedPicture, PlannedUse, Shown, UndoLine, Weighing
from .rules import Force

if TYPE_CHECKING:
    from relations.privacy.models import User


@dataclass(frozen=True)
class Weighed:
    """One picture asked for in a plan: its answer now, and whether the kept one still holds."""

    picture: str
    answer: Answer
    digest: str
    kept: Weighing | None = None

    @cached_property
    def is_stale(self) -> bool:
        """Whether an answer was kept and what went into it, or what comes out, has changed."""
        return self.kept is not None and (
            self.kept.digest != self.digest or spelt(self.answer) != kept_words(self.kept)
        )


def spelt(answer: Answer) -> dict[str, object]:
    """An answer as it is kept and as `weigh --json` prints it; reasons in a fixed order."""
    return {
        "result": answer.result.value,
        "stops": [{"about": one.about, "code": one.code.value} for one in sorted(answer.stops)],
        "conditions": [
            {"about": one.about, "code": one.code.value} for one in sorted(answer.conditions)
        ],
        "look_again_on": answer.look_again_on.isoformat() if answer.look_again_on else None,
    }


def kept_words(row: Weighing) -> dict[str, object]:
    """A kept answer in the same writing."""
    return {
        "result": row.result,
        "stops": row.stops,
        "conditions": row.conditions,
        "look_again_on": row.look_again_on.isoformat() if row.look_again_on else None,
    }


def plans() -> QuerySet[PlannedUse]:
    """Every plan that was not dropped, each with `amount`, the number of pictures asked for."""
    asked = Count("asked", filter=Q(asked__dropped_on=None))
    found = PlannedUse.objects.filter(dropped_on=None).annotate(amount=asked)
    return found.order_by("starts_on", "code")


def plan_or_404(code: str) -> PlannedUse:
    """The plan with this code, typed in any letters; Http404 where there is none."""
    found = PlannedUse.objects.filter(code__iexact=code).first()
    if found is None:
        raise Http404
    return found


def rule_plan(plan: PlannedUse) -> values.Plan:
    """A plan as the rule takes it, with how each sitter is to be named; one query."""
    shown = NameShown.objects.filter(plan=plan).values_list("person__code", "name_form")
    return values.Plan(
        use=values.Use(plan.use),
        starts_on=plan.starts_on,
        countries=None if plan.countries is None else frozenset(plan.countries),
        ends_on=plan.ends_on,
        is_one_day=plan.one_day,
        is_paper_only=plan.paper_only,
        shows_captions=plan.captions,
        names={code: values.NameForm(form) for code, form in shown},
    )


def asked_for(plan: PlannedUse) -> QuerySet[PlannedPicture]:
    """The pictures asked for in a plan, those dropped left out."""
    return PlannedPicture.objects.filter(plan=plan, dropped_on=None)


def weighed(plan: PlannedUse, on: date) -> list[Weighed]:
    """Weigh all that is asked for in a plan, on a day; eight queries, whatever the number."""
    found = consent.load(Picture.objects.filter(asked__in=asked_for(plan)), on)
    planned = rule_plan(plan)
    return [
        Weighed(
            picture=picture.id,
            answer=rules.weigh(picture, found.people, planned, today=on),
            digest=digest,
        )
        for picture, digest in zip(
            found.pictures, digests(found.pictures, found.people, planned), strict=True
        )
    ]


def with_kept(plan: PlannedUse, found: Iterable[Weighed]) -> list[Weighed]:
    """The same, each with the newest answer that was kept; one query."""
    newest = Weighing.objects.filter(asked=OuterRef("pk")).order_by("-weighed_at", "-id")
    keys = asked_for(plan).annotate(newest=Subquery(newest.values("pk")[:1])).values("newest")
    rows = Weighing.objects.filter(pk__in=keys).annotate(code=F("asked__picture__code"))
    kept = {row.code: row for row in rows}
    return [replace(one, kept=kept.get(one.picture)) for one in found]


@dataclass(frozen=True)
class Sheet:
    """What the page of a plan shows of its whole selection."""

    rows: list[Weighed]
    totals: grouping.Totals
    stops: tuple[grouping.Group, ...]
    conditions: tuple[grouping.Group, ...]
    names: dict[str, str]
    look_again_on: date | None
    kept_at: datetime | None
    stale: list[Weighed]

    @property
    def not_kept(self) -> int:
        """How many were never weighed and kept."""
        return sum(row.kept is None for row in self.rows)


def sheet(plan: PlannedUse, on: date) -> Sheet:
    """Weigh a plan and put its reasons together; the call-names of those they are about beside."""
    rows = with_kept(plan, weighed(plan, on))
    answers = {row.picture: row.answer for row in rows}
    about = {
        reason.about
        for answer in answers.values()
        for reason in (*answer.stops, *answer.conditions)
    }
    return Sheet(
        rows=rows,
        totals=grouping.totals(answers.values()),
        stops=grouping.stops(answers),
        conditions=grouping.conditions(answers),
        names=_call_names(about),
        look_again_on=min(
            filter(None, (one.look_again_on for one in answers.values())), default=None
        ),
        kept_at=max((row.kept.weighed_at for row in rows if row.kept), default=None),
        stale=[row for row in rows if row.is_stale],
    )


def _call_names(codes: Iterable[str]) -> dict[str, str]:
    found = Participant.objects.filter(code__in=codes).only("code", "call_name").order_by()
    return {one.code: one.call_name for one in found}


def sitters_of(plan: PlannedUse) -> list[tuple[Participant, str]]:
    """Everybody in the pictures asked for, by code, with how the plan names them now ("" unset)."""
    found = Participant.objects.filter(
        appearances__picture__asked__plan=plan, appearances__picture__asked__dropped_on=None
    ).distinct()
    named = dict(plan.names.values_list("person", "name_form"))
    return [(person, named.get(person.pk, "")) for person in found]


def asked_codes(plan: PlannedUse) -> list[str]:
    """The codes of the pictures asked for."""
    return list(asked_for(plan).order_by("picture__code").values_list("picture__code", flat=True))


def pictures() -> QuerySet[Picture]:
    """All pictures by code; for the artist, who chooses among them."""
    return Picture.objects.all()


def pictures_of(person: Participant) -> QuerySet[Picture]:
    """The pictures somebody is in."""
    return Picture.objects.filter(appearances__person=person)


def shown() -> QuerySet[Shown]:
    """The use register with its pictures, newest first; `open_lines` still wait for somebody."""
    waiting = Count(
        "undo_lines",
        filter=Q(undo_lines__done_on=None) & ~Q(undo_lines__force="cannot"),
    )
    by_code = Prefetch("pictures", Picture.objects.order_by("code"))
    found = Shown.objects.prefetch_related(by_code).annotate(open_lines=waiting)
    return found.order_by("-starts_on", "code")


def undo_lines(user: "User", person: Participant | None = None) -> QuerySet[UndoLine]:
    """What must come down, soonest first, of one person in sight or of all whom a user may see."""
    found = UndoLine.objects.select_related("shown", "picture", "person")
    found = found.filter(person__in=people(user) if person is None else [person])
    return found.order_by(F("due_at").asc(nulls_last=True), "shown__code", "picture__code", "code")


def waiting(lines: QuerySet[UndoLine]) -> QuerySet[UndoLine]:
    """Those that somebody must still do something about."""
    return lines.filter(done_on=None).exclude(force=Force.CANNOT)


def undo_line_or_404(user: "User", person: Participant, key: UUID) -> UndoLine:
    """One line of somebody in sight; Http404 where it is absent or somebody else's."""
    found = undo_lines(user, person).filter(pk=key).first()
    if found is None:
        raise Http404
    return found


@dataclass(frozen=True)
class Part:
    """The lines in which our hand reaches equally far; what cannot be undone once a sentence."""

    force: Force
    lines: list[UndoLine]
    sentences: dict[str, list[UndoLine]]

    @property
    def untold(self) -> int:
        """How many lines they were not told of yet."""
        return sum(line.told_them_on is None for line in self.lines)


def parts(lines: QuerySet[UndoLine]) -> list[Part]:
    """What must come down, what is asked, what cannot be undone; empty parts left out."""
    found = []
    for force in Force:
        own = [line for line in lines if line.force == force]
        sentences: dict[str, list[UndoLine]] = {}
        for line in own:
            sentences.setdefault(line.code, []).append(line)
        if own:
            found.append(Part(force, own, sentences))
    return found


def taken_back(person: Participant) -> QuerySet[TakenBack]:
    """What a person took back, newest first."""
    return TakenBack.objects.filter(person=person).select_related("picture")


def to_pick(user: "User") -> list[Participant]:
    """Those the assistant may pick for a stop: in sight today. The artist types a code."""
    return list(people(user)) if user.role == Role.ASSISTANT else []
