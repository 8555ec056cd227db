"""Why something comes down without a stop: worked by hand from F15 and the weighing's step 9."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from relations.consent.values import Form, Person, Use, Wish
from relations.people.values import Birth, Condition
from relations.uses.causes import Because, Cause, Seen, causes, lines

ROME = ZoneInfo("Europe/Rome")
AT = datetime(2026, 11, 23, 9, 0, tzinfo=ROME)
EVENT = date(2026, 11, 20)
FORM = Form(
    given_on=date(2026, 5, 20), sittings=frozenset({"s1"}), uses=frozenset({Use.EXHIBITION}),
    is_filed=True, is_read=True, is_complete=True,
)  # fmt: skip
WALL = Seen("exhibition", "s1", date(2026, 10, 1))


def somebody(condition: Condition = Condition.WELL, **form: object) -> Person:
    on = None if condition is Condition.WELL else EVENT
    return Person("12", condition=condition, condition_on=on, forms=(replace(FORM, **form),))


def why(person: Person, seen: Seen = WALL, at: datetime = AT) -> list[Because]:
    return [cause.because for cause in causes(person, seen, at=at)]


def test_of_somebody_well_with_an_open_form_nothing_comes_down() -> None:
    assert why(somebody()) == []


def test_a_hold_counts_from_the_hour_it_was_laid() -> None:
    held = replace(WALL, held_since=(AT - timedelta(hours=3),))
    assert causes(somebody(), held, at=AT) == (Cause(Because.HOLD, AT - timedelta(hours=3)),)


@pytest.mark.parametrize(
    ("condition", "wishes", "found"),
    [
        (Condition.CANNOT_ANSWER, {"if_cannot_answer": Wish.STOP}, [Because.AWAY]),
        (Condition.CANNOT_ANSWER, {"if_cannot_answer": Wish.ASK}, [Because.AWAY]),
        (Condition.CANNOT_ANSWER, {"if_cannot_answer": Wish.GO_ON}, []),
        (Condition.DIED, {"if_died": Wish.STOP}, [Because.DIED]),
        (Condition.DIED, {"if_died": Wish.ASK}, [Because.DIED]),
        (Condition.DIED, {"if_died": Wish.GO_ON}, []),
        # The wish for the other event says nothing of this one.
        (Condition.DIED, {"if_cannot_answer": Wish.GO_ON}, [Because.DIED]),
    ],
)
def test_the_wish_on_the_form_is_applied_as_written(condition, wishes, found) -> None:
    assert why(somebody(condition, **wishes)) == found


@pytest.mark.parametrize(
    ("said_on", "found"),
    [
        (EVENT - timedelta(1), [Because.AWAY]),
        (EVENT, []),
        (AT.date(), []),
        (AT.date() + timedelta(1), [Because.AWAY]),
    ],
)
def test_a_speakers_yes_counts_only_after_the_event(said_on, found) -> None:
    person = replace(somebody(Condition.CANNOT_ANSWER), speaker_yes={Use.EXHIBITION: said_on})
    assert why(person) == found


def test_a_speakers_yes_to_another_use_or_against_a_written_stop_counts_for_nothing() -> None:
    other = replace(somebody(Condition.CANNOT_ANSWER), speaker_yes={Use.WEB: EVENT})
    stop = replace(
        somebody(Condition.CANNOT_ANSWER, if_cannot_answer=Wish.STOP),
        speaker_yes={Use.EXHIBITION: EVENT},
    )
    assert why(other) == why(stop) == [Because.AWAY]


def test_a_form_that_does_not_stand_lets_nothing_go_on() -> None:
    assert why(somebody(Condition.CANNOT_ANSWER, if_cannot_answer=Wish.GO_ON, is_read=False)) == [
        Because.AWAY
    ]


def test_an_event_before_the_use_began_counts_from_its_first_day() -> None:
    (cause,) = causes(somebody(Condition.CANNOT_ANSWER), WALL, at=AT)
    assert cause.since == datetime(2026, 11, 20, tzinfo=ROME)
    late = replace(WALL, starts_on=date(2026, 11, 22))
    assert causes(somebody(Condition.CANNOT_ANSWER), late, at=AT)[0].since.date() == date(
        2026, 11, 22
    )
    nameless = replace(somebody(Condition.CANNOT_ANSWER), condition_on=None)
    assert causes(nameless, WALL, at=AT)[0].since.date() == WALL.starts_on


@pytest.mark.parametrize(
    ("last_day", "ends_on", "found"),
    [
        (date(2026, 12, 7), None, [Because.ENDS]),  # 14 days from now
        (date(2026, 12, 8), None, []),
        (date(2026, 11, 1), None, [Because.ENDS]),  # late
        (date(2026, 12, 1), date(2026, 12, 1), []),  # it ends by itself
        (date(2026, 12, 1), date(2026, 12, 2), [Because.ENDS]),
    ],
)
def test_a_last_day_is_on_the_list_two_weeks_before(last_day, ends_on, found) -> None:
    assert why(somebody(last_day=last_day), replace(WALL, ends_on=ends_on)) == found


def test_ink_printed_within_its_days_stays() -> None:
    assert why(somebody(last_day=date(2026, 11, 1)), Seen("book", "s1", date(2026, 6, 1))) == []


def test_a_childs_form_ends_on_the_eighteenth_birthday() -> None:
    child = replace(somebody(), birth=Birth(date(2008, 12, 1), date(2008, 12, 1)))
    assert causes(child, WALL, at=AT) == (
        Cause(Because.GROWN_UP, datetime(2026, 12, 1, tzinfo=ROME), by=date(2026, 12, 1)),
    )


def test_the_gravest_reason_comes_first() -> None:
    held = replace(WALL, held_since=(AT,))
    both = somebody(Condition.DIED, last_day=date(2026, 11, 25))
    assert why(both, held) == [Because.DIED, Because.HOLD, Because.ENDS]


def test_a_known_end_is_due_with_that_day_whatever_the_use() -> None:
    end = Cause(Because.ENDS, datetime(2026, 12, 1, tzinfo=ROME), by=date(2026, 12, 1))
    for use in ("exhibition", "web", "teaching", "archive"):
        first, *_rest = lines(replace(WALL, use=use), end, "ordinary")
        assert first.due_at == datetime(2026, 12, 1, 23, 59, 59, tzinfo=ROME), use


def test_an_arrest_asks_for_what_a_stop_asks_for() -> None:
    cause = Cause(Because.AWAY, AT)
    assert [line.code for line in lines(WALL, cause, None)] == ["cover", "copies_by_others"]
    assert lines(WALL, cause, "ordinary")[0].due_at.date() == date(2026, 11, 25)


def test_what_is_over_asks_for_nothing() -> None:
    over = replace(WALL, ends_on=date(2026, 10, 31))
    assert lines(over, Cause(Because.HOLD, AT), "raised") == ()
