"""Forms that only a register at work shows: what waits for the lab, a round that is out.

test_hostile.py fills every form over one row of each table, where these have nothing to show.
"""

import pytest

from relations.privacy.models import Role
from tests.browser import everywhere
from tests.house import hostile
from tests.house.asking import Asker
from tests.house.pages import pages
from tests.house.test_hostile import FEW, MANY, fill

PAGES = {page.name: page for page in pages()}
# The form, and the page that shows it.
SHOWN = {
    "meetings:detail": "meetings:detail",
    "prints:lab": "prints:lab",
    "prints:round": "prints:round",
    "prints:slips": "prints:slips",
    "prints:typed": "prints:typed",
    "referrals:links": "referrals:links",
    "trips:pack": "trips:pack",
    "uses:link": "uses:clearance",
    "uses:new_sheet": "uses:new_sheet",
    "uses:word": "uses:clearance",
}
pytestmark = pytest.mark.django_db


@pytest.fixture
def shown(rehearsal) -> tuple[Asker, dict[str, str], list[hostile.Form]]:
    """The artist at a browser, with what stands in addresses, and these forms."""
    known = everywhere.samples(Role.ARTIST)
    asker = Asker("artist")
    found = {}
    for at in sorted(set(SHOWN.values())):
        address = PAGES[at].address(known)
        for form in hostile.on(asker.ask("GET", address), address):
            if form.page in SHOWN:
                found[form.page, frozenset(form.kinds)] = form
    return asker, known, list(found.values())


@pytest.mark.once
@pytest.mark.parametrize("times", [FEW, pytest.param(MANY, marks=pytest.mark.long)])
def test_form_of_a_register_at_work_is_refused_in_words_or_taken_whole(shown, times):
    asker, known, found = shown
    assert sorted({form.page for form in found}) == sorted(SHOWN)
    for form in found:
        fill(form, asker, sorted(set(known.values())), times)
