"""Every reason has a next action, and an answer keeps each reason once."""

from datetime import date

from relations.consent.answers import NEXT_ACTION, Code, NextAction, Reason, Result, Scales
from relations.consent.values import Picture, Plan, Use, Windows


def scales(**plan: object) -> Scales:
    """Empty scales for a picture of nobody."""
    picture = Picture("p1", "s1", date(2026, 5, 14), (), alt_text="Étal", words="Au café")
    planned = Plan(Use.PRESS, date(2027, 2, 5), ends_on=date(2027, 4, 18), **plan)
    return Scales(picture, planned, date(2026, 11, 23), Windows())


def test_every_code_has_one_next_action_and_every_action_is_somebodys() -> None:
    assert set(NEXT_ACTION) == set(Code)
    assert set(NEXT_ACTION.values()) == set(NextAction)


def test_no_that_was_heard_sends_nobody_to_ask_again() -> None:
    for code in (Code.WITHDRAWN, Code.GUARDIAN_NO, Code.CHILD_SAYS):
        assert NEXT_ACTION[code] is NextAction.NONE


def test_reason_found_twice_is_given_once() -> None:
    held = scales()
    held.stop(Code.HOLD)
    held.stop(Code.HOLD)
    held.condition(Code.LAST_WORD)
    answer = held.answer()
    assert answer.stops == (Reason("p1", Code.HOLD),)
    assert answer.conditions == (Reason("p1", Code.LAST_WORD),)
    assert answer.result is Result.NOT_CLEARED


def test_press_is_ink_and_seen_everywhere_unless_on_paper_only() -> None:
    assert scales().is_ink and not scales().is_span
    assert scales().is_everywhere
    assert not scales(is_paper_only=True).is_everywhere


def test_caption_is_read_for_names_only_where_it_is_shown() -> None:
    assert scales().folded_texts() == ("etal", "", "au cafe")
    assert scales(shows_captions=False).folded_texts() == ("etal", "", "")


def test_earliest_day_to_look_again_is_kept() -> None:
    held = scales()
    assert held.look is None
    for day in (5, 3, 4):
        held.look_again(date(2027, 1, day))
    assert held.answer().look_again_on == date(2027, 1, 3)
