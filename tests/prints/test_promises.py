"""How a promise ends that is not kept."""

from datetime import date, timedelta

import pytest

from relations.prints.promises import Otherwise, may_end

MADE = date(2026, 5, 20)


@pytest.mark.parametrize(
    ("how", "on", "why", "has_ended", "codes"),
    [
        (Otherwise.LET_OFF, MADE, "", False, ()),
        (Otherwise.COULD_NOT, MADE, "the book was never printed", False, ()),
        (Otherwise.COULD_NOT, MADE, "  ", False, ("why",)),
        (Otherwise.LET_OFF, MADE - timedelta(1), "", False, ("ended_before",)),
        (Otherwise.LET_OFF, MADE, "", True, ("ended_already",)),
        (
            Otherwise.COULD_NOT,
            MADE - timedelta(1),
            "",
            True,
            ("ended_already", "ended_before", "why"),
        ),
    ],
)
def test_what_stands_against_an_ending_is_said_in_full(how, on, why, has_ended, codes) -> None:
    assert may_end(how, promised_on=MADE, on=on, why=why, has_ended=has_ended) == codes
