"""How many answers a second the weighing gives, beside a plain loop over the same cases."""

from pathlib import Path

import pytest

from relations.consent.rules import weigh
from tests.bench.timing import drain, side_by_side
from tests.consent import casefile

CASES = Path(__file__).resolve().parent.parent / "cases" / "clearing.json"
TIMES_OVER = 20


@pytest.fixture
def questions(monkeypatch):
    """What the rule is asked in each case of the file; reading it is not timed."""
    asked = []

    def kept(*values, **named):
        asked.append((values, named))
        return weigh(*values, **named)

    monkeypatch.setattr(casefile, "weigh", kept)
    for case in casefile.load(CASES):
        casefile.weigh_case(case)
    return asked * TIMES_OVER


def answer_all(questions):
    for values, named in questions:
        weigh(*values, **named)


def test_weighing_costs_by_the_number_of_cases_and_no_more(questions, figure):
    pair = side_by_side(lambda: answer_all(questions), lambda: drain(questions))
    figure("the rule, answers a second", len(questions) / pair.seconds, guide="20,000")
    figure("a plain loop over the same cases, rounds a second", len(questions) / pair.beside)
    few = questions[: len(questions) // 4]
    growth = side_by_side(lambda: answer_all(questions), lambda: answer_all(few))
    figure("all cases beside a quarter of them", growth.ratio, bar="3 to 5")
    assert 3 <= growth.ratio <= 5
