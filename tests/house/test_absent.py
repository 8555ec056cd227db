"""What is not there and what is not yours are answered alike: word for word, by the same work.

The work is told by the statements that reach the database, without their values: a clock would
tell a slow machine from a fast one instead. `tests/bench/test_absent.py` measures the time too.
"""

import pytest

from relations.privacy import clock
from tests.house.pages import ANY, pages, table

PAGES = {page.name: page for page in pages()}
# Pages about one row: the assistant who has nobody in sight is told that it is not there.
NOT_YOURS = [
    name
    for name, row in table().items()
    if PAGES[name].parameters and "404" in row["unseen"] and row["assistant"] != row["unseen"]
]
NO_SUCH = {"code": "ZZZZZ", "person": "ZZZZZ", "picture": "ZZZZZ", "serial": "00000-00"}
pytestmark = pytest.mark.django_db


def absent(page):
    """The address of a row that is not there."""
    room = page.name.split(":")[0]
    kinds = dict(page.parameters)
    return page.address(
        {name: NO_SUCH.get(name, ANY[kinds[name]]) for name in kinds} | {f"{room}:to": "asked_how"}
    )


def test_pages_about_somebody_are_among_those_asked():
    rooms = {name.split(":")[0] for name in NOT_YOURS}
    assert {"today", "people", "meetings", "pictures", "prints", "uses"} <= rooms
    assert len(NOT_YOURS) > 30


@pytest.mark.parametrize("name", NOT_YOURS)
@pytest.mark.parametrize("method", ["GET", "HEAD", "POST"])
def test_absent_and_not_yours_are_the_same_answer_by_the_same_work(name, method, askers, made_once):
    page, asker = PAGES[name], askers["unseen"]
    clock.behind()  # asks the register once in a process
    theirs = asker.ask(method, page.address(made_once))
    nobody = asker.ask(method, absent(page))
    assert (theirs.status, theirs.plain) == (nobody.status, nobody.plain)
    assert dict(theirs.answer.headers) == dict(nobody.answer.headers)
    assert theirs.shape == nobody.shape


def test_the_work_of_an_answer_is_told_apart_where_it_differs(askers, made_once):
    """Else the test above could not fail: somebody in sight takes more statements than nobody."""
    page, asker = PAGES["today:person"], askers["assistant"]
    assert asker.ask("GET", page.address(made_once)).shape != asker.ask("GET", absent(page)).shape
