"""Days of local calendars against Chromium's own: ICU, as its packagers built it."""

from datetime import date, timedelta

import pytest
from playwright.sync_api import Browser

from relations.languages.local_calendars import Calendar, to_local

FIRST, LAST = date(2000, 1, 1), date(2029, 8, 10)
# The years around ours, each kind of leap year among them; of two centuries `long` asks each day.
NEAR = date(1992, 1, 1), date(2033, 12, 31)
WHOLE = date(1900, 1, 1), date(2100, 12, 31)
DAYS_IN_THE_BROWSER = """
([first, count, calendar]) => {
  const form = new Intl.DateTimeFormat(`en-u-ca-${calendar}-nu-latn`, {
    timeZone: "UTC", day: "numeric", month: "numeric", year: "numeric"
  })
  if (form.resolvedOptions().calendar !== calendar) throw new Error("no such calendar")
  return Array.from({length: count}, (_, n) => {
    const parts = form.formatToParts(Date.parse(first) + n * 864e5)
    return ["year", "month", "day"].map(kind => +parts.find(part => part.type === kind).value)
  })
}
"""


def test_hijri_equals_the_browser_s_own_umm_al_qura_calendar_on_every_day(
    browser: Browser,
) -> None:
    """ICU's table is right from 2000 to 10 August 2029 and wrong after it (languages.md 1.3)."""
    count = (LAST - FIRST).days + 1
    page = browser.new_page()
    theirs = page.evaluate(DAYS_IN_THE_BROWSER, [FIRST.isoformat(), count, "islamic-umalqura"])
    page.close()
    assert len(theirs) == count == 10_815
    ours = [list(to_local(FIRST + timedelta(n), Calendar.HIJRI)[1:4]) for n in range(count)]
    assert [n for n in range(count) if ours[n] != theirs[n]] == []


@pytest.mark.parametrize(
    "calendar, theirs, first, last",
    [
        (Calendar.SOLAR_HIJRI, "persian", *NEAR),
        (Calendar.ETHIOPIAN, "ethiopic", *NEAR),
        (Calendar.BUDDHIST, "buddhist", *NEAR),
        pytest.param(Calendar.SOLAR_HIJRI, "persian", *WHOLE, marks=pytest.mark.long),
        pytest.param(Calendar.ETHIOPIAN, "ethiopic", *WHOLE, marks=pytest.mark.long),
        # Before 1941 Thai years began on 1 April (languages.md 1.4); ICU does not know that.
        pytest.param(
            *(Calendar.BUDDHIST, "buddhist", date(1941, 1, 1), WHOLE[1]), marks=pytest.mark.long
        ),
    ],
)
def test_counted_calendars_equal_those_of_the_browser_on_every_day(
    browser: Browser, calendar: Calendar, theirs: str, first: date, last: date
) -> None:
    count = (last - first).days + 1
    page = browser.new_page()
    found = page.evaluate(DAYS_IN_THE_BROWSER, [first.isoformat(), count, theirs])
    page.close()
    ours = [list(to_local(first + timedelta(n), calendar)[1:4]) for n in range(count)]
    assert len(found) == count
    assert [first + timedelta(n) for n in range(count) if ours[n] != found[n]] == []
