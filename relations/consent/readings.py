"""Two people read one form without seeing each other's reading; what differs is settled."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from relations.pictures.models import Sitting
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused

from . import evidence, papers
from .boxes import differ, settled, stricter, whole
from .models import Form, Reading
from .states import State

TO_BE_READ = (State.SCANNED, State.READ_ONCE, State.DOUBTFUL)


def refuse_days(answers: Mapping[str, Any], on: date) -> None:
    """Days are ISO text here, which sorts as days do."""
    given, first, last = (answers[key] for key in ("given_on", "first_day", "last_day"))
    if given and given > on.isoformat():
        raise Refused("day_in_future")
    if first and last and first > last:
        raise Refused("days_cross")


def settle_as(form: Form, answers: Mapping[str, Any], by: User, at: datetime) -> None:
    """Let the answers count as evidence, and the form stand if nothing else is missing."""
    on = timezone.localtime(at).date()
    form.settled_at, form.settled_by = at, by
    papers.write(form, answers)
    if form.state == State.SCANNED:
        papers.step(form, to=State.DOUBTFUL, on=on)
    evidence.stand(form, on=on)


@transaction.atomic
def read(
    *,
    form: Form,
    answers: Mapping[str, Any],
    by: User,
    at: datetime,
    sittings: Iterable[Sitting] | None = None,
) -> Reading:
    """Note what one person reads on a scan, without the other's reading before their eyes.

    The assistant reads first, the artist second. Until both agree or are settled the stricter
    of both acts, and only to narrow. Equal readings settle the form, which then stands if it is
    complete and its wording was read. `sittings`: what it speaks of. Refused with
    "not_to_be_read", "read_twice", "same_reader", "not_your_turn", "day_in_future",
    "days_cross".
    """
    form = Form.objects.select_for_update(of=("self",)).get(pk=form.pk)
    earlier = list(form.readings.all())
    _refuse_reader(form, earlier, by)
    on = timezone.localtime(at).date()
    mine = whole(answers)
    refuse_days(mine, on)
    reading = Reading.objects.create(form=form, number=len(earlier) + 1, by=by, at=at, answers=mine)
    if sittings is not None:
        form.sittings.set(sittings)
    if not earlier:
        papers.write(form, mine)
        if form.state == State.SCANNED:
            papers.step(form, to=State.READ_ONCE, on=on)
    elif differ(earlier[0].answers, mine):
        papers.write(form, stricter(earlier[0].answers, mine))
        if form.state == State.READ_ONCE:
            papers.step(form, to=State.DOUBTFUL, on=on)
    else:
        settle_as(form, mine, by, at)
    return reading


def _refuse_reader(form: Form, earlier: list[Reading], by: User) -> None:
    if form.state not in TO_BE_READ:
        raise Refused("not_to_be_read")
    if len(earlier) == 2:
        raise Refused("read_twice")
    if any(reading.by_id == by.pk for reading in earlier):
        raise Refused("same_reader")
    if by.role != (Role.ARTIST if earlier else Role.ASSISTANT):
        raise Refused("not_your_turn")


@transaction.atomic
def settle(*, form: Form, answers: Mapping[str, Any], by: User, at: datetime) -> Form:
    """Settle the boxes in which two readings differ ("uses.web": False, "last_day": …).

    `answers` names exactly those; none where a form is doubtful for another reason and the
    artist has looked into it. Refused with "artist_only", "nothing_to_settle", "still_differs"
    where a box was left out, "not_in_doubt" where one was added, and as `read` on days.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    form = Form.objects.select_for_update(of=("self",)).get(pk=form.pk)
    readings = list(form.readings.all())
    if form.state != State.DOUBTFUL or (len(readings) < 2 and not form.is_from_before):
        raise Refused("nothing_to_settle")
    if readings:
        chosen = _chosen(readings[0].answers, readings[-1].answers, answers)
    else:
        chosen = papers.said(form)
    refuse_days(chosen, timezone.localtime(at).date())
    settle_as(form, chosen, by, at)
    return form


def _chosen(one: Mapping[str, Any], two: Mapping[str, Any], answers: Mapping[str, Any]) -> Any:
    boxes = set(differ(one, two))
    if boxes - set(answers):
        raise Refused("still_differs")
    if set(answers) - boxes:
        raise Refused("not_in_doubt")
    return settled(one, two, answers)
