"""Every page, for every role, by every method, is answered as the table says."""

import re
from functools import cache
from http import HTTPStatus
from itertools import product

import pytest

from relations.privacy.models import Role, User
from tests.house.asking import Asker, Heard, Hearing, cell, faults, unguarded, unlisted
from tests.house.pages import METHODS, PUBLIC, WHO, in_turn, line, pages, read, table

PAGES = pages()
ROWS = table()
ASKING = [page for page in PAGES if hasattr(page.view, "sure")]
pytestmark = pytest.mark.django_db


def test_table_holds_every_page_and_no_other():
    assert not unlisted(PAGES, ROWS), "give each new page a row in tests/house/pages.py"


def test_page_is_guarded_by_roles_unless_it_is_public():
    assert not unguarded(PAGES)


@pytest.fixture(scope="module")
def hearing(askers, made_once):
    """What each page answered everybody, asked once for all tests of this module."""
    return Hearing(askers, made_once)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_answers_everybody_as_the_table_says(page, hearing):
    """Every cell, what it writes, and its headers; the methods of no cell by somebody in turn."""
    row = ROWS[page.name]
    no_faults(page, hearing, in_turn(page, row, PAGES.index(page)))


@pytest.mark.long
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_answers_everybody_alike_by_every_method(page, hearing):
    no_faults(page, hearing, None)


def no_faults(page, hearing, asked_by):
    row = ROWS[page.name]
    found = list(faults(hearing, page, row, asked_by))
    is_row = {who: cell(hearing, who, page) for who in WHO} if found else row
    assert not found, "\n".join([*found, f"the row is: {line(page.name, is_row)}"])


def test_in_turn_every_page_is_asked_by_every_method_and_everybody_by_each():
    asked = [in_turn(page, ROWS[page.name], at) for at, page in enumerate(PAGES)]
    assert all({method for _, method in one} == set(METHODS) for one in asked)
    assert set().union(*asked) == set(product(WHO, METHODS))


@pytest.mark.every_database
def test_every_page_opens_on_this_database(hearing):
    """What is asked of the rows by a page, and by its form sent empty, is asked here, too."""
    for page in PAGES:
        for method, at in (("GET", 0), ("POST", 1)):
            opens = [who for who in WHO if ROWS[page.name][who].split("/")[at] in ("200", "422")]
            for who in opens[:1]:
                outcome = hearing(who, method, page).outcome
                assert outcome == ROWS[page.name][who].split("/")[at], page.name


def test_every_page_says_that_it_is_in_english_to_whoever_chose_no_other(hearing):
    """As test_every_language.py asks it in the others."""
    found, seen = {}, 0
    for page, who in product(PAGES, WHO):
        for method in ("GET", "POST"):
            one = hearing(who, method, page)
            if one.outcome in ("200", "422") and one.opens:
                seen += 1
                is_so = one.opens.startswith(b'<!doctype html>\n<html lang="en" dir="ltr">')
                if not is_so or one.language != "en":
                    found[page.name, who, method] = one
    assert found == {}
    assert seen > len(PAGES)


@pytest.fixture(scope="module")
def sent(askers):
    """What a form gets that somebody sends to an address; one that stands on many pages, once."""
    return cache(lambda who, to: askers[who].ask("POST", to, {}).status)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_no_form_is_sent_to_a_page_that_is_only_looked_at(page, hearing, made_once, sent):
    """A form without an address of its own is sent to the page on which it stands."""
    address = page.address(made_once)
    for who in WHO:
        for form in hearing(who, "GET", page).forms:
            if b'method="post"' not in form:
                continue
            named = re.search(rb'action="([^"]+)"', form)
            to = named[1].decode() if named else address
            status = sent(who, to)
            assert status != HTTPStatus.METHOD_NOT_ALLOWED, f"{who}: {form!r}"


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
    with pytest.raises(ValueError, match="a:b: a page has one row"):
        read(2 * "a:b   in/in  200/405 404/404 404/404 404/404 404/404\n")


