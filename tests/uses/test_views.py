"""The pages of plans and of what is shown, as the artist opens them."""

from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.pictures.models import Picture
from relations.uses.models import PlannedUse, Shown, Weighing
from tests import cast
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client):
    return cast.signed_in(client, plans.artist())


def post(client, url, **said):
    return client.post(url, {"token": str(uuid4()), **said})


def text(response):
    return " ".join(response.content.decode().split())


def test_the_page_of_a_plan_says_the_answer_and_every_reason(artist):
    plans.demo()
    plans.plan("E1")
    page = text(artist.get("/uses/plan/E1/"))
    assert "<b>14</b> may hang, <b>2</b> with conditions, <b>17</b> not." in page
    assert page.count('<ol class="contact">') == 1
    assert "Their form ends before the start. Ask again at the next talk." in page
    assert "Frees at once:" in page
    assert "Something else stands against:" in page
    assert "Look again by <b>6 January 2027</b>" in page
    assert "It does not say that showing is safe, fair or lawful." in page
    assert "After this day nothing can be taken back" not in page
    assert 'type="checkbox"' not in page


def test_ink_and_screens_carry_their_own_cautions(artist):
    plans.demo()
    plans.plan("B1", "K01")
    assert "After this day nothing can be taken back." in text(artist.get("/uses/plan/B1/"))
    plans.plan("W1", "K01")
    assert "Once seen everywhere, always seen everywhere" in text(artist.get("/uses/plan/W1/"))


def test_the_page_takes_at_most_twenty_queries_whatever_the_number(artist):
    plans.demo()
    counted = []
    for key, codes in (("E1", ("K07",)), ("B1", ())):
        plans.plan(key, *codes)
        artist.get(f"/uses/plan/{key}/")
        with CaptureQueriesContext(connection) as taken:
            artist.get(f"/uses/plan/{key}/")
        counted.append(len(taken))
    assert counted[0] == counted[1] <= 20


def test_a_press_keeps_the_answers_once_and_a_change_makes_them_stale(artist):
    plans.demo()
    plans.plan("E1", "K01", "K02")
    said = {"token": str(uuid4())}
    assert artist.post("/uses/plan/E1/", said).status_code == 302
    assert artist.post("/uses/plan/E1/", said).status_code == 302
    assert Weighing.objects.count() == 2
    assert "out of date" not in text(artist.get("/uses/plan/E1/"))
    Picture.objects.filter(code="K02").update(alt_text="a chair")
    assert "Kept answers are out of date" in text(artist.get("/uses/plan/E1/"))


def test_a_post_without_its_token_is_answered_with_the_whole_page(artist):
    plans.demo()
    plans.plan("E1", "K01")
    response = artist.post("/uses/plan/E1/")
    assert response.status_code == 422
    assert "This page was incomplete." in text(response)


def test_a_use_is_planned_pictures_asked_for_and_sitters_named(artist):
    plans.demo()
    said = {"code": "E9", "use": "exhibition", "starts_on": "2027-02-05", "countries": "FR"}
    response = post(artist, "/uses/plans/new/", **said, captions="on")
    assert response.url == "/uses/plan/E9/pictures/"
    assert artist.get(response.url).status_code == 200
    response = post(artist, response.url, pictures=["K01", "K02"])
    assert response.url == "/uses/plan/E9/names/"
    assert "Marcel" not in artist.get("/uses/plan/E9/names/").content.decode()
    response = post(artist, response.url, **{"name-01": "full", "name-02": "full"})
    assert response.url == "/uses/plan/E9/"
    assert "<b>2</b> may hang" in text(artist.get(response.url))
    post(artist, "/uses/plan/E9/pictures/", pictures=["K02"])
    assert "<b>1</b> may hang" in text(artist.get("/uses/plan/E9/"))


