"""The second talk is offered to whoever holds the print and has decided on no use yet."""

import pytest

from relations.consent.models import Form
from relations.documents.models import Sheet
from relations.people.actions import hold
from relations.people.models import Participant
from relations.today import doorsteps
from tests import cast
from tests.cast import days
from tests.prints.frames import made
from tests.today.test_person import took_back

pytestmark = pytest.mark.django_db
EVERYBODY = Participant.objects.all()


def given(who, state, uses=()):
    sheet = Sheet.objects.create(serial="10003-62", kind="form")
    settled = {"settled_at": cast.moment(), "settled_by": cast.artist()}
    return Form.objects.create(
        sheet=sheet, person=who, is_from_before=True, state=state, state_on=days(-1),
        given_on=days(-2), uses=list(uses), wording_was_read=True, **settled,
    )  # fmt: skip


def undecided():
    """All but Marcel, who told of the others and has a test of his own."""
    return {person.code for person in doorsteps.undecided(EVERYBODY)} - {"01"}


def test_whoever_gave_no_form_has_not_decided():
    cast.danuta()
    cast.edelmira()
    assert undecided() == {"12"}, "28 has not sat yet"


@pytest.mark.parametrize(
    ("state", "uses", "is_decided"),
    [
        ("standing", [], False),
        ("standing", ["book"], True),
        ("withdrawn_in_part", [], False),
        ("withdrawn", [], True),
        ("scanned", [], True),
        ("left_with_them", [], False),
    ],
)
def test_a_form_that_allows_nothing_yet_is_no_decision(state, uses, is_decided):
    given(cast.danuta(), state, uses)
    assert undecided() == (set() if is_decided else {"12"})


def test_a_no_is_a_decision_and_a_hold_keeps_everybody_away():
    took_back(cast.danuta(), "all", days(-3))
    took_back(cast.lucas(), "use", days(-3), use="web")
    assert undecided() == {"40"}, "to take back one use is not to have decided on all"
    hold(person=cast.lucas(), by=cast.artist(), at=cast.moment())
    assert undecided() == set()


def test_they_are_offered_a_talk_while_the_print_is_new_to_them():
    made(cast.danuta(), "K12", "in_hand", state_on=days(-9))
    made(cast.danuta(), "K13", "acknowledged", state_on=days(-5))
    made(cast.marcel(), "K01", "acknowledged", state_on=days(-90))
    made(cast.lucas(), "K39", "acknowledged", state_on=days(-91))
    made(cast.ibrahima(), "K35", "kept_for_them")
    found = [(one.person.code, one.since) for one in doorsteps.second_talks(EVERYBODY, days(0))]
    assert found == [("01", days(-90)), ("12", days(-9))]
