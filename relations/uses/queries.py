"""Reads of plans, answers, what is shown and what must come down, in a fixed number of queries."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import Count, F, OuterRef, Prefetch, Q, QuerySet, Subquery
from django.http import Http404

from relations.consent import queries as consent
from relations.consent import values
from relations.consent.answers import Answer
from relations.consent.models import TakenBack
from relations.consent.weighing import weigh_all
from relations.people.access import people
from relations.people.models import Participant
from relations.pictures.models import Caption, Picture
from relations.privacy.home import now
from relations.privacy.models import Role

from . import coming_down
from .digest import digests
from .models import PlannedPicture, PlannedUse, Shown, UndoLine, Weighing
from .planned import planned
from .rules import Force

if TYPE_CHECKING:
    from relations.privacy.models import User


@dataclass(frozen=True)
class Weighed:
    """One picture asked for in a plan: its answer now, and whether the kept one still holds."""

    picture: str
    answer: Answer
    digest: str
    on: date
    hold_look_on: date | None = None
    kept: Weighing | None = None

    @property
    def look_again_on(self) -> date | None:
        """The earliest day on which the answer may change by itself; a hold's next look too."""
        days = (self.answer.look_again_on, self.hold_look_on)
        return min((day for day in days if day is not None), default=None)

    @cached_property
    def spelt(self) -> dict[str, object]:
        """The answer as it is kept."""
        look = self.look_again_on
        return {**spelt(self.answer), "look_again_on": look.isoformat() if look else None}

    @cached_property
    def is_stale(self) -> bool:
        """Whether an answer was kept that no longer holds.

        What went into it or what comes out has changed, or its day to look again has passed since.
        """
        kept = self.kept
        if kept is None:
            return False
        look = kept.look_again_on
        is_over = look is not None and kept.on <= look < self.on
        return is_over or kept.digest != self.digest or self.spelt != kept_words(kept)


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
    """A plan as the rule takes it, with how each sitter is named in all its pictures; one query."""
    return planned(plan).plan


def asked_for(plan: PlannedUse) -> QuerySet[PlannedPicture]:
    """The pictures asked for in a plan, those dropped left out."""
    return PlannedPicture.objects.filter(plan=plan, dropped_on=None)


def weighed(plan: PlannedUse, on: date) -> list[Weighed]:
    """Weigh all that is asked for in a plan, on a day; eight queries, whatever the number."""
    said = planned(plan)
    asked = Picture.objects.filter(asked__in=asked_for(plan))
    pictures, everybody = consent.load(asked, on, said.chosen)
    answers = weigh_all(pictures, everybody, said.plan, today=on, own=said.own)
    found = digests(pictures, everybody, said.plan, said.own)
    return [
        Weighed(picture.id, answer, digest, on, _next_look(picture, everybody, on))
        for picture, answer, digest in zip(pictures, answers, found, strict=True)
    ]


def _next_look(
    picture: values.Picture, everybody: Mapping[str, values.Person], on: date
) -> date | None:
    """When a hold on a picture, or on somebody in it, is looked into next; not a day gone by."""
    holds = [picture.next_look_on, *(everybody[one.code].next_look_on for one in picture.sitters)]
    return min((day for day in holds if day is not None and day >= on), default=None)


def with_kept(plan: PlannedUse, found: Iterable[Weighed]) -> list[Weighed]:
    """The same, each with the newest answer that was kept; one query."""
    newest = Weighing.objects.filter(asked=OuterRef("pk")).order_by("-weighed_at", "-id")
    keys = asked_for(plan).annotate(newest=Subquery(newest.values("pk")[:1])).values("newest")
    rows = Weighing.objects.filter(pk__in=keys).annotate(code=F("asked__picture__code"))
    kept = {row.code: row for row in rows}
    return [replace(one, kept=kept.get(one.picture)) for one in found]


def sitters_of(plan: PlannedUse) -> list[tuple[Participant, str]]:
    """Everybody in the pictures asked for, by code, with how the plan names them now ("" unset)."""
    found = Participant.objects.filter(
        appearances__picture__asked__plan=plan, appearances__picture__asked__dropped_on=None
    ).distinct()
    named = dict(plan.names.filter(picture=None).values_list("person", "name_form"))
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
    """The use register with its pictures, newest first."""
    by_code = Prefetch("pictures", Picture.objects.order_by("code"))
    return Shown.objects.prefetch_related(by_code).order_by("-starts_on", "code")


def shown_or_404(code: str) -> Shown:
    """One use of the register by its code, typed in any letters; Http404 where there is none."""
    found = Shown.objects.filter(code__iexact=code).first()
    if found is None:
        raise Http404
    return found


def undo_lines(user: "User", person: Participant | None = None) -> list[UndoLine]:
    """What must come down, soonest first, of one person in sight or of all whom a user may see."""
    found = people(user)
    return coming_down.lines(found if person is None else found.filter(pk=person.pk), now())


def undo_line_or_404(user: "User", person: Participant, key: UUID) -> UndoLine:
    """One line of somebody in sight; Http404 where it is absent or somebody else's."""
    for line in undo_lines(user, person):
        if line.pk == key:
            return line
    raise Http404


@dataclass(frozen=True)
class Part:
    """The lines in which our hand reaches equally far; what cannot be undone once a sentence."""

    force: Force
    lines: list[UndoLine]
    sentences: dict[str, list[UndoLine]]


def parts(lines: Iterable[UndoLine]) -> list[Part]:
    """What must come down, what is asked, what cannot be undone; empty parts left out."""
    found, every = [], list(lines)
    for force in Force:
        own = [line for line in every if line.force == force]
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


def captions(plan: PlannedUse, codes: Collection[str]) -> dict[str, str]:
    """The words under each picture that were weighed, to the letter; of one without none.

    The newest, but where the plan names others for one picture, or none. Two queries.
    """
    said = planned(plan)
    shown = [code for code in codes if said.of(code).shows_captions]
    rows = Caption.objects.filter(picture__code__in=shown).order_by("written_at", "version")
    newest = dict(rows.values_list("picture__code", "words"))
    own = {code: words.words for code in shown if (words := said.chosen.get(code))}
    return newest | own
