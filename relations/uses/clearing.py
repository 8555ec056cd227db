"""Clearance sheets: made of a fresh weighing, read, given the artist's word, ended, confirmed."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from django.db import transaction
from django.db.models import Max, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.consent.answers import Result
from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import actions, queries
from .clearances import (
    Change,
    Instruction,
    Line,
    State,
    changes,
    instructions,
    may_give_word,
    valid_until,
)
from .models import ClearanceSheet, ClearedPicture, PlannedUse, Weighing
from .standstill import refuse_new_uses

KIND = "uses.clearancesheet"
CLEARED = frozenset({Result.CLEARED, Result.CONDITIONS})


@transaction.atomic
def make_sheet(
    *,
    plan: PlannedUse,
    pictures: Collection[str],
    by: User,
    at: datetime,
    language: str = "en",
    written: Mapping[str, str] | None = None,
) -> ClearanceSheet:
    """Weigh a plan anew and put those of `pictures` (codes) on a sheet that are cleared.

    It takes the place of the plan's newest sheet. `written` holds, by picture, what the venue is
    told of a condition in a sitter's own hand. Refused: artist_only, no_new_uses, plan_dropped,
    nothing_cleared, no_picture, not_cleared, instruction_missing.
    """
    refuse_new_uses()
    if plan.dropped_on is not None:
        raise Refused("plan_dropped")
    on = timezone.localdate(at)
    kept = actions.weigh(plan=plan, by=by, at=at)
    codes = dict(queries.asked_for(plan).values_list("pk", "picture__code"))
    chosen = _chosen({codes[row.asked_id]: row for row in kept}, pictures, on)
    told = _told(chosen, written or {})
    # The line in the log is written first: two who make a sheet at once wait for each other here.
    sheet = ClearanceSheet(plan=plan, language=language, made_at=at, made_by=by)
    note(by, "made", KIND, sheet.pk)
    sheet.number = (ClearanceSheet.objects.aggregate(last=Max("number"))["last"] or 0) + 1
    sheet.replaces = newest(plan)
    days = [row.look_again_on for row in chosen.values()]
    sheet.valid_until = valid_until(days, queries.rule_plan(plan), on)
    sheet.save()
    words = queries.captions(plan, chosen)
    ClearedPicture.objects.bulk_create(
        ClearedPicture(
            sheet=sheet, weighing=row, caption=words.get(code, ""), instruction=told[code]
        )
        for code, row in chosen.items()
    )
    return sheet


def _chosen(found: Mapping[str, Weighing], asked: Collection[str], on: date) -> dict[str, Weighing]:
    """The answers of the pictures asked for, each of which is cleared for today."""
    open_now = {
        code: row for code, row in found.items() if may_stand(row.result, row.look_again_on, on)
    }
    if not open_now:
        raise Refused("nothing_cleared")
    if not asked:
        raise Refused("no_picture")
    if not set(asked) <= open_now.keys():
        raise Refused("not_cleared")
    return {code: open_now[code] for code in sorted(asked)}


def may_stand(result: str, look_again_on: date | None, on: date) -> bool:
    """Whether an answer may go on a sheet: cleared, and not to be looked at again before today."""
    return result in CLEARED and (look_again_on is None or look_again_on >= on)


def _told(chosen: Mapping[str, Weighing], written: Mapping[str, str]) -> dict[str, str]:
    """What the venue is told of a condition of their own, where there is one."""
    told = {
        code: written.get(code, "").strip() if asks_words(row) else ""
        for code, row in chosen.items()
    }
    if any(asks_words(row) and not told[code] for code, row in chosen.items()):
        raise Refused("instruction_missing")
    return told


def asks_words(row: Weighing) -> bool:
    """Whether a sitter's own condition goes on the sheet in the artist's words."""
    return Instruction.WRITTEN in instructions(_codes(row))


def _codes(row: Weighing) -> list[str]:
    return [one["code"] for one in row.conditions]


def newest(plan: PlannedUse) -> ClearanceSheet | None:
    """The sheet of a plan that a new one replaces: the newest that was not ended."""
    return ClearanceSheet.objects.filter(plan=plan, ended_at=None, replaced_by=None).first()


def sheets() -> QuerySet[ClearanceSheet]:
    """Every sheet, newest first, with its plan and what replaced it."""
    return ClearanceSheet.objects.select_related("plan", "replaced_by").order_by("-number")


def sheet_or_404(number: int) -> ClearanceSheet:
    """The sheet of this number; Http404 where there is none."""
    found = sheets().filter(number=number).first()
    if found is None:
        raise Http404
    return found


def rows(sheet: ClearanceSheet) -> list[ClearedPicture]:
    """The lines as they are kept, by the codes of their pictures; one query."""
    found = sheet.lines.select_related("weighing__asked__picture")
    return list(found.order_by("weighing__asked__picture__code"))


def lines(sheet: ClearanceSheet) -> list[Line]:
    """Every picture of a sheet as the venue reads it; one query."""
    return [_line(row) for row in rows(sheet)]


def _line(row: ClearedPicture) -> Line:
    codes = _codes(row.weighing)
    return Line(
        picture=row.weighing.asked.picture.code,
        caption=row.caption,
        does=instructions(codes),
        until=row.weighing.look_again_on,
        written=row.instruction,
        word_on=row.word_on,
        may_give_word=may_give_word(codes),
        down_at=row.down_at,
    )


@dataclass(frozen=True)
class Look:
    """A sheet as it stands now: its state, its lines, and what may not be shown any more.

    `fallen` are the codes of pictures that are not cleared now. `newest` took its place, and
    `changed` is what that one says otherwise.
    """

    sheet: ClearanceSheet
    state: State
    lines: list[Line]
    fallen: tuple[str, ...] = ()
    newest: ClearanceSheet | None = None
    changed: tuple[tuple[str, tuple[Change, ...]], ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether it may be kept to."""
        return self.state is State.OPEN

    @property
    def may_end(self) -> bool:
        """Whether there is anything to end."""
        return self.state in {State.OPEN, State.OUT_OF_DATE}

    @property
    def gone(self) -> tuple[str, ...]:
        """The pictures that a venue takes down: fallen, or left out of the newer sheet."""
        left_out = (code for code, how in self.changed if Change.GONE in how)
        return self.fallen or tuple(left_out)

    @property
    def down(self) -> list[Line]:
        """Of those, the ones of which the venue said that they are down, each with when."""
        return [line for line in self.lines if line.down_at and line.picture in self.gone]

    @property
    def up(self) -> tuple[str, ...]:
        """Of those, the others."""
        down = {line.picture for line in self.down}
        return tuple(code for code in self.gone if code not in down)


