"""What is done about prints and promises: owed, moved one step, agreed, promised, kept."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from relations.people.models import Participant
from relations.people.values import Risk
from relations.pictures.models import Appearance
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import queries, rules
from .lab import Came
from .models import LabLine, LabOrder, Print, Promise, PromiseKind, Step, fresh_code
from .rules import Facts, PrintState

# Of what is said with a step, what stays on the print as the way that was agreed …
WAY = frozenset(
    {
        *("is_safe", "size", "is_sealed", "into_whose_hand", "word_at_the_door", "when_to_come"),
        *("box", "not_at_the_lab", "quarter", "place", "opens_at", "closes_at"),
    }
)
# … and what only bears on this one step.
ONCE = frozenset(
    {
        *("tracked", "plain_cover", "post_asked_for", "word_from_sitter", "sat_again"),
        *("apology_given", "is_closing", "ending", "is_decided"),
    }
)

# What a step says of the line of the order by which the print was made.
CAME: Mapping[tuple[PrintState, PrintState], Came] = {
    (PrintState.AT_THE_LAB, PrintState.COLLECTED): Came.COLLECTED,
    (PrintState.AT_THE_LAB, PrintState.LOST): Came.LOST,
    (PrintState.COLLECTED, PrintState.CHECKED): Came.GOOD,
    (PrintState.COLLECTED, PrintState.FAULTY): Came.FAULTY,
}


@transaction.atomic
def owe(*, by: User, at: datetime) -> list[Print]:
    """Owe a print to everybody in every picture who is owed none of it yet; twice is once.

    It is owed from the day of the sitting, whatever they answer on uses. A crop is no picture
    of its own here. Whoever had nothing to print gets that print on its way again.
    """
    spare = {row.person_id: row for row in queries.nothing_to_print()}
    fresh, codes = [], _fresh_codes()
    for seen in queries.without_print(timezone.localdate(at)):
        again = spare.pop(seen.person_id, None)
        if again is None:
            fresh.append(_owed(seen, next(codes)))
        else:
            again.picture = seen.picture
            again.owed_since = seen.picture.sitting.on
            again.save(update_fields=["picture", "owed_since"])
            day = max(again.state_on, seen.picture.sitting.on)
            step(print=again, to=PrintState.OWED, on=day, by=by, at=at, sat_again=True)
    rows = Print.objects.bulk_create(fresh)
    Step.objects.bulk_create(_first_step(row, by, at) for row in rows)
    return rows


def _fresh_codes() -> Iterator[str]:
    """Codes that no print bears, each other one."""
    taken = set(Print.objects.values_list("code", flat=True))
    while True:
        code = fresh_code(taken)
        taken.add(code)
        yield code


def _owed(seen: Appearance, code: str) -> Print:
    on = seen.picture.sitting.on
    return Print(
        code=code,
        person=seen.person,
        picture=seen.picture,
        state_on=on,
        owed_since=on,
        not_at_the_lab=queries.is_grave(seen.person, seen.picture),
    )


def keep_from_the_lab() -> int:
    """Mark the prints with somebody at grave risk in them by now as not for the lab; how many.

    Who sets the level knows nothing of prints: it is done when the artist looks at them.
    """
    in_frame = Q(person__level=Risk.GRAVE) | Q(picture__appearances__person__level=Risk.GRAVE)
    rows = Print.objects.filter(in_frame, not_at_the_lab=False).exclude(state__in=rules.ENDS)
    keys = set(rows.order_by().values_list("pk", flat=True))
    # A look at which there is nothing to mark writes nothing.
    return Print.objects.filter(pk__in=keys).update(not_at_the_lab=True) if keys else 0


def _first_step(row: Print, by: User, at: datetime) -> Step:
    return Step(print=row, number=1, was="", became=row.state, on=row.state_on, noted_at=at, by=by)


@transaction.atomic
def owe_without_picture(*, person: Participant, on: date, by: User, at: datetime) -> Print:
    """Owe a print to somebody who sat and of whom no picture is there; twice is once."""
    first: dict[str, Any] = {
        "code": lambda: next(_fresh_codes()),
        "state_on": on,
        "owed_since": on,
        "not_at_the_lab": queries.is_grave(person),
    }
    row, is_new = Print.objects.get_or_create(person=person, picture=None, defaults=first)
    if is_new:
        _first_step(row, by, at).save()
    return row


@transaction.atomic
def step(
    *,
    print: Print,
    to: str,
    on: date,
    by: User,
    at: datetime,
    reason: str = "",
    was: str = "",
    **way: Any,
) -> Print:
    """Move a print one step, dated by the event and not by the typing.

    `way` is what was said with it: of the way agreed (WAY) or of this step alone (ONCE). `was`
    is the state in which the page was opened, where it came from a page. Refused with the codes
    of `rules.may_move`, or moved_meanwhile, day_in_future, before_the_last_step.
    """
    if unknown := set(way) - WAY - ONCE:
        raise TypeError(f"nothing that is said with a step: {', '.join(sorted(unknown))}")
    row = Print.objects.select_for_update().get(pk=print.pk)
    if was and was != row.state:
        raise Refused("moved_meanwhile")
    _refuse_day(row, on, at)
    _agree(row, way)
    old, new = PrintState(row.state), PrintState(to)
    if codes := rules.may_move(old, new, facts(row, on, way)):
        raise Refused(*codes)
    _move(row, new, way)
    _of_order(row, old, new, on)
    _note(row, old, on, by, at, reason)
    # The caller's own row says where it is now; after a refusal it is untouched.
    for column in row._meta.concrete_fields:
        setattr(print, column.attname, getattr(row, column.attname))
    return print


def _refuse_day(row: Print, on: date, at: datetime) -> None:
    if on > timezone.localdate(at):
        raise Refused("day_in_future")
    if on < row.state_on:
        raise Refused("before_the_last_step")


def _agree(row: Print, way: Mapping[str, Any]) -> None:
    for name in WAY & way.keys():
        setattr(row, name, way[name])
    row.not_at_the_lab = row.not_at_the_lab or queries.is_grave(row.person, row.picture)


def facts(row: Print, on: date, way: Mapping[str, Any]) -> Facts:
    """What the rules ask of a print on a day, with what was said for this one step."""
    said = {name: way[name] for name in ONCE & way.keys()}
    return Facts(
        way_agreed=row.is_safe is True,
        rounds=row.tries,
        days_waiting=(on - row.state_on).days,
        asked_this_trip=queries.was_asked_on_trip(row, on),
        is_left_alone=queries.is_left_alone(row.person),
        **said,
    )


def _move(row: Print, new: PrintState, way: Mapping[str, Any]) -> None:
    """Put the print into its new state; a failed try is counted until it is in their hands."""
    old, row.state = PrintState(row.state), new
    if new is PrintState.NOT_HOME:
        row.tries += 1
    if new is PrintState.OUT_ON_A_ROUND:
        # The round that takes it says so itself; set out by hand, it is on none.
        row.round = None
    if new is PrintState.LOOKING_FOR_A_WAY and row.tries >= rules.TRIES:
        # The way that failed twice is no way: the sitter is asked for another.
        row.is_safe = None
    if new is PrintState.CLOSED_OUT:
        row.closed_how = rules.closed_how(old, way.get("ending", ""))


def _of_order(row: Print, old: PrintState, new: PrintState, on: date) -> None:
    """Keep the line of the lab's order beside the print; ordered by hand, it is on none."""
    if new is PrintState.ORDERED:
        row.order = None
    elif row.order_id and new is PrintState.AT_THE_LAB:
        LabOrder.objects.filter(pk=row.order_id, handed_over_on=None).update(handed_over_on=on)
    elif row.order_id and (came := CAME.get((old, new))):
        LabLine.objects.filter(order=row.order_id, print=row).update(came=came)


