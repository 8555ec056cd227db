"""No role is answered more of the register than the table of fields allows, nor less."""

import itertools

import pytest

from relations.people.models import Introduction
from relations.people.values import Risk
from relations.prints.models import Print
from tests.house.asking import Asker
from tests.house.crawl import BRINGS_INTO_SIGHT, crawl, leaks
from tests.house.fields import CHANGED, ON_NO_PAGE, OPENED_AT, READERS, TABLE, read
from tests.house.isolating import loose
from tests.house.pages import pages
from tests.house.planted import PLANTED, TAIL, Planted, put
from tests.house.test_sealed import SEALED

ROWS = read(TABLE)
NUMBERS = itertools.count(1)
# One tells the hour, the other how many rows go: counts are what the keeper may read.
OF_ITS_OWN = {"privacy:clock", "rights:erase_whom"}
pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def planted(made_once, django_db_blocker):
    with django_db_blocker.unblock():
        return Planted(made_once)


@pytest.fixture(scope="module")
def asked(planted, django_db_blocker):
    """Somebody in each role, and all they were answered: who -> asker, answers."""
    with django_db_blocker.unblock():
        askers = {who: asking(who, planted) for who in READERS}
        return {who: (asker, list(crawl(asker, pages(), planted))) for who, asker in askers.items()}


@pytest.mark.long
def test_no_page_says_more_where_it_refuses_whatever_is_asked(planted):
    """What is refused whole is asked once for the tests below; here as often as all else."""
    askers = {who: asking(who, planted) for who in READERS}
    whole = {who: list(crawl(one, pages(), planted, is_whole=True)) for who, one in askers.items()}
    found = [told for row in ROWS for told in leaks(row, planted.needles[row.what], whole)]
    assert not found, "\n".join(found)


@pytest.fixture(scope="module")
def seen(asked):
    """All answers to each role: who -> answers."""
    return {who: answers for who, (_asker, answers) in asked.items()}


def asking(who, planted):
    """Somebody in this role who has not asked before; the assistant has both people in sight."""
    asker = Asker(who, name=f"asking-{next(NUMBERS)}")
    if who == "assistant":
        planted.put_in_sight(asker.user)
    return asker


def test_every_sealed_field_stands_in_the_table():
    assert SEALED - {row.field for row in ROWS} == set()


def test_only_what_is_on_no_page_is_read_by_nobody():
    unread = {row.field for row in ROWS if not set("Rr") & set("".join(row.cells.values()))}
    assert unread - {"privacy.CodeDevice.secret"} == ON_NO_PAGE
    assert {row.field for row in ROWS if "r" in row.cells.values()} == set(OPENED_AT)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.what)
def test_each_role_is_answered_what_the_table_says_and_no_more(row, planted, seen):
    found = list(leaks(row, planted.needles[row.what], seen))
    assert not found, "\n".join(found)


@pytest.mark.parametrize("who", READERS)
def test_every_planted_word_keeps_its_own_direction(who, planted, seen):
    words = [said.decode() + TAIL for said in planted.needles.values() if _is_word(said)]
    found = {
        f"{one.page}: {text}"
        for one in seen[who]
        if "html" in one.asked.answer.headers.get("Content-Type", "")
        and PLANTED in (body := b"".join(one.asked.answer))
        for text in loose(body.decode(), words)
    }
    assert not found, "\n".join(sorted(found))


def _is_word(said):
    return isinstance(said, bytes) and said.startswith(PLANTED)


def level(planted):
    put(planted.first, level=Risk.GRAVE)


def introducer(planted):
    told = Introduction.objects.get(person=planted.second)
    put(told, outside=None, introducer=planted.first)


def last_ring(planted):
    put(planted.calls[0], outcome="off")


def fourth_last_ring(planted):
    put(planted.calls[3], outcome="off")


def uses(planted):
    put(planted.settled, uses=["book"])


def print_state(planted):
    put(Print.objects.get(person=planted.first), state="asked_how")


CHANGES = {
    "people.Participant.level": level,
    "people.Introduction.introducer": introducer,
    "meetings.Call.outcome, the last one": last_ring,
    "meetings.Call.outcome, the fourth last": fourth_last_ring,
    "consent.Form.uses": uses,
    "prints.Print.state": print_state,
}


@pytest.mark.parametrize("who", READERS[1:])
def test_no_byte_a_role_is_answered_depends_on_what_it_may_not_read(who, planted, asked):
    asker, answers = asked[who]
    before = looked(asker, answers)
    barred = [row.what for row in read(CHANGED) if row.cells[who] == "-"]
    assert len(barred) > 3
    for what in barred:
        CHANGES[what](planted)
    after = looked(asker, crawl(asker, pages(), planted, methods=("GET",)))
    assert before.keys() == after.keys()
    assert [address for address in before if before[address] != after[address]] == []


@pytest.mark.parametrize("row", read(CHANGED), ids=lambda row: row.what)
@pytest.mark.parametrize("who", READERS[:2])
def test_pages_of_whoever_may_read_it_do_change_with_it(row, who, planted):
    """Else the test above could not fail."""
    asker = asking(who, planted)
    before = whole_pages(asker, planted)
    CHANGES[row.what](planted)
    assert (whole_pages(asker, planted) != before) == (row.cells[who] == "R")


def whole_pages(asker, planted):
    people = (planted.first, planted.second)
    pages = [asker.ask("GET", f"/person/{person.code}/") for person in people]
    return [page.plain for page in pages if page.status == 200]


def looked(asker, answers):
    """What each page said when it was opened, but for papers, and what brings into sight."""
    left_out = {page for page, who in BRINGS_INTO_SIGHT if who == asker.who} | OF_ITS_OWN
    return {
        one.address: one.asked.plain
        for one in answers
        if one.method == "GET" and one.page not in left_out and not one.is_paper
    }