def test_words_of_one_picture_are_chosen_on_their_page(artist):
    plans.demo()
    plans.plan("E1", "K38")
    url = "/uses/plan/E1/words/K38/"
    assert url in text(artist.get("/uses/plan/E1/"))
    assert "as the plan says" in text(artist.get(url))
    chosen = str(plans.pictures("K38")[0].captions.get(version="c1").pk)
    said = {"captioned": "shown", "caption": chosen, "name-38": "first"}
    assert post(artist, url, **said).url == "/uses/plan/E1/"
    assert f'value="{chosen}" selected' in text(artist.get(url))
    wrong = post(artist, url, **said | {"caption": str(uuid4())})
    assert wrong.status_code == 422
    assert post(artist, url, **said | {"name-38": "nickname"}).status_code == 422


def test_people_and_days_of_a_plan_have_pages_of_their_own(artist):
    plans.demo()
    plans.plan("E1", "K01", "K07", files_with="the hall")
    page = text(artist.get("/uses/plan/E1/people/"))
    assert 'Files would go to <bdi><bdi dir="ltr" class="words">the hall</bdi></bdi>' in page
    assert "Their form ends before the start. Ask again at the next talk." in page
    response = artist.get("/uses/plan/E1/calendar/")
    assert response.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert b"K01" in response.content
    plans.plan("B1", "K01")
    assert "Nothing stands against any picture." in text(artist.get("/uses/plan/B1/people/"))
    assert "Days for a calendar" not in text(artist.get("/uses/plan/B1/"))


def test_bad_input_comes_back_as_typed_with_what_is_wrong(artist):
    said = {"code": "E9", "use": "exhibition", "starts_on": "2027-02-05", "ends_on": "2026-01-01"}
    response = post(artist, "/uses/plans/new/", **said, place="Halle aux Voiles")
    assert response.status_code == 422
    assert "The last day comes before the first." in text(response)
    assert "Halle aux Voiles" in text(response)
    assert not PlannedUse.objects.exists()


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"ends_on": "2027-02-04"}, "The last day comes before the first."),
        ({"countries": "FR QX"}, "No country has the letters QX."),
        ({"countries": "UK"}, "No country has the letters UK."),
        ({"code": "e1"}, "This code stands for something else already."),
    ],
    ids=["ends before it begins", "no such country", "not the letters of it", "taken"],
)
def test_plan_that_cannot_be_is_told_beside_the_field_and_not_kept(artist, typed, words):
    plans.plan("E1", "none")
    said = {"code": "E7", "use": "exhibition", "place": "Halle", "starts_on": "2027-02-05"}
    response = post(artist, "/uses/plans/new/", **said | typed)
    assert response.status_code == 422
    page = text(response)
    (field,) = typed
    assert words in page.partition(f'id="id_{field}_error"')[2].partition("</p>")[0]
    assert "Halle" in page
    assert PlannedUse.objects.count() == 1


def test_a_plan_is_given_up(artist):
    plans.plan("E1", "none")
    assert "E1" in text(artist.get("/uses/plans/"))
    assert "No picture is asked for yet." in text(artist.get("/uses/plan/E1/"))
    assert artist.post("/uses/plan/E1/drop/").url == "/uses/plans/"
    assert "Nothing is planned." in text(artist.get("/uses/plans/"))


def test_what_is_shown_is_kept_with_its_holder(artist):
    plans.demo()
    assert "Nothing is shown anywhere." in text(artist.get("/uses/shown/"))
    assert artist.get("/uses/shown/new/").status_code == 200
    said = {"code": "U1", "use": "web", "place": "site", "starts_on": "2026-10-01"}
    response = post(artist, "/uses/shown/new/", **said, pictures=["K12"])
    assert response.status_code == 422
    assert not Shown.objects.exists()
    response = post(artist, "/uses/shown/new/", **said, pictures=["K12"], holder="the host")
    assert response.url == "/uses/shown/"
    page = text(artist.get("/uses/shown/"))
    assert "the host" in page
    assert "K12" in page


@pytest.mark.parametrize("who", [cast.assistant, cast.wording_reader, cast.keeper])
@pytest.mark.parametrize(
    "url", ["/uses/plans/", "/uses/plan/E1/", "/uses/shown/", "/uses/plan/E1/names/"]
)
def test_plans_and_reasons_are_for_the_artist(client, who, url):
    plans.plan("E1", "none")
    assert cast.signed_in(client, who()).get(url).status_code == 404