def test_barred_page_says_the_same_as_an_absent_one(askers, hearing):
    for who, asker in askers.items():
        absent = Heard.of(asker.ask("GET", "/no/such/page/"))
        for page in PAGES:
            if who in set(Role.values) - set(getattr(page.view, "roles", Role.values)):
                barred = hearing(who, "GET", page)
                assert (barred.outcome, barred.plain) == ("404", absent.plain), page.name
                assert barred.shape == absent.shape, page.name


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
        *("people:names", "people:mend_name", "people:show_names", "people:new_name"),
        *("consent:scan", "consent:boxes", "consent:read", "consent:settle"),
        *("consent:record", "consent:receipt", "consent:kept", "consent:loose_page"),
        *("referrals:introductions", "referrals:tables", "uses:sidecars_zip"),
        *("referrals:thanked", "referrals:asked_to_tell"),
        *("referrals:links", "referrals:links_of", "referrals:seal", "referrals:seal_all"),
        "referrals:questions",
        *("referrals:share", "referrals:share_drawing", "referrals:share_file"),
        "referrals:working_map",
        *("referrals:growth", "referrals:waves", "referrals:person"),
        *("referrals:names", "referrals:growth_pdf"),
        *("prints:places", "prints:names"),
        *("privacy:new_account", "privacy:change_role", "privacy:give_password"),
        *("privacy:let_go", "privacy:let_in", "privacy:lost_codes"),
        *("privacy:password", "privacy:code_device", "privacy:code_picture"),
        *("privacy:new_code_device", "privacy:new_paper"),
        *("rights:erase_whom", "uses:calendar", "uses:last_words_calendar", "uses:clearance_pdf"),
        *("meetings:calendar", "rights:counts", "rights:counts_pdf", "rights:request_file"),
        "prints:lab_files",
        *("rights:closing", "rights:begin_closing", "rights:call_off_closing"),
        *("rights:close_project", "rights:end_print"),
        *("rights:let_one_go", "rights:postpone"),
        *("rights:people_endings", "rights:end_for", "rights:end_alike"),
        *("rights:take_back_ending", "rights:looked_for"),
        *("rights:deposit", "rights:deposit_pdf"),
        *("rights:register", "rights:ask_register", "rights:confirm_register"),
        "rights:take_register",
        *("rights:handover", "rights:begin_handover", "rights:sign_handover"),
        *("rights:call_off_handover", "rights:handover_pdf", "uses:let_go_on"),
    }
    sent_only = {page.name for page in ASKING if page.view.sure_sent_only}
    assert sent_only == {
        *("people:list", "consent:wording", "uses:weigh"),
        *("uses:new_sheet", "uses:link"),
    }


@pytest.fixture(scope="module")
def unsure(made_once, django_db_blocker):
    """Those who gave their password long ago."""
    with django_db_blocker.unblock():
        return {who: Asker(who, is_sure=False, name="long-since") for who in Role.values}


@pytest.mark.parametrize("page", ASKING, ids=lambda page: page.name)
def test_page_that_asks_the_password_again_opens_by_no_other_way(page, unsure, made_once):
    for who in page.view.roles:
        if not page.view.sure_sent_only:
            looked = unsure[who].ask("GET", page.address(made_once))
            assert looked.answer.headers["Location"].startswith("/sure/?next=/")
        sent = unsure[who].ask("POST", page.address(made_once), {"typed": "kept"})
        assert (sent.status, b'name="sure-password"' in sent.answer.content) == (403, True)
        assert not sent.written


def test_whoever_must_choose_a_password_first_reaches_that_and_stop_hold_and_alarm(
    unsure, made_once
):
    first = {page.name for page in PAGES if getattr(page.view, "open_first", False)}
    assert first == {
        *("privacy:own", "privacy:password", "privacy:sure", "privacy:code_device"),
        *("privacy:new_code_device", "privacy:code_picture", "privacy:language"),
        *("uses:stop_whom", "uses:stop_unseen", "uses:stopped", "uses:stop", "uses:undo"),
        *("people:hold", "people:hold_by_code", "people:heard", "people:never_ring"),
        *("pictures:hold", "rights:alarm", "rights:raised", "rights:card"),
        # Among what waits there may be a stop whose day is asked for.
        *("today:waiting", "today:entry", "today:let_entry_go"),
    }
    for who, asker in unsure.items():
        for owed, leads in (("password", "/own/password/"), ("codes", "/own/")):
            _owe(asker.user, owed)
            for page in PAGES:
                if who in getattr(page.view, "roles", ()):
                    asked = asker.ask("GET", page.address(made_once))
                    led = asked.answer.headers.get("Location")
                    # Without a device being set up its page leads to one's own page anyway.
                    is_alike = (page.name, leads) == ("privacy:code_device", "/own/")
                    assert is_alike or (led == leads) == (page.name not in first), page.name


def _owe(user: User, what: str) -> None:
    user.must_choose_password, user.must_set_up_codes = what == "password", what == "codes"
    user.save()
