"""The page of introductions and the tables behind it: for the artist only, every look noted."""

import pytest
from django.test import Client

from relations.people import actions
from relations.people.models import Introduction
from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db
ADDRESS = "/introductions/"
TABLES = "/introductions/tables/"
BOTH = pytest.mark.parametrize("address", [ADDRESS, TABLES])


@pytest.fixture
def artist(client: Client) -> Client:
    return cast.signed_in(client, cast.artist())


def text(client: Client, address: str = ADDRESS) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


@BOTH
def test_the_artist_reads_codes_and_no_names_and_the_look_is_noted(
    client: Client, address: str
) -> None:
    cast.herve()
    page = cast.signed_in(client, cast.artist()).get(address)
    shown = page.content.decode()
    assert page.status_code == 200
    assert "41" in shown
    assert "Hervé" not in shown
    assert "the most dangerous page" in shown
    entry = AccessEntry.objects.get()
    assert (entry.verb, entry.kind, entry.by) == ("read", "map", cast.artist().pk)


@BOTH
def test_with_nobody_yet_the_page_says_so(artist: Client, address: str) -> None:
    assert "Nobody yet." in text(artist, address)


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


def test_each_answer_leads_to_its_table_and_the_tables_lead_back(artist: Client) -> None:
    cast.herve()
    cast.ibrahima()
    answers, tables = text(artist), text(artist, TABLES)
    for place in ("h-told", "h-groups", "h-seal"):
        assert f'href="{TABLES}#{place}"' in answers, place
        assert f'id="{place}"' in tables, place
    for said in (
        "Of 100 such, would sit",
        "Counts, not marks for anybody",
        "Beside chance: 0 is as often as chance would have it",
        "By record, those that show most first",
        "The list takes one link after the other",
    ):
        assert said in tables, said
        assert said not in answers, said
    assert f'href="{ADDRESS}"' in tables.partition("<main")[2]


def test_where_only_we_told_us_of_people_nobody_is_counted_by_who_told_us(artist: Client) -> None:
    cast.marcel()
    assert "#h-told" not in text(artist)
    tables = text(artist, TABLES)
    assert "By who told us" not in tables
    assert "By record, those that show most first" in tables


def test_a_goal_asks_which_links_to_seal_first_and_says_when_none_is_needed(artist: Client) -> None:
    cast.herve()
    assert "1 link, and no record shows more than 1 within" in text(artist, TABLES + "?within=1")
    assert "for 900 nothing has to be sealed" in text(artist, TABLES + "?within=900")
    assert "Which links to seal first" in text(artist, TABLES + "?within=many")


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
@BOTH
def test_other_roles_get_the_404_of_an_absent_page(
    client: Client, who: object, address: str
) -> None:
    cast.signed_in(client, who())  # type: ignore[operator]
    page, absent = client.get(address), client.get("/introductions/nowhere/")
    assert page.status_code == absent.status_code == 404
    assert not AccessEntry.objects.exists()


@BOTH
def test_a_stranger_is_led_to_the_sign_in_page(client: Client, address: str) -> None:
    page = client.get(address)
    assert page.status_code == 302
    assert page.headers["Location"].startswith("/in/")


@BOTH
def test_nothing_can_be_sent_to_it(artist: Client, address: str) -> None:
    assert artist.post(address).status_code == 405
