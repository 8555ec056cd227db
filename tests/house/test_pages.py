"""Every page, for every role, by GET and by POST, is answered as the table says."""

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from django.db import transaction
from django.test import Client

from relations.people.models import InSight, Participant, Why
from relations.privacy.home import today
from relations.privacy.models import Role, User
from tests.at_the_door import come_in
from tests.house.pages import PUBLIC, WHO, Page, line, pages, table

PAGES = pages()
ROWS = table()
TOKEN = re.compile(rb'name="csrfmiddlewaretoken" value="[^"]*"')
pytestmark = pytest.mark.django_db


def outcome(answer):
    """A status, or `in` where the answer leads to the sign-in page."""
    to_sign_in = answer.status_code == 302 and answer.headers["Location"].startswith("/in/")
    return "in" if to_sign_in else str(answer.status_code)


def answers(client: Client, page: Page, samples: dict[str, str]) -> str:
    """What a GET and then a POST of the form left empty get, as one cell of the table."""
    address = page.address(samples)
    seen = outcome(client.get(address))
    sent = outcome(client.post(address, {"press": ""}))  # a browser sends at least the press
    return f"{seen}/{sent}"


@contextmanager
def signed_in(who: str, *, is_sure: bool = True) -> Iterator[Client]:
    """A client of somebody in this role, with everybody in sight; all they did is undone after.

    `is_sure`: they have just given their password.
    """
    with transaction.atomic():
        client = Client()
        if who != "stranger":
            user = User.objects.create_user(f"the-{who}", None, role=Role(who), called=who)
            come_in(client, user, is_sure=is_sure)
            for person in Participant.objects.all():
                InSight.objects.create(person=person, user=user, day=today(), why=Why.RING)
        yield client
        transaction.set_rollback(True)


def test_table_holds_every_page_and_no_other():
    names = [page.name for page in PAGES]
    assert sorted(names) == sorted(ROWS), "give each new page a row in tests/house/pages.py"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_refuses_a_stranger(page):
    """By construction: it does not matter whether the table knows the page yet."""
    if page.name not in PUBLIC:
        with signed_in("stranger") as client:
            assert set(answers(client, page, {}).split("/")) <= {"in", "404"}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_is_guarded_by_roles_unless_it_is_public(page):
    assert (getattr(page.view, "roles", None) is None) == (page.name in PUBLIC)


def test_stop_hold_and_alarm_never_ask_the_password_again():
    """Nor does anything else that must be quick; what changes an account asks within 10 minutes."""
    quick = ("uses:stop", "people:hold", "pictures:hold", "people:never_ring", "rights:alarm")
    asking = {page.name: page.view.sure for page in PAGES if hasattr(page.view, "sure")}
    assert not [name for name in asking if name.startswith(quick)]
    assert set(asking.values()) == {10}
    for start in quick:
        assert [page for page in PAGES if page.name.startswith(start)]


@pytest.mark.parametrize(
    "page", [page for page in PAGES if hasattr(page.view, "sure")], ids=lambda page: page.name
)
def test_page_that_asks_the_password_again_opens_by_no_other_way(page, samples):
    for who in page.view.roles:
        with signed_in(who, is_sure=False) as client:
            for answer in (client.get(page.address(samples)), client.post(page.address(samples))):
                assert answer.status_code == 302
                assert answer.headers["Location"].startswith("/sure/?next=/")


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_answers_each_role_as_the_table_says(page, samples):
    row = {}
    for who in WHO:
        with signed_in(who) as client:
            row[who] = answers(client, page, samples)
    assert row == ROWS.get(page.name), f"the row is: {line(page.name, row)}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_role_a_page_is_not_open_to_gets_404_in_the_table(page):
    for who in set(Role.values) - set(getattr(page.view, "roles", Role.values)):
        assert ROWS[page.name][who] == "404/404"


def test_barred_page_says_the_same_as_an_absent_one():
    for page in PAGES:
        for who in set(Role.values) - set(getattr(page.view, "roles", Role.values)):
            with signed_in(who) as client:
                barred, absent = client.get(page.address({})), client.get("/no/such/page/")
            assert barred.status_code == absent.status_code == 404
            assert TOKEN.sub(b"", barred.content) == TOKEN.sub(b"", absent.content)
