"""What is known of a person beside the web."""

import pytest

from relations.people.values import Risk, Standing
from relations.referrals.values import Known


@pytest.mark.parametrize(
    ("standing", "has_sat", "said_no"),
    [
        (Standing.SAID_NO, False, True),
        (Standing.NEVER_RING, False, True),
        (Standing.NEVER_RING, True, False),
        (Standing.PAUSE, False, False),
    ],
)
def test_who_said_no_before_any_sitting_said_no(
    standing: Standing, has_sat: bool, said_no: bool
) -> None:
    one = Known("01", "alder", standing, Risk.RAISED, has_sat=has_sat, has_print=False)
    assert one.said_no is said_no
