"""All 22 states and 44 moves of a print are reached by the pages; every other move is refused.

Source of the model: job.md 2. The three moves that close a print out belong to the closing of the
project: the page of a step refuses them, whatever is said with it.
"""

from datetime import timedelta
from itertools import pairwise
from uuid import uuid4

import pytest

from relations.prints import actions
from relations.prints.models import Print, Step
from relations.prints.rules import MOVES, SILENT, WAIT_DAYS, PrintState
from tests import cast
from tests.cast import days
from tests.prints.frames import made

pytestmark = pytest.mark.django_db
S = PrintState
CLOSES = S.CLOSED_OUT
# What may be said with any step, all of it.
SAID = {
    "is_safe": "yes",
    "into_whose_hand": "their own",
    "answer": "print",
    "box": "B12",
    **dict.fromkeys(("tracked", "plain_cover", "post_asked_for"), "on"),
    **dict.fromkeys(("word_from_sitter", "sat_again"), "on"),
    "reason": "a mark across the sheet",
}
TO_THE_LAB = (S.OWED, S.ASKED_HOW, S.FILE_READY, S.ORDERED, S.AT_THE_LAB)
CHECKED = (*TO_THE_LAB, S.COLLECTED, S.CHECKED)
OUT = (*CHECKED, S.OUT_ON_A_ROUND)
# Ways from owed on that together take every move of the model.
WAYS = (
    (*OUT, S.IN_HAND, S.ACKNOWLEDGED),
    (*OUT, S.IN_HAND, S.RETURNED_BY_THEM, S.DECLINED),
    (*OUT, S.IN_HAND, S.RETURNED_BY_THEM, S.KEPT_FOR_THEM, CLOSES),
    (*OUT, S.HANDED_ON, S.ACKNOWLEDGED),
    (*OUT, S.HANDED_ON, S.LOOKING_FOR_A_WAY, S.KEPT_FOR_THEM, S.ASKED_HOW, S.KEPT_FOR_THEM),
    (*OUT, S.NOT_HOME, S.OUT_ON_A_ROUND, S.NOT_HOME, S.LOOKING_FOR_A_WAY, S.OUT_ON_A_ROUND),
    (*OUT, S.NOT_SAFE, S.KEPT_FOR_THEM, S.OUT_ON_A_ROUND, S.LOST, S.ORDERED),
    (*OUT, S.LOST, CLOSES),
    (*CHECKED, S.POSTED, S.IN_HAND, S.FAULTY, S.ORDERED),
    (*CHECKED, S.POSTED, S.LOOKING_FOR_A_WAY, S.POSTED, S.LOST),
    (*CHECKED, S.POSTED, S.LOOKING_FOR_A_WAY, S.HANDED_ON),
    (*CHECKED, S.KEPT_FOR_THEM),
    (*TO_THE_LAB, S.LOST),
    (*TO_THE_LAB, S.COLLECTED, S.FAULTY),
    (S.OWED, S.NOTHING_TO_PRINT, S.OWED, S.ASKED_HOW, S.DECLINED),
    (S.OWED, S.NOTHING_TO_PRINT, CLOSES),
)


@pytest.fixture
def hand(client):
    cast.in_sight(cast.danuta(), cast.assistant())
    return cast.signed_in(client, cast.assistant())


def press(hand, row, to, on):
    """Send the page of a step with everything that can be said with one."""
    said = {**SAID, "was": row.state, "on": on.isoformat(), "token": str(uuid4())}
    return hand.post(f"/prints/12/K12/{to}/", said)


def close(row, on):
    """What the closing of the project does: no page of a print begins it."""
    actions.step(
        print=row, to=CLOSES, on=on, by=cast.artist(), at=cast.moment(), is_closing=True,
        is_decided=True, ending="archive", apology_given=True,
    )  # fmt: skip


def test_the_ways_below_take_every_move_and_reach_every_state():
    assert {move for way in WAYS for move in pairwise(way)} == {
        (old, new) for old, news in MOVES.items() for new in news
    }
    assert {state for way in WAYS for state in way} == set(S)
    assert (len(MOVES), sum(map(len, MOVES.values()))) == (22, 44)


