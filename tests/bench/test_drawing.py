"""The drawing beside bare formatting of as many elements, and what it weighs on the way."""

import gzip
import re
from datetime import date

import pytest

from relations.people.values import Risk, Standing
from relations.referrals import drawn_words as say
from relations.referrals.drawing import NAMES, Drawn, growth
from relations.referrals.facts import facts
from relations.referrals.svg import PAGE, Said, write
from relations.referrals.values import Known
from tests.bench.timing import side_by_side
from tests.referrals.grown import GROUPS, drawn

BAR = 7
KIB = 1024
# Of the whole named drawing, with all that is said of everybody aloud.
WEIGHS = {60: 10, 300: 30}


def said(plan: Drawn) -> Said:
    """The words of a page, made beforehand: they are the reader's language, not the drawing."""
    knew = {
        code: Known(
            code, one.community, Standing.TAKING_PART, Risk.ORDINARY, one.has_sat, one.has_print
        )
        for code, one in plan.people.items()
    }
    told = facts(plan, knew, {key: key.capitalize() for key in GROUPS})
    labels = {code: one.label for code, one in plan.people.items()}
    names = {one.code: say.aloud(one, lambda code: labels.get(code, code)) for one in told}
    return Said("Growth", say.desc(len(told)), names, strip=say.strip(), ticks=say.tick)


def bare(count: int) -> str:
    """As many elements, each with three numbers, and nothing thought."""
    return "".join(
        f'<path d="M{n * 0.7:.5g} {n * 1.3:.5g}H{n * 2.1:.5g}" stroke-width="1.2"/>'
        for n in range(count)
    )


@pytest.mark.parametrize("people", [60, 300, 10_000])
def test_a_drawing_costs_no_more_than_seven_times_bare_formatting(people, figure):
    plan = drawn(people, is_named=True)
    words = said(plan)
    elements = len(re.findall(r"<\w", write(growth(plan, NAMES), words, PAGE)))
    rounds = 3 if people > 1_000 else 20
    pair = side_by_side(
        lambda: write(growth(plan, NAMES), words, PAGE), lambda: bare(elements), rounds=rounds
    )
    figure(f"a drawing of {people:,} beside bare formatting", pair.ratio, bar=f"<= {BAR}")
    assert pair.ratio <= BAR


@pytest.mark.parametrize("people", WEIGHS)
def test_a_named_drawing_is_light_on_the_way(people, figure):
    plan = drawn(people, is_named=True)
    sent = len(gzip.compress(write(growth(plan, NAMES), said(plan), PAGE).encode()))
    figure(f"a named drawing of {people}, KiB", sent / KIB, bar=f"<= {WEIGHS[people]}")
    assert sent <= WEIGHS[people] * KIB


def test_time_stays_in_step_with_people(figure):
    many, few = drawn(10_000), drawn(300)
    pair = side_by_side(
        lambda: write(growth(many), said_of()), lambda: write(growth(few), said_of())
    )
    figure("a drawing of 10,000 beside one of 300", pair.ratio, bar="<= 60")
    assert pair.ratio <= 60


def said_of() -> Said:
    return Said("t", "d", ticks=lambda tick: f"{tick.on:%Y}" if tick.on > date.min else "")