def _note(row: Print, was: str, on: date, by: User, at: datetime, reason: str) -> None:
    row.state_on = on
    row.save()
    Step.objects.create(
        print=row,
        number=row.steps.count() + 1,
        was=was,
        became=row.state,
        on=on,
        noted_at=at,
        by=by,
        reason=reason,
    )


@transaction.atomic
def agree_way(*, print: Print, by: User, on: date, **way: Any) -> Print:
    """Note the way that was agreed without moving the print (WAY names what may be said).

    Refused: out_already (it is out, and the way is not safe any more), hours_turned.
    """
    if unknown := set(way) - WAY:
        raise TypeError(f"no part of a way: {', '.join(sorted(unknown))}")
    state = Print.objects.select_for_update().values_list("state", flat=True).get(pk=print.pk)
    if state == PrintState.OUT_ON_A_ROUND and way.get("is_safe", True) is not True:
        raise Refused("out_already")
    opens, closes = way.get("opens_at"), way.get("closes_at")
    if opens and closes and opens >= closes:
        raise Refused("hours_turned")
    _agree(print, way)
    print.save(update_fields=sorted({*way, "not_at_the_lab"}))
    return print


@transaction.atomic
def promise(
    *,
    person: Participant,
    kind: str,
    on: date,
    by: User,
    due_on: date | None = None,
    others_may_see: bool | None = None,
    amount: Decimal | None = None,
    currency: str = "",
) -> Promise:
    """Note what else was promised to a person, and by when; `amount` and `currency` of a sum.

    Refused: due_before, no_sum (an amount of something else), currency (it is not said).
    """
    if due_on is not None and due_on < on:
        raise Refused("due_before")
    if amount is not None and kind != PromiseKind.SUM:
        raise Refused("no_sum")
    if amount is not None and not currency:
        raise Refused("currency")
    return Promise.objects.create(
        person=person,
        kind=PromiseKind(kind),
        promised_on=on,
        due_on=due_on,
        others_may_see=others_may_see,
        amount=amount,
        currency="" if amount is None else currency,
    )


@transaction.atomic
def keep_promise(
    *, promise: Promise, on: date, by: User, others_may_see: bool | None = None
) -> Promise:
    """Note the day on which a promise was kept; a second press finds it kept.

    Nobody is invited who was not asked whether others may see them there. Refused: kept_before,
    others_may_see, ended_already (otherwise than by being kept).
    """
    row = Promise.objects.select_for_update().get(pk=promise.pk)
    if row.ended_how:
        raise Refused("ended_already")
    if on < row.promised_on:
        raise Refused("kept_before")
    if row.kept_on is None:
        if others_may_see is not None:
            row.others_may_see = others_may_see
        if row.kind == PromiseKind.INVITATION and row.others_may_see is None:
            raise Refused("others_may_see")
        row.kept_on = on
        row.save(update_fields=["kept_on", "others_may_see"])
    promise.kept_on, promise.others_may_see = row.kept_on, row.others_may_see
    return promise
