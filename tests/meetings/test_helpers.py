"""Those who interpret and witness: noted by initials, and what each is to the person."""

import pytest

from relations.meetings import actions, helpers, known_helpers
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def meeting():
    return actions.fix(
        person=cast.danuta(), at=cast.moment(cast.days(1), 15), place="behind the mole",
        by=cast.artist(), on=cast.TODAY, exit_signal="a cough",
    )  # fmt: skip


def helper(kind, initials="TA", **rest):
    return helpers.add_helper(kind=kind, initials=initials, by=cast.artist(), **rest)


def choose(meeting, **given):
    return helpers.choose_helpers(meeting=meeting, by=cast.assistant(), **given)


def refusal(meeting, **given):
    with pytest.raises(Refused) as caught:
        choose(meeting, **given)
    return caught.value.codes


def test_helper_is_known_by_initials() -> None:
    known = {"languages": "bm fr", "promise_signed_on": cast.TODAY}
    assert str(helper("interpreter", name="Teodora Aspe", **known)) == "TA"


def test_cousin_who_interprets_is_noted_and_warned_of_not_barred(meeting) -> None:
    cousin = helper("interpreter", promise_signed_on=cast.TODAY)
    choose(meeting, interpreter=cousin, interpreter_ties=["kin"])
    meeting.refresh_from_db()
    assert (meeting.interpreter, meeting.interpreter_ties) == (cousin, ["kin"])
    assert known_helpers.helper_warnings(meeting) == ("interpreter_tied",)


def test_nobody_chosen_leaves_no_ties(meeting) -> None:
    given = {"interpreter_ties": ["kin"], "witness_ties": ["employer"], "of_own_group": True}
    choose(meeting, own_group_agreed=True, **given)
    assert (meeting.interpreter_ties, meeting.witness_ties) == ([], [])
    assert not meeting.of_own_group
    assert not meeting.own_group_agreed
    assert known_helpers.helper_warnings(meeting) == ()


def test_witness_is_chosen_beside_the_interpreter(meeting) -> None:
    both = {"interpreter": helper("interpreter"), "witness": helper("witness", languages="ar")}
    choose(meeting, of_own_group=True, own_group_agreed=True, **both)
    warned = known_helpers.helper_warnings(meeting)
    assert warned == ("not_promised", "witness_tied", "witness_language")


def test_each_helps_at_what_they_are_noted_for(meeting) -> None:
    assert refusal(meeting, interpreter=helper("witness")) == ("not_an_interpreter",)
    assert refusal(meeting, witness=helper("interpreter")) == ("not_a_witness",)
    assert refusal(meeting, witness_ties=["friend"]) == ("no_such_tick",)
    actions.call_off(meeting=meeting, by=cast.artist(), at=cast.moment())
    assert refusal(meeting) == ("meeting_is_over",)


def test_interpreter_who_was_chosen_stays_when_the_meeting_is_moved(meeting) -> None:
    chosen = helper("interpreter")
    choose(meeting, interpreter=chosen)
    actions.move(meeting=meeting, by=cast.artist(), at=cast.moment())
    again = actions.fix(
        person=cast.danuta(), at=cast.moment(cast.days(2), 15), place="the ferry hall",
        by=cast.artist(), on=cast.TODAY, exit_signal="a cough", meeting=meeting,
    )  # fmt: skip
    assert again.interpreter == chosen
