"""Who may interpret and who may witness, against rows 11 and 19 of the job."""

import pytest

from relations.meetings.helping import ASKED, Helps, Tie, warnings

GOOD = Helps("TA", languages=("bm", "fr"), has_promised=True)
SEES = Helps("LH", languages=("fr",))


def near(tie):
    return Helps("TA", frozenset({tie}), ("bm", "fr"), has_promised=True)


def test_nothing_speaks_against_somebody_apart_who_speaks_the_language() -> None:
    assert warnings(GOOD, SEES, ("fr",)) == ()
    assert warnings(None, None, ("fr",)) == ()


@pytest.mark.parametrize("tie", ASKED)
def test_kin_introducer_and_employer_neither_interpret_nor_witness(tie) -> None:
    assert warnings(near(tie), None) == ("interpreter_tied",)
    assert warnings(None, near(tie)) == ("witness_tied",)


@pytest.mark.parametrize("tie", [Tie.ARTIST, Tie.ASSISTANT, Tie.INTERPRETER])
def test_nobody_of_ours_and_no_interpreter_witnesses(tie) -> None:
    assert warnings(None, near(tie)) == ("witness_tied",)
    assert warnings(near(tie), None) == ()


def test_interpreter_is_not_the_witness() -> None:
    assert warnings(GOOD, GOOD) == ("witness_tied",)


def test_own_group_interprets_only_where_the_person_says_so() -> None:
    known = {"languages": ("fr",), "has_promised": True, "of_own_group": True}
    assert warnings(Helps("TA", **known), None) == ("own_group",)
    assert warnings(Helps("TA", is_agreed=True, **known), None) == ()


def test_language_is_compared_where_both_are_known() -> None:
    assert warnings(GOOD, SEES, ("ar",)) == ("interpreter_language", "witness_language")
    assert warnings(GOOD, SEES) == ()
    assert warnings(Helps("TA", has_promised=True), Helps("LH"), ("ar",)) == ()


def test_promise_is_signed_before() -> None:
    assert warnings(Helps("TA"), None) == ("not_promised",)
