"""A link opens one sheet for one venue by its phrase, and everything else is one answer."""

import json
from datetime import timedelta

import pytest
from django.contrib.sessions.backends.db import SessionStore
from django.http import Http404
from django.test import RequestFactory
from django.utils import timezone

from relations.pictures.models import PictureHold
from relations.privacy.models import AccessEntry, WrongTries
from relations.privacy.refused import Refused
from relations.uses import clearing, venue
from relations.uses.models import ClearanceSheet
from tests import cast
from tests.house.asking import watching
from tests.rows import make
from tests.uses import plans, sheets

pytestmark = pytest.mark.django_db
TODAY = plans.TODAY


@pytest.fixture
def sheet():
    return sheets.sheet(sheets.few(), "K01", "K03")


def made(sheet, ends_on=TODAY):
    return venue.make_link(sheet=sheet, ends_on=ends_on, by=plans.artist(), at=cast.moment())


@pytest.fixture
def link(sheet):
    return made(sheet)


def request(address="192.0.2.1"):
    asked = RequestFactory().post("/", REMOTE_ADDR=address)
    asked.session = SessionStore()
    return asked


def come_in(link, said=None, asked=None):
    return venue.come_in(asked or request(), link.token, link.phrase if said is None else said)


def refused(act, **given):
    with pytest.raises(Refused) as found:
        act(**given)
    return found.value.codes


def test_the_phrase_opens_the_sheet_in_a_session_of_its_own(sheet, link):
    asked = request()
    asked.session["older"] = "something"
    assert come_in(link, asked=asked) == sheet
    assert set(asked.session.keys()) == {venue.SESSION}
    assert venue.sheet_of(asked) == sheet
    assert AccessEntry.objects.filter(verb="opened", kind=clearing.KIND, key=sheet.pk).exists()


def test_a_phrase_may_be_typed_in_any_spacing_and_small_letters(link):
    said = link.phrase.lower().replace(" ", "-").replace("0", "o").replace("1", "l")
    assert come_in(link, said)


def test_only_digest_and_hash_of_a_link_are_kept(sheet, link):
    row = json.dumps(list(ClearanceSheet.objects.values()), default=str)
    assert link.token not in row
    assert link.phrase.replace(" ", "") not in row
    assert row.count("argon2id") == 1
    assert len(link.token) >= 43  # 256 bits in base 64
    assert len(link.phrase.replace(" ", "")) == 12


def test_two_links_have_nothing_in_common_and_the_newer_ends_the_older(sheet, link):
    asked = request()
    come_in(link, asked=asked)
    newer = made(ClearanceSheet.objects.get())
    assert newer.token != link.token
    assert newer.phrase != link.phrase
    assert come_in(link) is None
    assert come_in(newer) == sheet
    with pytest.raises(Http404):
        venue.sheet_of(asked)


@pytest.mark.parametrize("days", [-1, 146 + 1])
def test_a_link_ends_today_at_the_earliest_and_with_its_sheet_at_the_latest(sheet, days):
    assert sheet.valid_until == TODAY + timedelta(days=146)
    ends = TODAY + timedelta(days=days)
    given = {"sheet": sheet, "by": plans.artist(), "at": cast.moment()}
    assert refused(venue.make_link, ends_on=ends, **given) == ("link_day",)
    assert venue.make_link(ends_on=sheet.valid_until, **given)


def test_a_link_is_made_by_the_artist_and_only_of_an_open_sheet(sheet):
    given = {"sheet": sheet, "ends_on": TODAY, "at": cast.moment()}
    assert refused(venue.make_link, by=cast.assistant(), **given) == ("artist_only",)
    make(PictureHold, picture=plans.pictures("K01")[0])
    assert refused(venue.make_link, by=plans.artist(), **given) == ("sheet_not_open",)


def out_of_date(sheet):
    make(PictureHold, picture=plans.pictures("K01")[0])


def ended(sheet):
    clearing.end_sheet(sheet=sheet, by=plans.artist(), at=cast.moment())


def run_out(sheet):
    ClearanceSheet.objects.update(link_ends_on=TODAY - timedelta(days=1))


@pytest.mark.parametrize("happens", [out_of_date, ended, run_out])
def test_an_old_link_opens_nothing(sheet, link, happens):
    happens(ClearanceSheet.objects.get())
    assert come_in(link) is None


@pytest.mark.parametrize("happens", [ended, run_out])
def test_a_session_ends_with_its_link(link, happens):
    asked = request()
    come_in(link, asked=asked)
    happens(ClearanceSheet.objects.get())
    with pytest.raises(Http404):
        venue.sheet_of(asked)


def test_a_session_ends_after_eight_hours(link):
    asked = request()
    come_in(link, asked=asked)
    number, key, began = asked.session[venue.SESSION]
    asked.session[venue.SESSION] = [number, key, began - 8 * 3600]
    with pytest.raises(Http404):
        venue.sheet_of(asked)


def test_nobody_has_a_session_without_a_phrase():
    with pytest.raises(Http404):
        venue.sheet_of(request())


def test_a_replaced_sheet_still_opens_to_say_what_took_its_place(sheet, link):
    sheets.sheet(sheet.plan, "K01")
    assert come_in(link) == sheet


def test_five_wrong_phrases_from_one_address_are_held_off_for_a_while(sheet, link):
    for _ in range(5):
        assert come_in(link, "WRONG") is None
    assert come_in(link) is None
    assert come_in(link, asked=request("198.51.100.7")) == sheet
    for row in WrongTries.objects.all():
        row.held_until = row.held_until and timezone.now() - timedelta(seconds=1)
        row.save()
    assert come_in(link) == sheet
    noted = AccessEntry.objects.filter(kind=clearing.KIND, key=sheet.pk)
    verbs = list(noted.order_by("seq").values_list("verb", flat=True))
    assert verbs == ["made", "made_link", *["wrong_try"] * 5, "held_off", "opened", "opened"]


def test_twenty_wrong_phrases_from_anywhere_lock_the_link_for_good(sheet, link):
    ClearanceSheet.objects.update(wrong_phrases=venue.MOST_WRONG - 2)
    for number in range(2):
        assert come_in(link, "WRONG", request(f"192.0.2.{number}")) is None
    assert come_in(link, asked=request("198.51.100.7")) is None
    sheet.refresh_from_db()
    assert venue.is_locked(sheet)
    assert come_in(made(sheet), asked=request("198.51.100.8")) == sheet
    sheet.refresh_from_db()
    assert not venue.is_locked(sheet)


def test_the_right_phrase_starts_the_count_anew(sheet, link):
    for _ in range(3):
        come_in(link, "WRONG")
    assert come_in(link)
    sheet.refresh_from_db()
    assert sheet.wrong_phrases == 0
    assert not WrongTries.objects.exists()


def test_a_link_that_is_not_there_is_answered_by_the_same_work(link):
    shapes = []
    for token in (link.token, "nowhere"):
        with watching() as watch:
            assert venue.come_in(request(), token, "WRONG") is None
        shapes.append(watch.shape)
    assert shapes[0] == shapes[1]
