"""No answer to a hostile form takes over ten times what the same page takes with good input.

Every form with fields of words that is found on a page (`tests/house/hostile.py`) is sent as it
stands, then with each of them full of what is slow to read: without measure, for regular
expressions, for calendars, for what compares names. Processor seconds of the whole site, in one
run.
"""

import gc
import logging
import re
import time
from collections.abc import Iterator

import pytest
from django.conf import settings

from tests.house import hostile
from tests.house.asking import Asker
from tests.house.conftest import askers, made_once  # noqa: F401 - fixtures
from tests.house.pages import pages

pytestmark = [pytest.mark.django_db, pytest.mark.whole]
BAR = 10
# Below this a page is done before anybody could tell, whatever it is a multiple of.
FLOOR = 0.010
FULL = 2 * settings.DATA_UPLOAD_MAX_MEMORY_SIZE // 3  # of all fields: more is turned down unread
HEAVY = {
    "one letter": b"x",
    "figures": b"9",
    "lines": b"-",
    "words of a letter": b"a ",
    "days without end": b"1/",
    "digits of another script": "१".encode(),
    "accents without end": "\u0301".encode(),
    "joiners": "\u0646\u200c".encode(),
    "ligatures": "ﷺ".encode(),
    "numbers with words": b"06 39 98 00 07 or ",
    "markup": b"<b>&",
}


@pytest.fixture(scope="module")
def forms(askers, made_once, django_db_blocker) -> Iterator[list[hostile.Form]]:  # noqa: F811
    logging.disable()
    with django_db_blocker.unblock():
        found = hostile.found(askers, pages(), made_once, all_roles=False)
        yield [form for form in found if typed(form)]
    logging.disable(logging.NOTSET)


def seconds(asker: Asker, form: hostile.Form, pairs: hostile.Pairs) -> float:
    """Processor seconds of the answer alone; to write the form is the sender's work."""
    said = hostile.encoded(pairs) if form.method == "GET" else bare(pairs)
    gc.disable()  # when it runs is not this form's doing, and it costs as much as ten pages
    try:
        start = time.process_time()
        if form.method == "GET":
            asker.ask("GET", f"{form.address.partition('?')[0]}?{said.decode()}")
        else:
            asker.send(form.address, said, "application/x-www-form-urlencoded")
        return max(time.process_time() - start, 1e-9)
    finally:
        gc.enable()


def bare(pairs: hostile.Pairs) -> bytes:
    """A body with as few signs as can be for what it says: the most of it is read that can be."""
    signs = {b"%": b"%25", b"&": b"%26", b"+": b"%2B"}
    quoted = re.compile(b"[%&+]")
    return b"&".join(
        name + b"=" + quoted.sub(lambda found: signs[found[0]], value) for name, value in pairs
    )


def typed(form: hostile.Form) -> list[str]:
    """Its fields that words can be typed into."""
    return [name for name, kind in form.kinds.items() if kind not in hostile.NOT_GIVEN_BACK]


def as_it_stands(form: hostile.Form) -> hostile.Pairs:
    return [(name.encode(), one.encode()) for name, held in form.base.items() for one in held]


def full_of(form: hostile.Form, heavy: bytes) -> hostile.Pairs:
    """Every field that words can be typed into, full; the others as they stand."""
    fields = typed(form)
    most = (20_000 if form.method == "GET" else FULL) // len(fields)
    value = (heavy * (most // len(heavy) + 1))[:most]
    others = [pair for pair in as_it_stands(form) if pair[0].decode() not in fields]
    return [*others, *((name.encode(), value) for name in fields)]


def test_no_hostile_form_costs_ten_times_a_good_one(forms, askers, figure):  # noqa: F811
    slow: dict[str, float] = {}
    worst, where, sent = 0.0, "", 0
    for form in forms:
        asker = askers[form.roles[0]]
        good = as_it_stands(form)
        beside = max(min(seconds(asker, form, good) for _ in range(3)), FLOOR)
        for what, heavy in HEAVY.items():
            bad = full_of(form, heavy)
            took = seconds(asker, form, bad)
            sent += 1
            if took > BAR * beside:  # once may be the machine
                took = min(seconds(asker, form, bad) for _ in range(2))
            if took / beside > worst:
                worst, where = took / beside, f"{form.page}, {what}"
            if took > BAR * beside:
                slow[f"{hostile.shown(form)}, {what}"] = took / beside
    figure("hostile forms sent", sent)
    figure(f"the slowest hostile form beside a good one ({where})", worst, bar=f"<= {BAR}")
    assert slow == {}
