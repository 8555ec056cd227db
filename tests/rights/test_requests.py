"""A request is heard on its day, its month runs, and only whom we are sure of is answered."""

from datetime import date

import pytest

from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.rights import requests
from relations.rights.models import Request
from tests import cast

pytestmark = pytest.mark.django_db
LAST = date(2026, 1, 31)


def heard(kind="what_you_hold", on=LAST, **more):
    said = {"person": cast.danuta(), "way": "voice", "by": cast.assistant(), **more}
    return requests.receive(kind=kind, asked_on=on, **said)


def sure(request, **more):
    said = {"how": "face", "word": "", "on": LAST, "by": cast.artist(), **more}
    return requests.be_sure(request=request, **said)


def test_the_month_runs_from_the_day_it_was_said_unrolled():
    # checks.md 2.3: 28 February 2026 is a Saturday, and stays the target.
    request = heard()
    assert (request.due_on, request.way, request.heard_by) == (
        date(2026, 2, 28),
        "voice",
        cast.assistant(),
    )


def test_asked_again_while_open_is_one_request_and_the_earlier_day_counts():
    request = heard(on=date(2026, 3, 5))
    again = heard(on=date(2026, 2, 1), way="paper")
    later = heard(on=date(2026, 3, 9))
    assert again.pk == later.pk == request.pk and Request.objects.count() == 1
    assert (again.asked_on, again.due_on) == (date(2026, 2, 1), date(2026, 3, 1))
    assert heard("erase").pk != request.pk


def test_an_earlier_day_keeps_the_longer_time_that_was_told():
    request = heard(on=date(2026, 3, 5))
    requests.extend(request=request, told_on=date(2026, 3, 9), by=cast.artist())
    assert heard(on=date(2026, 2, 28)).due_on == date(2026, 5, 28)


def test_after_an_answer_the_same_thing_is_asked_anew():
    request = sure(heard())
    requests.answer(request=request, outcome="done", answered_on=LAST, by=cast.artist())
    assert heard().pk != request.pk


def test_the_agreed_word_is_compared_folded_and_sealed():
    person, artist = cast.danuta(), cast.artist()
    requests.agree_word(person=person, word="  Żółw ", by=artist)
    request = heard()
    with pytest.raises(Refused, match="wrong_word"):
        sure(request, how="word", word="zolwik")
    assert sure(request, how="word", word="ZOLW").sure_how == "word"
    assert AccessEntry.objects.filter(verb="agreed", key=person.log_key).count() == 1


def test_without_a_word_the_artist_says_how_else():
    request = heard()
    for word in ("", "Żółw"):
        with pytest.raises(Refused, match="no_word_agreed"):
            sure(request, how="word", word=word)
    assert sure(request, how="speaker").sure_how == "speaker"
    # A second press finds it noted.
    assert sure(request, how="face").sure_how == "speaker"


@pytest.mark.parametrize("word", ["", " ", "!?"])
def test_a_word_has_a_letter(word):
    with pytest.raises(Refused, match="no_word"):
        requests.agree_word(person=cast.danuta(), word=word, by=cast.artist())


def test_it_is_put_off_once_inside_the_month_to_three_from_the_asking():
    request, artist = heard(), cast.artist()
    with pytest.raises(Refused, match="month_is_over"):
        requests.extend(request=request, told_on=date(2026, 3, 1), by=artist)
    requests.extend(request=request, told_on=date(2026, 2, 28), by=artist)
    assert (request.due_on, request.extended_on) == (date(2026, 4, 30), date(2026, 2, 28))
    requests.extend(request=request, told_on=date(2026, 2, 20), by=artist)
    assert request.extended_on == date(2026, 2, 28)


def test_what_was_answered_is_not_put_off():
    request, artist = sure(heard()), cast.artist()
    requests.answer(request=request, outcome="done", answered_on=LAST, by=artist)
    with pytest.raises(Refused, match="answered"):
        requests.extend(request=request, told_on=LAST, by=artist)


@pytest.mark.parametrize("kind", ["what_you_hold", "mend", "erase"])
def test_nothing_is_handed_over_or_changed_before_we_are_sure(kind):
    request, artist = heard(kind), cast.artist()
    with pytest.raises(Refused, match="sure_first"):
        requests.answer(request=request, outcome="done", answered_on=LAST, by=artist)
    requests.answer(request=request, outcome="not_done", answered_on=LAST, by=artist)
    assert (request.outcome, request.answered_on) == ("not_done", LAST)


def test_a_no_needs_nobody_to_be_sure_and_is_answered_once():
    request, artist = heard("object"), cast.artist()
    requests.answer(request=request, outcome="done", answered_on=LAST, by=artist)
    requests.answer(request=request, outcome="not_done", answered_on=LAST, by=artist)
    assert request.outcome == "done"


BEFORE = date(2026, 1, 30)


@pytest.mark.parametrize(
    "step",
    [
        lambda request, by: sure(request, on=BEFORE, by=by),
        lambda request, by: requests.extend(request=request, told_on=BEFORE, by=by),
        lambda request, by: requests.answer(
            request=request, outcome="not_done", answered_on=BEFORE, by=by
        ),
    ],
)
def test_nothing_comes_before_the_asking_and_only_the_artist_goes_on(step):
    request = heard()
    with pytest.raises(Refused, match="before_it_was_asked"):
        step(request, cast.artist())
    with pytest.raises(Refused, match="artist_only"):
        step(request, cast.assistant())


def test_only_the_artist_agrees_on_a_word():
    with pytest.raises(Refused, match="artist_only"):
        requests.agree_word(person=cast.danuta(), word="tortoise", by=cast.assistant())