@pytest.mark.parametrize("way", WAYS, ids=lambda way: "-".join(way[-3:]))
def test_each_way_is_walked_by_the_pages(hand, way):
    row = made(cast.danuta(), state_on=days(-300))
    on = row.state_on
    for old, new in pairwise(way):
        waits = old in SILENT and new is S.LOOKING_FOR_A_WAY
        on += timedelta(days=WAIT_DAYS if waits else 1)
        if new is CLOSES:
            assert press(hand, row, new, on).status_code == 422
            close(row, on)
        else:
            assert press(hand, row, new, on).status_code == 302, (old, new)
            row.refresh_from_db()
        assert (row.state, row.state_on) == (new, on)
    assert [one.became for one in row.steps.all()] == list(way)
    assert all(one.by == cast.assistant() for one in row.steps.all()[1:] if one.became != CLOSES)


@pytest.mark.parametrize("old", S)
def test_from_each_state_the_pages_refuse_every_move_that_is_not_of_the_model(hand, old):
    """All guards are met and all is said: what is refused is refused by the model alone."""
    row = made(cast.danuta(), state=old, state_on=days(-40), is_safe=True, closed_how="archive")
    refused = set(S) - set(MOVES[old]) | {CLOSES}
    for new in refused:
        answer = press(hand, row, new, days(0))
        assert answer.status_code == 422, (old, new)
        assert answer.context["form"].errors
    assert Step.objects.count() == 1
    assert Print.objects.get().state == old


@pytest.mark.parametrize(
    ("old", "new", "without", "words"),
    [
        (S.CHECKED, S.OUT_ON_A_ROUND, "is_safe", "No safe way was agreed."),
        (S.CHECKED, S.POSTED, "tracked", "only where the post follows it"),
        (S.CHECKED, S.POSTED, "plain_cover", "only in a plain cover"),
        (S.CHECKED, S.POSTED, "post_asked_for", "only if they asked for that"),
        (S.HANDED_ON, S.ACKNOWLEDGED, "word_from_sitter", "This needs word from the sitter."),
        (S.NOTHING_TO_PRINT, S.OWED, "sat_again", "only when they have sat again"),
        (S.COLLECTED, S.FAULTY, "reason", "This field is required."),
        (S.AT_THE_LAB, S.LOST, "reason", "This field is required."),
        (S.OWED, S.NOTHING_TO_PRINT, "reason", "This field is required."),
    ],
)
def test_a_step_that_needs_a_word_is_refused_without_it(hand, old, new, without, words):
    row = made(cast.danuta(), state=old, state_on=days(-40))
    said = {name: said for name, said in SAID.items() if name != without}
    said |= {"was": old, "on": days(0).isoformat(), "token": str(uuid4())}
    answer = hand.post(f"/prints/12/K12/{new}/", said)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    row.refresh_from_db()
    assert (row.state, row.steps.count()) == (old, 1)


def test_a_step_typed_three_days_later_keeps_the_day_of_the_event(hand):
    row = made(cast.danuta(), state="out_on_a_round", is_safe=True, state_on=days(-5))
    assert press(hand, row, "in_hand", days(-3)).status_code == 302
    row.refresh_from_db()
    step = row.steps.last()
    assert (row.state_on, step.on, step.noted_at.date()) == (days(-3), days(-3), days(0))
    page = hand.get("/prints/12/K12/").content.decode()
    assert "In their hands since 20 November 2026." in page
    assert "Loïc" in page


def test_the_same_post_twice_is_one_step(hand):
    made(cast.danuta(), state="ordered")
    said = {"was": "ordered", "on": "2026-11-23", "token": str(uuid4())}
    answers = [hand.post("/prints/12/K12/at_the_lab/", said) for _ in range(2)]
    assert [one.status_code for one in answers] == [302, 302]
    assert Step.objects.filter(became="at_the_lab").count() == 1
