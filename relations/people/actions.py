"""What is written about people: word heard, vouched for, moved on, held, named, mended."""

import json
from collections.abc import Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.core.serializers.json import DjangoJSONEncoder
from django.db import models, transaction
from django.utils import timezone

from relations.privacy import holds, log
from relations.privacy.models import Mending
from relations.privacy.refused import Refused

from . import phones, queries, rules
from .lines import (
    add_line,
    end_line,
    let_never_rings_go,
    never_ring,
    set_zone,
    settle_shared,
    undo_never_ring,
)
from .models import (
    Name,
    NameKind,
    Participant,
    PersonHold,
    Speaker,
)
from .values import Condition, Risk, Standing
from .word import (
    accept_outside,
    add_community,
    ask_to_tell,
    hear,
    hear_again,
    hope_for,
    let_vouch,
    put_in_sight,
    rang_us,
    same_as,
    settle_rang_us,
    stand,
    thank,
    vouch,
)

if TYPE_CHECKING:
    from relations.privacy.models import User

__all__ = [
    "accept_outside", "add_community", "add_line", "add_name", "ask_to_tell", "end_line", "hear",
    "hear_again", "hold", "hope_for", "let_never_rings_go", "let_vouch", "lift", "mend", "move",
    "name_speaker", "never_ring", "note_birth", "note_condition", "note_talk", "note_ways",
    "put_in_sight", "rang_us", "same_as", "set_level", "set_zone", "settle_rang_us",
    "settle_shared", "thank", "undo_never_ring", "vouch",
]  # fmt: skip


@transaction.atomic
def move(
    *,
    person: Participant,
    to: str,
    on: date,
    by: "User",
    facts: Mapping[str, Any] | None = None,
) -> Participant:
    """Move a person to a standing, where the rules of people allow it; being there is no move.

    `facts` are fields of `values.Facts` that people do not know of themselves, as
    {"tries": 3} or {"power_was_absent": True}. Refused with the codes of `rules.may_move`.
    """
    held = Participant.objects.select_for_update().get(pk=person.pk)
    if held.standing == to:
        return person
    known = queries.facts(held, on, by, **(facts or {}))
    if codes := rules.may_move(Standing(held.standing), Standing(to), known):
        raise Refused(*codes)
    stand(person, Standing(to), on)
    return person


@transaction.atomic
def note_talk(*, person: Participant, on: date) -> None:
    """Note that we spoke with a person; an earlier day never replaces a later one."""
    if person.last_talk_on is None or person.last_talk_on < on:
        person.last_talk_on = on
        person.save(update_fields=["last_talk_on"])


@transaction.atomic
def note_ways(*, person: Participant, by: "User", at: datetime, **ways: Any) -> None:
    """Note how a person may be rung: what to do, never why.

    `ways`: languages, calendar, reads, safe_hours [["10:00", "12:00"], …], safe_days, text_only,
    instruction, may_say. What is not given stays.
    """
    allowed = {
        "languages", "calendar", "reads", "safe_hours", "safe_days", "text_only", "instruction",
        "may_say",
    }  # fmt: skip
    if unknown := set(ways) - allowed:
        raise TypeError(f"not a way of ringing: {', '.join(sorted(unknown))}")
    for name, value in ways.items():
        setattr(person, name, value)
    person.save(update_fields=list(ways))


@transaction.atomic
def add_name(
    *, person: Participant, text: str, kind: str, script: str, by: "User", at: datetime
) -> Name:
    """Note a name, a spelling of it (`script` as ISO 15924), or a name never to be printed."""
    return Name.objects.create(person=person, text=text, kind=NameKind(kind), script=script)


@transaction.atomic
def note_birth(
    *,
    person: Participant,
    earliest: date | None,
    latest: date | None,
    said: str,
    by: "User",
    at: datetime,
    met_as_adult: bool = False,
) -> None:
    """Note the days between which somebody was born and what was said; or that an adult was met.

    An earlier note stays readable as mended. Refused: half_a_birth, backwards, in_the_future.
    """
    if (earliest is None) != (latest is None):
        raise Refused("half_a_birth")
    if earliest is not None and latest is not None:
        if latest < earliest:
            raise Refused("backwards")
        if earliest > timezone.localdate(at):
            raise Refused("in_the_future")
    changes = {
        "born_earliest": earliest,
        "born_latest": latest,
        "born_said": said,
        "met_as_adult": met_as_adult,
    }
    if person.born_earliest is None and not person.born_said:
        for name, value in changes.items():
            setattr(person, name, value)
        person.save(update_fields=list(changes))
    else:
        mend(row=person, changes=changes, person=person, by=by, at=at)


