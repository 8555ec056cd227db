"""What becomes of a request: heard on a day, sure who asks, put off once with notice, answered."""

from datetime import date

from django.db import transaction

from relations.languages.sorting import fold
from relations.people.models import Participant
from relations.privacy import log
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import Request, RequestKind
from .rules import ANSWER_MONTHS, LONGEST_MONTHS, due_on
from .values import AskedWay, Outcome, SureHow

# What is handed over or changed only for the person; a no is heard from whoever says it.
SURE_FIRST = (RequestKind.WHAT_YOU_HOLD, RequestKind.MEND, RequestKind.ERASE)


@transaction.atomic
def receive(*, person: Participant, kind: str, way: str, asked_on: date, by: User) -> Request:
    """Hear a request; its month runs from the day on which it was said, whoever heard it.

    The same thing asked again while it is open is one request, and the earlier day counts.
    Source: GDPR art. 12(3), 15-17, 21; Regulation (EEC) 1182/71 art. 3(2)(c).
    """
    said = {"way": AskedWay(way), "heard_by": by}
    still_open = person.requests.filter(kind=RequestKind(kind), answered_on=None)
    found = still_open.select_for_update().first()
    if found is None:
        due = due_on(asked_on)
        return Request.objects.create(
            person=person, kind=RequestKind(kind), asked_on=asked_on, due_on=due, **said
        )
    if asked_on < found.asked_on:
        months = LONGEST_MONTHS if found.extended_on else ANSWER_MONTHS
        found.asked_on, found.due_on = asked_on, due_on(asked_on, months)
        found.save(update_fields=["asked_on", "due_on"])
    return found


@transaction.atomic
def agree_word(*, person: Participant, word: str, by: User) -> None:
    """Agree on a word with a person, in the place of an earlier one; it is shown on no page.

    Refused: artist_only, no_word where nothing is left of it once it is folded.
    """
    _only_artist(by)
    if not fold(word):
        raise Refused("no_word")
    person.agreed_word = word.strip()
    person.save(update_fields=["agreed_word"])
    log.note(by, "agreed", "word", person.log_key)


@transaction.atomic
def be_sure(*, request: Request, how: str, word: str, on: date, by: User) -> Request:
    """Note how we are sure who asks; a second press finds it noted. Papers are never asked for.

    `word` is what they said, compared folded, and only looked at where `how` is the word.
    Refused: artist_only, before_it_was_asked, no_word_agreed, wrong_word.
    """
    _only_artist(by)
    _not_before(request, on)
    if SureHow(how) is SureHow.WORD:
        agreed = request.person.agreed_word
        if not agreed:
            raise Refused("no_word_agreed")
        if fold(word) != fold(agreed):
            raise Refused("wrong_word")
    if not request.sure_how:
        request.sure_how, request.sure_on = SureHow(how), on
        request.save(update_fields=["sure_how", "sure_on"])
        log.note(by, "was_sure", "rights.request", request.pk)
    return request


@transaction.atomic
def extend(*, request: Request, told_on: date, by: User) -> Request:
    """Note the day on which they were told that it takes longer: three months from the asking.

    Once, and only where they were told inside the first month; a second press finds it noted.
    Refused: artist_only, answered, before_it_was_asked, month_is_over. Source: GDPR art. 12(3).
    """
    _only_artist(by)
    if request.answered_on is not None:
        raise Refused("answered")
    _not_before(request, told_on)
    if told_on > due_on(request.asked_on):
        raise Refused("month_is_over")
    if request.extended_on is None:
        request.extended_on, request.due_on = told_on, due_on(request.asked_on, LONGEST_MONTHS)
        request.save(update_fields=["extended_on", "due_on"])
    return request


@transaction.atomic
def answer(*, request: Request, outcome: str, answered_on: date, by: User) -> Request:
    """Note the day on which they were answered, and what came of it; a second press finds it noted.

    Who was told why nothing is done need not be known to us. Refused: artist_only,
    before_it_was_asked, sure_first where something was handed over or changed.
    """
    _only_artist(by)
    _not_before(request, answered_on)
    is_done = Outcome(outcome) is Outcome.DONE
    if is_done and request.kind in SURE_FIRST and not request.sure_how:
        raise Refused("sure_first")
    if request.answered_on is None:
        request.answered_on, request.outcome = answered_on, Outcome(outcome)
        request.save(update_fields=["answered_on", "outcome"])
    return request


def _only_artist(by: User) -> None:
    if not by.is_artist:
        raise Refused("artist_only")


def _not_before(request: Request, on: date) -> None:
    if on < request.asked_on:
        raise Refused("before_it_was_asked")
