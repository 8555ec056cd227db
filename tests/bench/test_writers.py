"""Eight writers under the site's settings, and beside them under those Django brings."""

import pytest

from tests.writers import PROCESSES, TURNS, write


@pytest.mark.whole
@pytest.mark.django_db
def test_many_writers_beside_the_default_settings(apart, figure) -> None:
    ours, default = write(apart, "site"), write(apart, "default")
    acts = PROCESSES * TURNS
    figure(f"writes refused of {acts}, eight writers", len(ours.faults), bar="0")
    figure("writes refused with Django's own settings", len(default.faults))
    figure("writes lost without a refusal", ours.calls - ours.counted, bar="0")
    figure("writes lost with Django's own settings", default.calls - default.counted)
    figure("writes a second, eight writers", ours.calls / ours.seconds)
    figure("writes a second with Django's own settings", default.calls / default.seconds)
    assert (ours.faults, ours.calls, ours.counted) == ([], acts, acts)