def look(sheet: ClearanceSheet, on: date) -> Look:
    """Look at a sheet on a day: an open one is weighed anew, and one stale answer ends it."""
    kept = rows(sheet)
    said = [_line(row) for row in kept]
    if sheet.ended_at is not None:
        return Look(sheet, State.ENDED, said)
    if (last := _last(sheet)) != sheet:
        return Look(sheet, State.REPLACED, said, (), last, changes(said, lines(last)))
    if on > sheet.valid_until:
        return Look(sheet, State.OVER, said)
    is_stale, fallen = _weighed(sheet, kept, on)
    return Look(sheet, State.OUT_OF_DATE if is_stale else State.OPEN, said, fallen)


def _last(sheet: ClearanceSheet) -> ClearanceSheet:
    """The sheet itself, or the one that in the end took its place."""
    while newer := ClearanceSheet.objects.filter(replaces=sheet).first():
        sheet = newer
    return sheet


def _weighed(
    sheet: ClearanceSheet, kept: Collection[ClearedPicture], on: date
) -> tuple[bool, tuple[str, ...]]:
    """Whether an answer of a sheet is stale (F17), and which pictures are not cleared any more."""
    now = {one.picture: one for one in queries.weighed(sheet.plan, on)}
    is_stale, fallen = sheet.plan.dropped_on is not None, []
    for row in kept:
        code = row.weighing.asked.picture.code
        one = now.get(code)
        if one is None or one.answer.result is Result.NOT_CLEARED:
            fallen.append(code)
        is_stale = is_stale or one is None or replace(one, kept=row.weighing).is_stale
    return is_stale, tuple(fallen)


def in_force(on: date) -> QuerySet[ClearanceSheet]:
    """The sheets that somebody may be keeping to: not ended, not replaced, not over."""
    return sheets().filter(ended_at=None, replaced_by=None, valid_until__gte=on)


def out_of_date(on: date) -> list[Look]:
    """Of the sheets in force those that are out of date, newest first."""
    looks = (look(sheet, on) for sheet in in_force(on))
    return [one for one in looks if one.state is State.OUT_OF_DATE]


@transaction.atomic
def give_word(*, sheet: ClearanceSheet, picture: str, by: User, on: date) -> ClearedPicture:
    """The artist's word on a picture that waits for nothing else; a second press finds it given.

    Refused: artist_only, not_on_it, sheet_not_open, waits_for_more.
    """
    _for_the_artist(by)
    row = next((one for one in rows(sheet) if one.weighing.asked.picture.code == picture), None)
    if row is None:
        raise Refused("not_on_it")
    if not look(sheet, on).is_open:
        raise Refused("sheet_not_open")
    if not may_give_word(_codes(row.weighing)):
        raise Refused("waits_for_more")
    if row.word_on is None:
        row.word_on = on
        row.save(update_fields=["word_on"])
        note(by, "gave_word", KIND, sheet.pk)
    return row


def _for_the_artist(by: User) -> None:
    if not by.is_artist:
        raise Refused("artist_only")


@transaction.atomic
def end_sheet(*, sheet: ClearanceSheet, by: User, at: datetime) -> ClearanceSheet:
    """End a sheet and its link; a second press finds it ended. Refused: artist_only."""
    _for_the_artist(by)
    if sheet.ended_at is None:
        sheet.ended_at = at
        sheet.save(update_fields=["ended_at"])
        note(by, "ended", KIND, sheet.pk)
    return sheet


@transaction.atomic
def confirm(*, sheet: ClearanceSheet, at: datetime) -> bool:
    """The venue has read an open sheet and will keep to it; give whether it was the first time.

    Refused: sheet_not_open.
    """
    if not look(sheet, timezone.localdate(at)).is_open:
        raise Refused("sheet_not_open")
    first = ClearanceSheet.objects.filter(pk=sheet.pk, confirmed_at=None).update(confirmed_at=at)
    if first:
        note(None, "confirmed", KIND, sheet.pk)
    return bool(first)