@transaction.atomic
def set_level(
    *,
    person: Participant,
    level: str,
    next_look_on: date | None,
    on: date,
    by: "User",
    instruction: str | None = None,
) -> None:
    """Set how much being shown may harm a person, and what to do and not to do; for the artist.

    `next_look_on`: None is as far off as the level allows; `instruction`: None leaves it as it is.
    What the danger is is written nowhere. Refused: artist_only, day_is_past.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    if next_look_on is not None and next_look_on < on:
        raise Refused("day_is_past")
    person.level = Risk(level)
    person.level_next_look_on = next_look_on or rules.look_again_on(Risk(level), on)
    if instruction is not None:
        person.instruction = instruction
    person.save(update_fields=["level", "level_next_look_on", "instruction"])


@transaction.atomic
def note_condition(
    *, person: Participant, condition: str, condition_on: date | None, by: "User", at: datetime
) -> None:
    """Note that a person cannot answer for now, has died, or can answer again; never the cause.

    A sitter is then spoken for, or takes part again. Refused: no_day, in_the_future.
    """
    state = Condition(condition)
    if state is not Condition.WELL and condition_on is None:
        raise Refused("no_day")
    if condition_on is not None and condition_on > timezone.localdate(at):
        raise Refused("in_the_future")
    person.condition = state
    person.condition_on = None if state is Condition.WELL else condition_on
    person.save(update_fields=["condition", "condition_on"])
    # Where they stand by now: a no that was heard meanwhile stays one.
    held = Participant.objects.select_for_update().get(pk=person.pk)
    to = Standing.TAKING_PART if state is Condition.WELL else Standing.SPOKEN_FOR
    before, on = Standing(held.standing), condition_on or timezone.localdate(at)
    was_spoken_for = before is Standing.SPOKEN_FOR
    if (state is not Condition.WELL or was_spoken_for) and not rules.may_move(
        before, to, queries.facts(held, on, by)
    ):
        stand(person, to, max(on, person.heard_on))


@transaction.atomic
def name_speaker(
    *,
    person: Participant,
    on: date,
    by: "User",
    speaker: Participant | None = None,
    name: str = "",
    way: str = "",
    is_next_of_kin: bool = False,
) -> Speaker:
    """Note who answers for a person when they cannot.

    Refused: by_themselves, nobody_named; never_ring, for a number that nobody may ring.
    """
    if speaker == person:
        raise Refused("by_themselves")
    if speaker is None and not name:
        raise Refused("nobody_named")
    if any(map(queries.may_not_be_rung, phones.numbers_in(way, settings.RELATIONS_COUNTRY))):
        raise Refused("never_ring")
    return Speaker.objects.create(
        person=person,
        speaker=speaker,
        name=name,
        way=way,
        is_next_of_kin=is_next_of_kin,
        named_on=on,
    )


@transaction.atomic
def hold(
    *, person: Participant, by: "User", at: datetime, next_look_on: date | None = None
) -> PersonHold:
    """Lay a hold: nothing of this person moves. Anyone may; a second one finds the first.

    It is looked at again within 14 days, on the last of them if no day is named.
    Refused: look_within_14_days.
    """
    return holds.lay(person.holds, by=by, at=at, next_look_on=next_look_on)


@transaction.atomic
def lift(*, hold: PersonHold, sentence: str, by: "User", at: datetime) -> PersonHold:
    """Lift a hold with a sentence of what was found. Refused: artist_or_keeper, no_sentence."""
    return holds.lift(hold, sentence=sentence, by=by, at=at)


@transaction.atomic
def mend(
    *,
    row: models.Model,
    changes: dict[str, Any],
    person: Participant,
    by: "User",
    at: datetime,
) -> Mending:
    """Put right a wrong entry about a person in any room; the old values stay, sealed.

    Refused: not_theirs, where the row names another person.
    """
    if getattr(row, "person_id", person.pk) != person.pk:
        raise Refused("not_theirs")
    kind = row._meta.label_lower
    columns = {field.name: field for field in row._meta.fields}
    old = {name: getattr(row, columns[name].attname) for name in changes}
    kept = Mending.objects.create(
        kind=kind,
        key=row.pk,
        about=person.log_key,
        at=at,
        by=by,
        old=json.loads(json.dumps(old, cls=DjangoJSONEncoder)),
    )
    for name, value in changes.items():
        setattr(row, name, value)
    row.save(update_fields=list(changes))
    log.note(by, "mended", kind, person.log_key)
    return kept
