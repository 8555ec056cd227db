"""Anybody's stop is heard at once, and the list of what must come down follows."""

from uuid import uuid4

import pytest

from relations.consent.models import TakenBack
from relations.people.models import Participant
from relations.uses.models import UndoLine
from tests import cast
from tests.house.asking import without_chance
from tests.uses import plans

pytestmark = pytest.mark.django_db
EVERYBODY = [cast.artist, cast.assistant, cast.wording_reader, cast.keeper]


def post(client, url, **said):
    return client.post(url, {"token": str(uuid4()), **said})


def taken_back(code="12"):
    """What somebody took back: the scopes in order."""
    found = TakenBack.objects.filter(person__code=code)
    return sorted(found.values_list("scope", "use"))


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def hand(client):
    """The assistant with 12 in sight, who hangs and stands on a site."""
    plans.demo()
    plans.shown("U1", "exhibition", "K12")
    plans.shown("U2", "web", "K12")
    user = cast.assistant()
    cast.in_sight(Participant.objects.get(code="12"), user)
    return cast.signed_in(client, user)


def test_take_me_out_of_everything_is_three_presses_without_a_password(hand):
    # The bar, the person in sight, everything.
    whom = text(hand.get("/uses/stop/"))
    assert 'href="/uses/stop/12/"' in whom
    assert 'value="all"' in text(hand.get("/uses/stop/12/"))
    response = post(hand, "/uses/stop/12/", what="all")
    assert response.url == "/uses/undo/12/"
    assert taken_back() == [("all", "")]
    page = text(hand.get("/uses/undo/12/"))
    assert "It is stopped. Tell them now what is done" in page
    assert "Take it off the wall." in page
    assert "By 24 November 2026, 09:00." in page
    assert "An answer in words is due by 7 December 2026." in page
    assert "Copies that others have made cannot be brought back." in page


def test_the_same_press_twice_is_one_stop_and_another_press_a_second(hand):
    token = str(uuid4())
    for what in ("use:web", "use:web", "picture:K12"):
        hand.post("/uses/stop/12/", {"token": token, "what": what})
    assert taken_back() == [("picture", ""), ("use", "web")]


def test_a_picture_they_are_not_in_is_refused_in_words(hand):
    response = post(hand, "/uses/stop/12/", what="picture:K01")
    assert response.status_code == 422
    assert "They are not in this picture." in text(response)
    assert taken_back() == []


def test_a_code_of_somebody_in_sight_leads_to_their_page(hand):
    assert post(hand, "/uses/stop/", code="12").url == "/uses/stop/12/"


def test_a_stop_for_somebody_out_of_sight_says_nothing_of_who_it_is(hand):
    response = post(hand, "/uses/stop/", code="01")
    assert response.status_code == 200
    page = text(response)
    assert "K01" not in without_chance(page)
    assert "Marcel" not in page
    response = post(hand, "/uses/stop/unseen/", code="01", what="all")
    assert response.url == "/uses/stop/done/"
    assert "It is stopped." in text(hand.get(response.url))
    assert taken_back("01") == [("all", "")]
    for url in ("/uses/stop/01/", "/uses/undo/01/"):
        assert hand.get(url).status_code == 404


@pytest.mark.parametrize("who", EVERYBODY)
def test_nobody_is_found_by_an_unknown_code_in_the_same_words(client, who):
    response = post(cast.signed_in(client, who()), "/uses/stop/", code="99")
    assert response.status_code == 422
    assert "Nobody was found by this code." in text(response)
    assert 'value="99"' in text(response)


@pytest.mark.parametrize("who", [cast.wording_reader, cast.keeper])
def test_who_sees_no_people_stops_by_code(client, who):
    plans.demo()
    client = cast.signed_in(client, who())
    assert 'value="use:web"' in text(post(client, "/uses/stop/", code="12"))
    post(client, "/uses/stop/unseen/", code="12", what="use:web")
    assert taken_back() == [("use", "web")]
    assert client.get("/uses/undo/12/").status_code == 404
    assert client.get("/uses/undo/").status_code == 404


def test_an_unseen_stop_of_nothing_comes_back_with_what_is_wrong(hand):
    response = post(hand, "/uses/stop/unseen/", code="01", what="")
    assert response.status_code == 422
    assert 'name="code" value="01"' in text(response)
    assert hand.get("/uses/stop/unseen/").status_code == 405


def test_lines_are_done_could_not_be_done_and_are_told(hand):
    post(hand, "/uses/stop/12/", what="all")
    wall, site = (UndoLine.objects.get(code=code) for code in ("off_wall", "take_down"))
    token = str(uuid4())
    for line, what in ((wall, "done"), (site, "cannot")):
        url = f"/uses/undo/12/{line.pk}/"
        assert hand.post(url, {"token": token, "what": what}).url == "/uses/undo/12/"
        line.refresh_from_db()
        assert line.done_on == plans.TODAY
    assert site.cannot
    assert not wall.cannot
    post(hand, f"/uses/undo/12/{wall.pk}/", what="told")
    assert UndoLine.objects.filter(told_them_on=plans.TODAY).count() == 1
    post(hand, "/uses/undo/12/")
    assert not UndoLine.objects.filter(told_them_on=None).exists()
    page = text(hand.get("/uses/undo/12/"))
    assert "Could not" in page
    assert "Told them on 23 November 2026." in page


def test_a_press_that_says_nothing_is_answered_with_the_list(hand):
    post(hand, "/uses/stop/12/", what="all")
    line = UndoLine.objects.first()
    response = post(hand, f"/uses/undo/12/{line.pk}/", what="never")
    assert response.status_code == 422
    assert "What must come down" in text(response)


def test_what_waits_to_come_down_is_listed_for_all_in_sight(hand):
    assert "Nothing waits to come down." in text(hand.get("/uses/undo/"))
    post(hand, "/uses/stop/12/", what="all")
    page = text(hand.get("/uses/undo/"))
    assert page.count('href="/uses/undo/12/"') == 2


def test_of_whom_nothing_is_shown_the_page_says_so(hand):
    cast.in_sight(Participant.objects.get(code="01"), cast.assistant())
    post(hand, "/uses/stop/01/", what="all")
    page = text(hand.get("/uses/undo/01/"))
    assert "Nothing of theirs is shown anywhere that we know of." in page
