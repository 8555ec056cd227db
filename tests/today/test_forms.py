"""What a page asks of each line of a day sheet, and which lines say enough to be stored."""

from datetime import date, time
from uuid import UUID, uuid4

import pytest

from relations.consent import team
from relations.meetings.models import DayLine
from relations.meetings.values import Work
from relations.people.models import Participant
from relations.prints.rules import MOVES, PrintState
from relations.privacy.refused import Refused
from relations.today.forms import TypeInForm
from relations.today.words import BOXES, OF_LINES, REFUSED, why_not
from tests import cast
from tests.today.test_actions import a_print

pytestmark = pytest.mark.django_db


def lines() -> list[DayLine]:
    who = Participant(code="19")
    works = (Work.STOP, Work.MEETING, Work.DOOR, Work.RING)
    return [
        DayLine(number=number, work=work, person=None if work == Work.STOP else who)
        for number, work in enumerate(works, start=1)
    ]


def form(data: dict[str, str] | None = None, **rest: object) -> TypeInForm:
    sent = None if data is None else {"token": str(uuid4()), "on": "2026-11-23", **data}
    kept = {"lines": lines(), "prints": {}, "day": cast.TODAY, **rest}
    return TypeInForm(sent, **kept)


def test_each_line_asks_what_its_paper_has_room_for() -> None:
    fields = set(form().fields) - {"on", "token"}
    assert fields == {
        "code_1", "came_1", "hour_1", "came_2", "hour_2", "came_3",
        "came_4", "hour_4", "named_on_4", "named_at_4",
    }  # fmt: skip


def test_choices_bear_the_letters_of_the_paper_in_its_order() -> None:
    for number, work in enumerate(Work, start=1):
        offered = form().fields[f"came_{number}"].choices[1:]
        assert [(words[0], code) for code, words in offered] == team.lettered(work)


def test_boxes_of_a_doorstep_are_where_a_print_on_a_round_may_go() -> None:
    assert set(team.DAY_BOXES[Work.DOOR]) == set(MOVES[PrintState.OUT_ON_A_ROUND])


def test_every_box_has_its_words() -> None:
    for work, codes in team.DAY_BOXES.items():
        assert all(BOXES[work][code] for code in codes)


def test_line_is_headed_by_its_number_its_work_and_codes_only() -> None:
    row = a_print(cast.lucas(), "out_on_a_round", is_safe=True)
    held = [DayLine(number=3, work="door", person=row.person, about=row.pk)]
    (day, door) = form(lines=held, prints={row.pk: row}).groups()
    assert day == "on"
    assert door.legend == "3 · Doorstep · 40 · K40"
    assert form(lines=[*held], prints={UUID(int=1): row}).groups()[1].legend == "3 · Doorstep · 40"


def test_lines_that_are_empty_wait_and_what_says_enough_is_given() -> None:
    typed = form({"came_4": "ring_later", "hour_4": "10:40", "named_on_4": "2026-11-25",
                  "named_at_4": "11:00"})  # fmt: skip
    assert typed.is_valid()
    ((line, written),) = typed.good_lines()
    assert (line.number, written.came, written.at) == (
        4,
        "ring_later",
        cast.moment(hour=10, minute=40),
    )
    assert (written.named_on, written.named_at) == (date(2026, 11, 25), time(11))


def test_nothing_is_given_while_the_day_is_wrong() -> None:
    typed = form({"came_4": "off", "hour_4": "10:40", "on": "32.13.2026"})
    assert not typed.is_valid()
    assert typed.good_lines() == []


def test_stop_is_given_with_whose_it_is() -> None:
    cast.danuta()
    typed = form({"came_1": "hold", "code_1": "12"})
    assert typed.is_valid()
    assert typed.good_lines()[0][1].whose == cast.danuta()


def test_stored_line_is_asked_no_more_and_a_refused_one_says_why() -> None:
    typed = form({"came_2": "held", "came_3": "in_hand"})
    assert typed.is_valid()
    typed.tell([2], {3: Refused("moved_meanwhile")})
    assert "came_2" not in typed.fields
    assert list(typed.typed) == [2]
    assert typed.errors["came_3"][0].startswith("Line 3: Somebody noted a step")


def test_code_without_words_is_no_silent_refusal() -> None:
    assert why_not(Work.RING, "typed_already") == OF_LINES["typed_already"]
    assert why_not(Work.MEETING, "not_yet") == REFUSED[Work.MEETING]["not_yet"]
    with pytest.raises(KeyError):
        why_not(Work.STOP, "no such code")
