"""The deposit list on its page and on paper, for the artist, with the password."""

import time
from datetime import date

import pytest
from django.urls import reverse

from relations.privacy.ending import SURE_AT
from relations.rights import deposited
from relations.rights.deposit import Entry, Level
from relations.rights.deposited import Deposit
from tests import cast

pytestmark = pytest.mark.django_db
PAGE, PAPER = "rights:deposit", "rights:deposit_pdf"
LINES = [Entry("K01", Level.OPEN), Entry("K02", Level.CLOSED_UNTIL, date(2040, 1, 1))]


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def two_lines(monkeypatch):
    def found(on, countries):
        return Deposit(on, tuple(countries or ()), LINES, None)

    monkeypatch.setattr(deposited, "deposit", found)


@pytest.mark.usefixtures("two_lines")
def test_page_says_each_level_with_its_day_and_the_forms_apart(artist):
    page = artist.get(reverse(PAGE), {"countries": "FR"}).content.decode()
    for word in ("K01", "open to readers", "K02", "closed until that day", "1 January 2040"):
        assert word in page
    assert "Forms, sealed and apart: fewer than 5." in page


@pytest.mark.usefixtures("two_lines")
def test_paper_is_a_pdf(artist):
    answer = artist.get(reverse(PAPER), {"countries": "FR"})
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


@pytest.mark.parametrize("page", [PAGE, PAPER])
def test_a_country_that_is_none_is_said_in_words(artist, page):
    answer = artist.get(reverse(page), {"countries": "XX"})
    assert answer.status_code == 422
    assert "No country has the letters XX." in answer.content.decode()


def test_nothing_may_go_is_said_so(artist):
    assert "No picture may go to an archive there." in artist.get(reverse(PAGE)).content.decode()


def test_password_is_asked_again_and_nobody_else_finds_it(artist, client):
    session = artist.session
    session[SURE_AT] = time.time() - 3600
    session.save()
    assert artist.get(reverse(PAGE)).status_code == 302
    cast.signed_in(client, cast.keeper())
    assert client.get(reverse(PAGE)).status_code == 404
