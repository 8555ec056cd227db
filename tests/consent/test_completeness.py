"""Each way of giving has its own lines, and what makes a form doubtful is told apart."""

from dataclasses import replace
from datetime import date

import pytest

from relations.consent.completeness import (
    Authority,
    Doubt,
    Giving,
    Guardian,
    Missing,
    Way,
    complete,
    doubtful,
    is_witness_needed,
)
from relations.consent.models import Form, GuardianAnswer
from relations.meetings.helping import Tie
from tests.consent.givings import DAY, SIGNED

SPOKEN = replace(
    SIGNED,
    way=Way.SPOKEN,
    has_mark=False,
    can_read=False,
    recording_sealed=True,
    serial_and_day_given=True,
    asked_one_by_one=True,
    ours_present=2,
)
VIDEO = replace(
    SPOKEN, way=Way.SIGN_LANGUAGE, interpreter="i", language_pair=True, video_kept_apart=True
)
SUPPORTED = replace(
    SIGNED,
    way=Way.WITH_SUPPORT,
    supporter_chosen=True,
    plain_version=True,
    second_talk_on=date(2026, 5, 21),
    same_answers=True,
)
COURT = Guardian(Authority.COURT, has_signed=True)
SOLE = Guardian(Authority.SOLE_PARENT, has_signed=True, proof_was_seen=True)
CHILD = replace(
    SIGNED,
    is_child=True,
    guardians=(SOLE,),
    authority_holders=1,
    childs_own_words=True,
    child_heard_apart=True,
)


@pytest.mark.parametrize("giving", [SIGNED, SPOKEN, VIDEO, SUPPORTED, CHILD], ids=lambda g: g.way)
def test_whole_form_is_complete_and_beyond_doubt(giving: Giving) -> None:
    assert complete(giving) == ()
    assert doubtful(giving) == ()


@pytest.mark.parametrize("way", list(Way))
def test_form_of_which_nothing_is_known_lacks_nearly_everything(way: Way) -> None:
    missing = complete(Giving(way))
    assert {Missing.DAY, Missing.OWN_LANGUAGE, Missing.COPY, Missing.EXPLAINED_BY} <= set(missing)
    assert Doubt.SIGNED_BEFORE_EXPLAINED in doubtful(Giving(way))


LACKS = [
    (SIGNED, {"given_on": None}, Missing.DAY),
    (SIGNED, {"explained_by": None}, Missing.EXPLAINED_BY),
    (SPOKEN, {"recording_sealed": False}, Missing.RECORDING),
    (SPOKEN, {"serial_and_day_given": False}, Missing.SERIAL_AND_DAY),
    (SPOKEN, {"asked_one_by_one": False}, Missing.ONE_BY_ONE),
    (SPOKEN, {"ours_present": 1}, Missing.TWO_OF_OURS),
    (VIDEO, {"interpreter": None}, Missing.INTERPRETER),
    (VIDEO, {"interpreter_ties": frozenset({Tie.KIN})}, Missing.INTERPRETER_APART),
    (VIDEO, {"language_pair": False}, Missing.LANGUAGE_PAIR),
    (VIDEO, {"video_kept_apart": False}, Missing.VIDEO_KEPT_APART),
    (SUPPORTED, {"supporter_chosen": False}, Missing.SUPPORTER),
    (SUPPORTED, {"plain_version": False}, Missing.PLAIN_VERSION),
    (SUPPORTED, {"second_talk_on": DAY}, Missing.SECOND_TALK),
    (SUPPORTED, {"second_talk_on": None}, Missing.SECOND_TALK),
    (SUPPORTED, {"same_answers": False}, Missing.SAME_ANSWERS),
    (CHILD, {"guardians": ()}, Missing.HOLDERS),
    (CHILD, {"guardians": (replace(SOLE, proof_was_seen=False),)}, Missing.HOLDERS),
    (CHILD, {"guardians": (replace(COURT, has_signed=False),)}, Missing.HOLDERS),
    (CHILD, {"childs_own_words": False}, Missing.CHILDS_WORDS),
    (CHILD, {"child_heard_apart": False}, Missing.CHILD_HEARD_APART),
]


@pytest.mark.parametrize(("giving", "change", "line"), LACKS)
def test_each_line_is_missed_by_itself(
    giving: Giving, change: dict[str, object], line: Missing
) -> None:
    assert complete(replace(giving, **change)) == (line,)


def test_second_talk_needs_a_first_one() -> None:
    assert set(complete(replace(SUPPORTED, given_on=None))) == {Missing.DAY, Missing.SECOND_TALK}


@pytest.mark.parametrize("guardian", [COURT, SOLE, Guardian(Authority.PARENT, has_signed=True)])
def test_one_who_holds_authority_alone_is_enough(guardian: Guardian) -> None:
    assert complete(replace(CHILD, guardians=(guardian,))) == ()
    assert complete(replace(CHILD, guardians=(guardian,), authority_holders=2)) == (
        Missing.HOLDERS,
    )


def test_witness_is_not_asked_for_on_record_nor_of_a_child() -> None:
    assert not is_witness_needed(SPOKEN)
    assert not is_witness_needed(replace(CHILD, way=Way.CHILD, can_read=False))
    assert is_witness_needed(replace(CHILD, way=Way.CHILD, interpreter_used=True))
    assert is_witness_needed(replace(SIGNED, can_read=False))


@pytest.mark.parametrize(
    ("giving", "doubt"),
    [
        (replace(SIGNED, was_explained_first=False), Doubt.SIGNED_BEFORE_EXPLAINED),
        (replace(SIGNED, is_in_own_language=False), Doubt.OTHER_LANGUAGE),
        (
            replace(SIGNED, witness="w", witness_ties=frozenset({Tie.INTRODUCER})),
            Doubt.WITNESS_TIED,
        ),
        (replace(SIGNED, witness="i", interpreter="i"), Doubt.WITNESS_TIED),
        (replace(SPOKEN, asked_one_by_one=False), Doubt.ONE_LONG_YES),
        (replace(VIDEO, interpreter_ties=frozenset({Tie.KIN})), Doubt.INTERPRETER_TIED),
        (replace(SUPPORTED, same_answers=False), Doubt.ANSWERS_CHANGED),
        (
            replace(CHILD, guardians=(Guardian(Authority.OTHER, has_signed=True),)),
            Doubt.NO_HOLDER,
        ),
        (
            replace(CHILD, way=Way.CHILD, guardians=(Guardian(Authority.OTHER, True),)),
            Doubt.NO_HOLDER,
        ),
    ],
)
def test_each_doubt_by_itself(giving: Giving, doubt: Doubt) -> None:
    assert doubtful(giving) == (doubt,)


def test_witness_with_no_tie_is_no_doubt() -> None:
    assert doubtful(replace(SIGNED, witness="w")) == ()


def test_codes_are_those_of_the_tables() -> None:
    assert [code for code, _ in Form._meta.get_field("way").choices] == list(Way)
    kept = [code for code, _ in GuardianAnswer._meta.get_field("authority").choices]
    assert {*Authority} - {*kept} == {Authority.OTHER}
