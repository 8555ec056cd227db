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
ASKING = [page for page in PAGES if hasattr(page.view, "sure")]
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
    asking = {page.name: page.view.sure for page in ASKING}
    assert not [name for name in asking if name.startswith(quick)]
    assert set(asking.values()) == {10}
    for start in quick:
        assert [page for page in PAGES if page.name.startswith(start)]


def test_password_is_asked_again_for_exports_unmasking_sign_off_and_accounts():
    """Not for one number or place: shown by a press that is logged, and limited by the day."""
    assert {page.name for page in ASKING if not page.view.sure_sent_only} == {
        *("people:names", "people:mend_name", "people:show_names"),
        *("consent:scan", "referrals:introductions"),
        *("privacy:new_account", "privacy:change_role", "privacy:give_password"),
        *("privacy:let_go", "privacy:let_in", "privacy:lost_codes"),
        *("privacy:password", "privacy:code_device", "privacy:code_picture"),
        *("privacy:new_code_device", "privacy:new_paper"),
    }
    sent_only = {page.name for page in ASKING if page.view.sure_sent_only}
    assert sent_only == {"people:list", "consent:wording", "uses:weigh"}


@pytest.mark.parametrize("page", ASKING, ids=lambda page: page.name)
def test_page_that_asks_the_password_again_opens_by_no_other_way(page, samples):
    for who in page.view.roles:
        with signed_in(who, is_sure=False) as client:
            if not page.view.sure_sent_only:
                looked = client.get(page.address(samples))
                assert looked.headers["Location"].startswith("/sure/?next=/")
            sent = client.post(page.address(samples), {"typed": "kept"})
            assert (sent.status_code, b'name="sure-password"' in sent.content) == (403, True)


def test_whoever_must_choose_a_password_first_reaches_that_and_stop_hold_and_alarm(samples):
    first = {page.name for page in PAGES if getattr(page.view, "open_first", False)}
    assert first == {
        *("privacy:own", "privacy:password", "privacy:sure", "privacy:code_device"),
        *("privacy:new_code_device", "privacy:code_picture"),
        *("uses:stop_whom", "uses:stop_unseen", "uses:stopped", "uses:stop", "uses:undo"),
        *("people:hold", "people:hold_by_code", "people:heard", "people:never_ring"),
        *("pictures:hold", "rights:alarm", "rights:raised"),
    }
    for who in Role.values:
        with signed_in(who) as client:
            for owed, leads in (("password", "/own/password/"), ("codes", "/own/")):
                _owe(who, owed)
                for page in PAGES:
                    if who in getattr(page.view, "roles", ()):
                        led = client.get(page.address(samples)).headers.get("Location")
                        # Without a device being set up its page leads to one's own page anyway.
                        is_alike = (page.name, leads) == ("privacy:code_device", "/own/")
                        assert is_alike or (led == leads) == (page.name not in first), page.name


def _owe(who: str, what: str) -> None:
    User.objects.filter(username=f"the-{who}").update(
        must_choose_password=what == "password", must_set_up_codes=what == "codes"
    )


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
