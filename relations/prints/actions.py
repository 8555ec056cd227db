"""What is done about prints and promises: owed, moved one step, agreed, promised, kept."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from relations.people.models import Participant
from relations.people.values import Risk
from relations.pictures.models import Appearance
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import queries, rules
from .models import Print, Promise, PromiseKind, Step
from .rules import Facts, PrintState

# Of what is said with a step, what stays on the print as the way that was agreed …
WAY = frozenset(
    {"is_safe", "size", "is_sealed", "into_whose_hand", "word_at_the_door", "box", "not_at_the_lab"}
)
# … and what only bears on this one step.
ONCE = frozenset(
    {
        *("tracked", "plain_cover", "post_asked_for", "word_from_sitter", "sat_again"),
        *("apology_given", "is_closing", "ending", "is_decided"),
    }
)


@transaction.atomic
def owe(*, by: User, at: datetime) -> list[Print]:
    """Owe a print to everybody in every picture who is owed none of it yet; twice is once.

    It is owed from the day of the sitting, whatever they answer on uses. A crop is no picture
    of its own here. Whoever had nothing to print gets that print on its way again.
    """
    spare = {row.person_id: row for row in queries.nothing_to_print()}
    fresh = []
    for seen in queries.without_print(timezone.localdate(at)):
        again = spare.pop(seen.person_id, None)
        if again is None:
            fresh.append(_owed(seen))
        else:
            again.picture = seen.picture
            again.owed_since = seen.picture.sitting.on
            again.save(update_fields=["picture", "owed_since"])
            day = max(again.state_on, seen.picture.sitting.on)
            step(print=again, to=PrintState.OWED, on=day, by=by, at=at, sat_again=True)
    rows = Print.objects.bulk_create(fresh)
    Step.objects.bulk_create(_first_step(row, by, at) for row in rows)
    return rows


def _owed(seen: Appearance) -> Print:
    on = seen.picture.sitting.on
    return Print(
        person=seen.person,
        picture=seen.picture,
        state_on=on,
        owed_since=on,
        not_at_the_lab=_is_grave(seen.person),
    )


def _is_grave(person: Participant) -> bool:
    """Prints of those at grave risk are made elsewhere: people at the lab know faces."""
    return person.level == Risk.GRAVE


def _first_step(row: Print, by: User, at: datetime) -> Step:
    return Step(print=row, number=1, was="", became=row.state, on=row.state_on, noted_at=at, by=by)


@transaction.atomic
def owe_without_picture(*, person: Participant, on: date, by: User, at: datetime) -> Print:
    """Owe a print to somebody who sat and of whom no picture is there; twice is once."""
    row, is_new = Print.objects.get_or_create(
        person=person,
        picture=None,
        defaults={"state_on": on, "owed_since": on, "not_at_the_lab": _is_grave(person)},
    )
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


def facts(row: Print, on: date, way: Mapping[str, Any]) -> Facts:
    """What the rules ask of a print on a day, with what was said for this one step."""
    said = {name: way[name] for name in ONCE & way.keys()}
    return Facts(
        way_agreed=row.is_safe is True,
        rounds=row.tries,
        days_waiting=(on - row.state_on).days,
        asked_this_trip=queries.was_asked_on_trip(row, on),
        **said,
    )


def _move(row: Print, new: PrintState, way: Mapping[str, Any]) -> None:
    """Put the print into its new state; a failed try is counted until it is in their hands."""
    row.state = new
    if new is PrintState.NOT_HOME:
        row.tries += 1
    if new is PrintState.CLOSED_OUT:
        row.closed_how = way.get("ending", "") or "apology"


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
    """Note the way that was agreed without moving the print (WAY names what may be said)."""
    if unknown := set(way) - WAY:
        raise TypeError(f"no part of a way: {', '.join(sorted(unknown))}")
    _agree(print, way)
    print.save(update_fields=sorted(way))
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
) -> Promise:
    """Note what else was promised to a person, and by when. Refused: due_before."""
    if due_on is not None and due_on < on:
        raise Refused("due_before")
    return Promise.objects.create(
        person=person,
        kind=PromiseKind(kind),
        promised_on=on,
        due_on=due_on,
        others_may_see=others_may_see,
    )


@transaction.atomic
def keep_promise(*, promise: Promise, on: date, by: User) -> Promise:
    """Note the day on which a promise was kept; a second press finds it kept.

    Refused: kept_before.
    """
    if on < promise.promised_on:
        raise Refused("kept_before")
    if promise.kept_on is None:
        promise.kept_on = on
        promise.save(update_fields=["kept_on"])
    return promise
