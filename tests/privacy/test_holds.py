"""A hold lies once, is looked at within 14 days, and is lifted with a sentence; seen on a person.

Source of the 14 days and of who lifts: job.md row 43.
"""

import pytest
from django.http import Http404

from relations.people.models import PersonHold
from relations.privacy import holds
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
NOW = cast.moment()


@pytest.fixture
def marcels():
    return cast.marcel().holds


def test_a_hold_lies_once_and_a_second_one_finds_the_first(marcels) -> None:
    first = holds.lay(marcels, by=cast.wording_reader(), at=NOW)
    assert holds.lay(marcels, by=cast.artist(), at=NOW, next_look_on=cast.days(2)) == first
    assert (first.laid_at, first.laid_by) == (NOW, cast.wording_reader())
    assert first.next_look_on == cast.days(holds.HOLD_DAYS) == cast.days(14)
    assert PersonHold.objects.count() == 1


@pytest.mark.parametrize("day", [0, 14])
def test_a_hold_is_looked_at_again_on_a_day_that_was_named(marcels, day) -> None:
    laid = holds.lay(marcels, by=cast.artist(), at=NOW, next_look_on=cast.days(day))
    assert laid.next_look_on == cast.days(day)


@pytest.mark.parametrize("day", [-1, 15])
def test_a_look_in_the_past_or_after_14_days_is_refused(marcels, day) -> None:
    with pytest.raises(Refused, match="look_within_14_days"):
        holds.lay(marcels, by=cast.artist(), at=NOW, next_look_on=cast.days(day))
    assert holds.lying(marcels) is None


@pytest.mark.parametrize("by", [cast.artist, cast.keeper])
def test_a_lifted_hold_says_by_whom_and_why_and_lies_no_more(marcels, by) -> None:
    laid = holds.lay(marcels, by=cast.assistant(), at=NOW)
    assert holds.lying(marcels) == holds.lying_or_404(marcels) == laid
    later = cast.moment(hour=11)
    holds.lift(laid, sentence=" It was a rumour. ", by=by(), at=later)
    laid.refresh_from_db()
    assert (laid.lifted_at, laid.lifted_by, laid.sentence) == (later, by(), "It was a rumour.")
    assert holds.lying(marcels) is None
    with pytest.raises(Http404):
        holds.lying_or_404(marcels)


def test_a_hold_laid_after_a_lifted_one_is_another(marcels) -> None:
    first = holds.lay(marcels, by=cast.assistant(), at=NOW)
    holds.lift(first, sentence="Seen.", by=cast.artist(), at=NOW)
    assert holds.lay(marcels, by=cast.assistant(), at=NOW) != first


@pytest.mark.parametrize(
    ("by", "sentence", "code"),
    [
        (cast.assistant, "Seen.", "artist_or_keeper"),
        (cast.wording_reader, "Seen.", "artist_or_keeper"),
        (cast.artist, " ", "no_sentence"),
    ],
)
def test_a_hold_stays_where_the_wrong_one_lifts_it_or_without_a_word(
    marcels, by, sentence, code
) -> None:
    laid = holds.lay(marcels, by=cast.assistant(), at=NOW)
    with pytest.raises(Refused, match=code):
        holds.lift(laid, sentence=sentence, by=by(), at=NOW)
    assert holds.lying(marcels) == laid
