"""The page of introductions: for the artist only, and every look is noted."""

import pytest
from django.test import Client

from relations.people import actions
from relations.people.models import Introduction
from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db
ADDRESS = "/introductions/"


@pytest.fixture
def artist(client: Client) -> Client:
    return cast.signed_in(client, cast.artist())


def text(client: Client, query: str = "") -> str:
    answer = client.get(ADDRESS + query)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_the_artist_reads_codes_and_no_names_and_the_look_is_noted(client: Client) -> None:
    cast.herve()
    page = cast.signed_in(client, cast.artist()).get(ADDRESS)
    shown = page.content.decode()
    assert page.status_code == 200
    assert "41" in shown
    assert "Hervé" not in shown
    assert "the most dangerous page" in shown
    entry = AccessEntry.objects.get()
    assert (entry.verb, entry.kind, entry.by) == ("read", "map", cast.artist().pk)


def test_with_nobody_yet_the_page_says_so(artist: Client) -> None:
    assert "Nobody yet." in text(artist)


def test_the_eight_answers_stand_in_plain_words_with_their_trust(artist: Client) -> None:
    cast.herve()
    cast.ibrahima()
    shown = text(artist)
    for said in (
        "They go back to 2 beginnings. The furthest stands 3 steps away.",
        "As recorded, 3 people were reached only through",
        "This is the most it can be.",
        "4 people were told of by others; 2 of them sat.",
        "4 people told us of others. They count like 4.0.",
        "Nobody has said how many sitters we hope for.",
        "people within two steps; none shows more.",
        "could still be told apart by its shape alone",
        "Groups with one door only: find a second",
    ):
        assert said in shown, said


def test_whoever_was_named_by_somebody_who_has_not_sat_is_counted_as_a_question(
    artist: Client,
) -> None:
    assert "Open questions" not in text(artist)
    cast.herve()
    assert '#h-open">Open questions</a> <b class="num">1</b>' in text(artist)


def test_a_goal_asks_which_links_to_seal_first_and_says_when_none_is_needed(artist: Client) -> None:
    cast.herve()
    assert "1 link, and no record shows more than 1 within" in text(artist, "?within=1")
    assert "for 900 nothing has to be sealed" in text(artist, "?within=900")
    assert "Which links to seal first" in text(artist, "?within=many")


def test_word_from_somebody_unknown_alone_is_a_question_and_nobody_is_placed(
    artist: Client,
) -> None:
    cast.herve()
    Introduction.objects.exclude(person__code="41").delete()
    shown = text(artist)
    assert "Open questions" in shown
    assert "Nobody yet." in shown


def test_whom_to_thank_and_what_is_open_come_with_one_press_each(artist: Client) -> None:
    sitter = cast.person("90", "Ida", "taking_part", community=cast.aulne())
    cast.told(sitter, cast.marcel())
    actions.hope_for(community=cast.aulne(), hoped_for=9, by=cast.artist())
    shown = text(artist)
    assert 'action="/introductions/thanked/01/"' in shown
    assert 'action="/introductions/asked-to-tell/90/"' in shown
    artist.post("/introductions/thanked/01/")
    artist.post("/introductions/asked-to-tell/90/")
    shown = text(artist)
    assert "Thanked today." in shown
    assert "Asked today whether they know somebody." in shown
    assert "Nobody is waiting for thanks" in shown


def test_who_is_on_hold_and_what_is_not_sure_is_said(artist: Client) -> None:
    cast.herve()
    told = Introduction.objects.filter(person__code="12")
    told.update(introducer=None, is_withheld=True, wave=1)
    told = Introduction.objects.filter(person__code="41")
    told.update(heard_on="2020-01-01")
    shown = text(artist)
    assert "Of 1 person it is not kept any more who told us." in shown
    assert "Open questions" in shown
    assert "somebody withheld" in shown
    assert "1 person was told of only by somebody whom we did not know yet" in shown


@pytest.mark.parametrize("who", [cast.assistant, cast.wording_reader, cast.keeper])
def test_other_roles_get_the_404_of_an_absent_page(client: Client, who: object) -> None:
    cast.signed_in(client, who())  # type: ignore[operator]
    page, absent = client.get(ADDRESS), client.get("/introductions/nowhere/")
    assert page.status_code == absent.status_code == 404
    assert not AccessEntry.objects.exists()


def test_a_stranger_is_led_to_the_sign_in_page(client: Client) -> None:
    page = client.get(ADDRESS)
    assert page.status_code == 302
    assert page.headers["Location"].startswith("/in/")


def test_nothing_can_be_sent_to_it(artist: Client) -> None:
    assert artist.post(ADDRESS).status_code == 405
