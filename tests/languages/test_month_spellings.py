"""Spellings that people type: one a month, and no month is left out."""

import pytest

from relations.languages.local_calendars import Calendar, months_in
from relations.languages.month_names import NAMES, folded
from relations.languages.month_spellings import TYPED


@pytest.mark.parametrize("calendar", Calendar)
def test_every_month_has_a_line(calendar):
    assert len(TYPED[calendar]) == months_in(calendar)
    assert all(line.split() for line in TYPED[calendar])


@pytest.mark.parametrize("calendar", Calendar)
def test_no_spelling_stands_for_two_months(calendar):
    claimed: dict[str, set[int]] = {}
    for number, typed in enumerate(TYPED[calendar], start=1):
        printed = [names[number - 1] for names in NAMES.get(calendar, {}).values()]
        for name in [*printed, *typed.split()]:
            claimed.setdefault(folded(name), set()).add(number)
    assert "" not in claimed
    assert not {name: months for name, months in claimed.items() if len(months) > 1}
