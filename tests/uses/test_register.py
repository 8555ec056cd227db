"""The page of one use: what became of it, who held it before, what of it must come down."""

from datetime import date
from uuid import uuid4

import pytest

from relations.people import actions as people
from relations.people.models import Participant
from relations.privacy.models import Mending
from relations.privacy.refused import Refused
from relations.uses import register
from tests import cast
from tests.consent.register import AT
from tests.uses import plans

pytestmark = pytest.mark.django_db
SAID = {"place": "union hall", "ends_on": None, "press_day": None, "copies": None}


@pytest.fixture(autouse=True)
def scenario():
    plans.demo()


def mend(shown, by=None, **said):
    whole = {**SAID, "holder": "the hall’s keeper", "reach_holder": "", **said}
    return register.mend_shown(shown=shown, by=by or plans.artist(), at=AT, **whole)


def test_an_end_copies_and_a_new_holder_are_kept_and_the_old_holder_stays_readable():
    shown = plans.shown("U1", "exhibition", "K12")
    mend(
        shown, ends_on=date(2026, 11, 30), copies=40, holder="The town", reach_holder="at the desk"
    )
    shown.refresh_from_db()
    assert (shown.ends_on, shown.copies, shown.holder) == (date(2026, 11, 30), 40, "The town")
    assert shown.reach_holder == "at the desk"
    assert register.held_before(shown) == [(AT, "the hall’s keeper")]


def test_nothing_new_writes_nothing():
    shown = plans.shown("U1", "exhibition", "K12")
    mend(shown)
    assert not Mending.objects.exists()
    mend(shown, copies=3)
    assert register.held_before(shown) == []


@pytest.mark.parametrize(
    ("said", "code"),
    [({"holder": "  "}, "no_holder"), ({"ends_on": date(2026, 9, 30)}, "ends_before")],
)
def test_a_use_without_holder_or_with_an_end_before_its_start_is_refused(said, code):
    with pytest.raises(Refused, match=code):
        mend(plans.shown("U1", "exhibition", "K12"), **said)


def test_only_the_artist_mends():
    with pytest.raises(Refused, match="artist_only"):
        mend(plans.shown("U1", "exhibition", "K12"), by=cast.assistant())


def test_the_page_says_who_holds_it_and_what_must_come_down(client):
    plans.shown("U1", "web", "K12", reach_holder="by the side door")
    artist = cast.signed_in(client, plans.artist())
    page = artist.get("/uses/shown/u1/").content.decode()
    assert "by the side door" in page
    assert "Nothing of it waits to come down." in page
    people.hold(person=Participant.objects.get(code="12"), by=plans.artist(), at=AT)
    page = artist.get("/uses/shown/U1/").content.decode()
    assert "Take it down from the site or the page." in page
    assert "A hold lies here." in page
    assert "1 picture must come down" in artist.get("/uses/shown/").content.decode()


def test_a_press_mends_and_an_empty_holder_comes_back(client):
    plans.shown("U1", "web", "K12")
    artist = cast.signed_in(client, plans.artist())
    said = {"token": str(uuid4()), "place": "Our page", "holder": ""}
    assert artist.post("/uses/shown/U1/", said).status_code == 422
    answer = artist.post("/uses/shown/U1/", {**said, "holder": "Ines"}, follow=True)
    page = " ".join(answer.content.decode().split())
    assert "Held before by" in page
    assert "Whoever held the files before may still have them" in page


def test_no_use_has_this_code(client):
    artist = cast.signed_in(client, plans.artist())
    assert artist.get("/uses/shown/U99/").status_code == 404
