"""The pages of prints: what is owed, the way of one print, and promises."""

from uuid import uuid4

import pytest

from relations.prints.models import Print, Promise
from tests import cast
from tests.cast import days
from tests.prints.frames import made, picture

pytestmark = pytest.mark.django_db


def post(client, url, **said):
    return client.post(url, {"token": str(uuid4()), **said})


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def hand(client):
    cast.in_sight(cast.danuta(), cast.assistant())
    return cast.signed_in(client, cast.assistant())


def test_the_artist_sees_the_counts_and_the_assistant_none(client):
    made(cast.danuta(), owed_since=days(-90))
    page = text(cast.signed_in(client, cast.artist()).get("/prints/"))
    assert "0 of 1 are acknowledged (0 %)." in page
    assert "1 is late" in page
    cast.in_sight(cast.danuta(), cast.assistant())
    page = text(cast.signed_in(client, cast.assistant()).get("/prints/"))
    assert "acknowledged (" not in page
    assert "Danuta" in page


def test_prints_out_of_sight_are_not_there(client):
    made(cast.danuta())
    client = cast.signed_in(client, cast.assistant())
    assert "No print is on its way." in text(client.get("/prints/"))
    for url in ("/prints/12/K12/", "/prints/12/K12/asked_how/"):
        assert client.get(url).status_code == 404


@pytest.mark.parametrize("who", [cast.keeper, cast.wording_reader])
def test_who_sees_no_people_sees_no_prints(client, who):
    client = cast.signed_in(client, who())
    for url in ("/prints/", "/prints/promises/", "/prints/12/K12/"):
        assert client.get(url).status_code == 404


def test_owing_what_is_missing_is_one_press_of_the_artist(artist):
    picture("K12", cast.danuta())
    assert post(artist, "/prints/owe/").url == "/prints/"
    assert Print.objects.count() == 1
    assert artist.post("/prints/owe/").status_code == 422
    assert artist.get("/prints/owe/").status_code == 405


def test_the_next_step_is_one_press_on_the_way_of_a_print(hand):
    made(cast.danuta(), state="collected")
    page = text(hand.get("/prints/12/K12/"))
    assert "Collected on 22 November 2026, not checked yet." in page
    assert 'action="/prints/12/K12/checked/"' in page
    assert 'href="/prints/12/K12/faulty/"' in page
    response = post(hand, "/prints/12/K12/checked/", was="collected", on="2026-11-23")
    assert response.url == "/prints/12/K12/"
    assert Print.objects.get().state == "checked"


def test_two_steps_at_once_are_refused_in_words_with_all_as_typed(hand):
    made(cast.danuta(), state="owed")
    said = {"was": "owed", "on": "2026-11-23"}
    response = post(hand, "/prints/12/K12/ordered/", **said)
    assert response.status_code == 422
    assert "These are two steps at once." in text(response)
    assert Print.objects.get().state == "owed"


def test_an_old_tab_is_refused_in_words_and_can_be_sent_again(hand):
    made(cast.danuta(), state="in_hand")
    said = {"was": "out_on_a_round", "on": "2026-11-23", "reason": "a scratch"}
    response = post(hand, "/prints/12/K12/faulty/", **said)
    assert response.status_code == 422
    page = text(response)
    assert "Somebody noted a step since this page was opened." in page
    assert "a scratch" in page
    assert 'name="was" value="in_hand"' in page
    assert post(hand, "/prints/12/K12/faulty/", **{**said, "was": "in_hand"}).status_code == 302


def test_asking_how_keeps_the_way_and_shows_it(hand):
    made(cast.danuta())
    assert "Is a print safe to have there?" in text(hand.get("/prints/12/K12/asked_how/"))
    said = {"was": "owed", "on": "23.11.2026", "is_safe": "yes", "size": "18 × 24 cm"}
    said |= {"into_whose_hand": "their own", "word_at_the_door": "from the quay"}
    post(hand, "/prints/12/K12/asked_how/", **said)
    page = text(hand.get("/prints/12/K12/"))
    assert "from the quay" in page
    assert "18 × 24 cm" in page


def test_a_late_print_a_waiting_step_and_an_end_say_so(hand):
    made(cast.danuta(), "K12", "posted", owed_since=days(-90), not_at_the_lab=True, box="B1")
    page = text(hand.get("/prints/12/K12/"))
    assert "and still wait." in page
    assert "Look for a way: Wait thirty days for word first." in page
    assert "Not at the lab." in text(hand.get("/prints/"))
    made(cast.danuta(), "K13", "acknowledged")
    assert "Nothing more is to be done with it." in text(hand.get("/prints/12/K13/"))


def test_a_state_that_does_not_exist_is_not_there(hand):
    made(cast.danuta())
    assert hand.get("/prints/12/K12/eaten/").status_code == 404


def test_nothing_came_out_and_it_is_owed_all_the_same(hand):
    assert hand.get("/prints/without-picture/").status_code == 200
    response = post(hand, "/prints/without-picture/", code="12", on="2026-11-20")
    assert response.url == "/prints/12/no-picture/"
    page = text(hand.get(response.url))
    assert "There is nothing to print" in page
    assert "/prints/12/no-picture/" in text(hand.get("/prints/"))
    assert post(hand, "/prints/without-picture/", code="77", on="").status_code == 422


def test_promises_are_noted_and_kept(hand):
    assert "Nothing else is promised." in text(hand.get("/prints/promises/"))
    assert hand.get("/prints/promises/new/").status_code == 200
    said = {"code": "12", "kind": "invitation", "on": "2026-11-01", "others_may_see": "no"}
    response = post(hand, "/prints/promises/new/", **said, due_on="2026-10-01")
    assert response.status_code == 422
    assert "It is due before it was promised." in text(response)
    post(hand, "/prints/promises/new/", **said, due_on="2026-11-20")
    promise = Promise.objects.get()
    assert promise.others_may_see is False
    assert "give them a quiet hour" in text(hand.get("/prints/promises/"))
    assert hand.post(f"/prints/promises/{promise.pk}/kept/").status_code == 422
    post(hand, f"/prints/promises/{promise.pk}/kept/")
    assert "Kept on 23 November 2026." in text(hand.get("/prints/promises/"))
