"""A clock that is behind is found before a wrong day is kept; a no is heard at any hour."""

from datetime import timedelta

import pytest
from django.utils import timezone

from relations.privacy import clock, log
from relations.privacy.models import AccessEntry, Role, User
from tests import cast
from tests.at_the_door import come_in
from tests.house.pages import pages

pytestmark = pytest.mark.django_db
NOW = timezone.now
CLOCK = "/clock/"


@pytest.fixture(autouse=True)
def forget(monkeypatch, tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    monkeypatch.setattr(clock._Seen, "moment", None)


@pytest.fixture
def set_clock(monkeypatch):
    """Set this computer's clock by so much."""

    def by(**much):
        monkeypatch.setattr(timezone, "now", lambda: NOW() + timedelta(**much))

    return by


@pytest.fixture
def mara(client):
    log.note(None, "read", "people.phone", None)
    user = User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
    come_in(client, user)
    return user


def promise(client, person):
    said = {"code": person.code, "kind": "invitation", "on": "2026-11-20", "others_may_see": ""}
    page = client.get("/prints/promises/new/")
    return client.post(
        "/prints/promises/new/", {**said, "token": page.context["form"]["token"].value()}
    )


def test_clock_that_goes_on_is_not_behind(mara, set_clock):
    assert clock.behind() is None
    set_clock(hours=1)
    assert clock.behind() is None


@pytest.mark.parametrize(("much", "is_behind"), [({"minutes": -4}, False), ({"minutes": -6}, True)])
def test_five_minutes_behind_are_no_matter(mara, set_clock, much, is_behind):
    set_clock(**much)
    assert (clock.behind() == AccessEntry.objects.get().at) == is_behind


def test_home_without_a_line_knows_when_its_tables_were_made(set_clock):
    set_clock(days=-3)
    assert abs(clock.behind() - NOW()) < timedelta(days=1)


def test_home_without_anything_knows_nothing(set_clock, monkeypatch):
    monkeypatch.setattr(clock, "last_known", lambda: None)
    set_clock(days=-3)
    assert clock.behind() is None


def test_clock_that_goes_back_while_the_site_runs_is_found(mara, set_clock):
    set_clock(days=1)
    assert clock.behind() is None
    set_clock(days=-1)
    assert clock.behind() == AccessEntry.objects.get().at


def test_clock_that_was_ahead_without_writing_anything_is_forgiven(mara, set_clock):
    set_clock(days=100)
    assert clock.behind() is None
    set_clock(days=0)
    assert clock.behind() is None


def test_while_it_is_asked_again_and_again_the_register_is_asked_once(
    mara, django_assert_num_queries
):
    clock.behind()
    with django_assert_num_queries(0):
        for _ in range(3):
            clock.behind()


def test_nothing_dated_is_taken_in_and_what_was_typed_comes_back(client, mara, set_clock):
    person = cast.marcel()
    set_clock(days=-2)
    answer = promise(client, person)
    assert answer.status_code == 503
    assert "This computer’s clock says" in answer.text
    assert 'name="code" value="01"' in answer.text
    assert "2026-11-20" in answer.text
    assert not person.promises.exists()
    set_clock(days=0)
    come_in(client, mara)  # whose session ended two days ago, by the clock as it was
    assert promise(client, person).status_code == 302
    assert person.promises.count() == 1


def test_a_hold_is_heard_whatever_the_clock_says(client, mara, set_clock):
    person = cast.marcel()
    set_clock(days=-2)
    page = client.get("/people/01/hold/")
    token = page.context["form"]["token"].value()
    answer = client.post("/people/01/hold/", {"token": token, "next_look_on": "2026-11-30"})
    assert answer.status_code == 302, answer.text
    assert person.holds.count() == 1


def test_pages_at_any_hour_are_pages(client):
    assert {page.name for page in pages()} >= clock.AT_ANY_HOUR


def test_everybody_is_told_at_the_door(client, set_clock):
    log.note(None, "read", "people.phone", None)
    User.objects.create_user("loic", "a boat, a lamp, a wall", role=Role.ASSISTANT, called="Loïc")
    set_clock(days=-2)
    said = {"username": "loic", "password": "a boat, a lamp, a wall"}
    answer = client.post("/in/", said)
    assert (answer.status_code, answer.headers["Location"]) == (302, CLOCK)
    page = client.get(CLOCK)
    assert "The last entry here" in page.text or "the last entry here" in page.text
    assert "The clock is right" not in page.text
    assert client.post(CLOCK).status_code == 404


@pytest.mark.parametrize("role", [Role.ARTIST, Role.KEEPER])
def test_artist_or_keeper_says_that_it_was_ahead_before(client, mara, set_clock, role):
    user = User.objects.create_user("aude", None, role=role, called="Aude")
    set_clock(days=400)
    log.note(None, "read", "people.phone", None)
    set_clock(days=0)
    come_in(client, user)
    assert "The clock is right" in client.get(CLOCK).text
    assert client.post(CLOCK).status_code == 302
    entry = AccessEntry.objects.order_by("seq").last()
    assert (entry.verb, entry.by) == ("clock_is_right", user.pk)
    assert clock.behind() is None
    assert "It is not behind" in client.get(CLOCK).text
    set_clock(days=-2)
    assert clock.behind() == entry.at


def test_a_press_where_nothing_is_wrong_leaves_no_line(client, mara):
    assert client.post(CLOCK).status_code == 302
    assert AccessEntry.objects.filter(verb="clock_is_right").count() == 0
