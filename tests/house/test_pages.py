"""Every page, for every role, by every method, is answered as the table says."""

import pytest

from relations.privacy.models import Role
from tests.house.asking import Asker, cell, faults, unguarded, unlisted
from tests.house.pages import METHODS, PUBLIC, WHO, line, pages, read, table

PAGES = pages()
ROWS = table()
pytestmark = pytest.mark.django_db


def test_table_holds_every_page_and_no_other():
    assert not unlisted(PAGES, ROWS), "give each new page a row in tests/house/pages.py"


def test_page_is_guarded_by_roles_unless_it_is_public():
    assert not unguarded(PAGES)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_answers_everybody_as_the_table_says(page, askers, made_once):
    """Every cell is asked: each role by each method, what it writes, and its headers."""
    row = ROWS[page.name]
    found = list(faults(askers, page, row, made_once))
    is_row = {who: cell(askers[who], page, made_once) for who in WHO} if found else row
    assert not found, "\n".join([*found, f"the row is: {line(page.name, is_row)}"])


def test_table_is_as_wide_as_all_roles_and_asks_every_method_of_http():
    assert set(Role.values) <= set(WHO)
    # Source: RFC 9110, 9.1, and RFC 5789 for PATCH; CONNECT is for proxies and names no page.
    known = {"GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "TRACE", "PATCH"}
    assert {method.split()[0] for method in METHODS} == known


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_role_a_page_is_not_open_to_gets_404_in_the_table(page):
    for who in set(Role.values) - set(getattr(page.view, "roles", Role.values)):
        assert ROWS[page.name][who] == "404/404"
    if page.name not in PUBLIC:
        assert set(ROWS[page.name]["stranger"].split("/")) == {"in"}


def test_a_row_says_what_it_says_in_any_spacing():
    said = read("a:b   in/in  200/405 404/404 404/404 404/404 404/404\n")
    assert said["a:b"]["artist"] == "200/405"
    assert read(line("a:b", said["a:b"])) == said
    with pytest.raises(ValueError, match="a:b: a row has one cell for each of stranger"):
        read("a:b in/in 200/405")


def test_barred_page_says_the_same_as_an_absent_one(askers, made_once):
    for who, asker in askers.items():
        absent = asker.ask("GET", "/no/such/page/")
        for page in PAGES:
            if who in set(Role.values) - set(getattr(page.view, "roles", Role.values)):
                barred = asker.ask("GET", page.address(made_once))
                assert (barred.status, barred.plain) == (404, absent.plain), page.name
                assert barred.shape == absent.shape, page.name


def test_stop_hold_and_alarm_never_ask_the_password_again():
    """Nor does anything else that must be quick; what changes an account asks within 10 minutes."""
    quick = ("uses:stop", "people:hold", "pictures:hold", "people:never_ring", "rights:alarm")
    asking = {page.name: page.view.sure for page in PAGES if hasattr(page.view, "sure")}
    assert not [name for name in asking if name.startswith(quick)]
    assert set(asking.values()) == {10}
    for start in quick:
        assert [page for page in PAGES if page.name.startswith(start)]


@pytest.fixture(scope="module")
def unsure(made_once, django_db_blocker):
    """Those who gave their password long ago."""
    with django_db_blocker.unblock():
        return {who: Asker(who, is_sure=False, name="long-since") for who in Role.values}


@pytest.mark.parametrize(
    "page", [page for page in PAGES if hasattr(page.view, "sure")], ids=lambda page: page.name
)
def test_page_that_asks_the_password_again_opens_by_no_other_way(page, unsure, made_once):
    for who in page.view.roles:
        for method in ("GET", "POST"):
            asked = unsure[who].ask(method, page.address(made_once))
            assert asked.status == 302
            assert asked.answer.headers["Location"].startswith("/sure/?next=/")
            assert not asked.written
