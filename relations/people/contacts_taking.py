"""One line of a telephone's contacts is taken: word of somebody, and the numbers they allowed."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils import timezone

from relations.privacy import log
from relations.privacy.refused import Refused

from .lines import add_line
from .models import Participant, Why
from .word import hear, hear_again, put_in_sight

if TYPE_CHECKING:
    from relations.privacy.models import User


@transaction.atomic
def take(
    *,
    told: Mapping[str, Any],
    by: "User",
    at: datetime,
    call_name: str = "",
    known: Participant | None = None,
    numbers: Iterable[Mapping[str, Any]] = (),
) -> Participant:
    """Note that word of somebody came through, and each number, by the actions of a press.

    `told`: who told us, when, and what was asked, as `word.hear_again` takes it; `numbers`: what
    `lines.add_line` takes of each. Somebody who is `known` gets no more than the one word: their
    numbers are for their own page. Nobody is vouched for by it: that stays the artist's yes.
    Refused: artist_only; not_asked_first, for anybody who was not asked, and for a number unless
    they were; the codes of `word.hear`, `word.hear_again` and `lines.add_line`.
    """
    numbers = list(numbers)
    asked_first = told.get("asked_first")
    if not by.is_artist:
        raise Refused("artist_only")
    if asked_first is False or (numbers and asked_first is not True):
        raise Refused("not_asked_first")
    if known is not None:
        hear_again(person=known, by=by, **told)
        person = known
    else:
        person = hear(call_name=call_name, by=by, **told)
        for number in numbers:
            add_line(person=person, by=by, at=at, **number)
        put_in_sight(person=person, user=by, day=timezone.localdate(at), why=Why.NEW)
    log.note(by, "took", "contact", person.log_key)
    return person
