"""The pages of rounds."""

import re

import pytest

from relations.prints import actions, walks
from relations.prints.models import Print, QuarterMinutes, Round, RoundDoor
from relations.privacy.models import AccessEntry
from tests import cast
from tests.prints import bag
from tests.prints.sent import post, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def hand(client):
    return cast.signed_in(client, cast.assistant())


def test_without_a_round_the_page_says_what_to_do(artist):
    assert "No round was planned yet." in text(artist.get("/prints/rounds/"))
    assert "No print can go on a round yet." in text(artist.get("/prints/rounds/new/"))
    assert "No minutes are noted yet." in text(artist.get("/prints/quarters/"))


def test_minutes_are_kept_and_missing_pairs_are_named(hand):
    said = {"start": bag.DOCK, "end": bag.QUAY, "minutes": "12"}
    assert post(hand, "/prints/quarters/", **said).url == "/prints/quarters/"
    assert QuarterMinutes.objects.get().minutes == 12
    assert post(hand, "/prints/quarters/", **said, extra="").status_code == 302
    post(hand, "/prints/quarters/", start=bag.QUAY, end=bag.MOLE, minutes="9")
    page = text(hand.get("/prints/quarters/"))
    assert "Not noted yet" in page
    assert post(hand, "/prints/quarters/", start="3 quay", end="b", minutes="x").status_code == 422


def test_round_is_planned_walked_and_typed_in(hand):
    bag.quarters()
    bag.light()
    for who in (cast.danuta(), cast.marcel()):
        cast.in_sight(who, cast.assistant())
    rows = [bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01", quarter=bag.MOLE)]
    page = text(hand.get("/prints/rounds/new/"))
    assert "Today the sun is up from" in page
    said = {"on": "2026-11-23", "starts_at": "10:00", "prints": [str(row.pk) for row in rows]}
    planned = post(hand, "/prints/rounds/new/", **said)
    assert planned.url == "/prints/rounds/R1/"
    page = text(hand.get(planned.url))
    assert "2 doors. Out at 10:00, the last door is behind you at 10:36." in page
    assert "Danuta" not in page
    assert "the blue gate" not in page
    assert post(hand, "/prints/rounds/R1/set-out/").url == planned.url
    assert set(Print.objects.values_list("state", flat=True)) == {"out_on_a_round"}
    assert "to be typed in" in text(hand.get("/prints/rounds/"))
    again = post(hand, "/prints/rounds/R1/typed/", on="2026-11-23", came_A="given")
    assert again.url == "/prints/rounds/R1/typed/"
    refused = post(hand, "/prints/rounds/R1/typed/", on="2026-11-23", came_A="lost", came_B="lost")
    assert refused.status_code == 422
    assert "Letter A: It was typed in before." in text(refused)
    assert set(RoundDoor.objects.values_list("letter", "came")) == {("A", "given"), ("B", "lost")}
    assert "Every letter is typed in." in text(hand.get("/prints/rounds/R1/typed/"))
    assert "typed in" in text(hand.get("/prints/rounds/"))


def test_what_lacks_something_stands_below_with_a_way_to_mend_it(artist):
    bag.ready(cast.danuta(), "K12", quarter="")
    page = text(artist.get("/prints/rounds/new/"))
    assert "Say in which quarter it is brought." in page
    assert 'href="/prints/12/K12/where/"' in page


def test_doors_that_cannot_be_reached_keep_what_was_typed_and_lead_to_the_minutes(artist):
    cast.assistant()
    rows = [bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01", quarter="the hill")]
    said = {
        "on": "2026-11-23", "starts_at": "10:15", "ends_by": "16:00",
        "walker": str(cast.artist().pk), "prints": [str(row.pk) for row in rows],
    }  # fmt: skip
    answer = post(artist, "/prints/rounds/new/", **said)
    assert answer.status_code == 422
    assert "Minutes that are not noted" in text(answer)
    assert 'value="10:15"' in text(answer)
    assert not Round.objects.exists()


def test_setting_out_says_which_letter_stands_against_it(hand):
    row = bag.ready(cast.danuta(), "K12")
    bag.planned(row)
    Print.objects.update(is_safe=None)
    answer = post(hand, "/prints/rounds/R1/set-out/")
    assert answer.status_code == 422
    assert "Letter A: No safe way was agreed." in text(answer)


def test_typing_before_setting_out_is_not_offered(hand):
    bag.planned(bag.ready(cast.danuta(), "K12"))
    assert "This round has not set out yet." in text(hand.get("/prints/rounds/R1/typed/"))
    answer = post(hand, "/prints/rounds/R1/typed/", on="2026-11-23", came_A="given")
    assert answer.status_code == 422


def test_round_of_somebody_else_is_not_there(client):
    bag.planned(bag.ready(cast.danuta(), "K12"))
    client = cast.signed_in(client, cast.second_assistant())
    assert client.get("/prints/rounds/R1/").status_code == 404
    assert client.post("/prints/rounds/R1/names/").status_code == 404


def test_grave_print_stands_on_a_round_without_its_code(hand):
    bag.planned(bag.ready(cast.ibrahima(), "K35", not_at_the_lab=True))
    page = text(hand.get("/prints/rounds/R1/"))
    assert "35" in page
    assert "Not at the lab. Bring it only as was agreed" in page
    assert not any(said in page for said in ("K35", bag.DOCK))


def test_what_to_do_is_said_beside_a_quarter_without_anybodys_name(hand):
    row = bag.ready(cast.danuta(), "K12")
    row.person.instruction = "Greet neutrally; ask for Danuta."
    row.person.save()
    bag.planned(row)
    page = text(hand.get("/prints/rounds/R1/"))
    assert "Greet neutrally; ask for …." in page
    assert "Danuta" not in page


def test_line_of_a_door_that_was_noted_on_its_own_page_meanwhile_is_not_stored_again(hand):
    row = bag.ready(cast.danuta(), "K12")
    bag.out(row, bag.ready(cast.marcel(), "K01"))
    said = {"on": cast.TODAY, "by": cast.artist(), "at": cast.moment()}
    (letter,) = row.doors.values_list("letter", flat=True)
    actions.step(print=Print.objects.get(pk=row.pk), to="lost", **said)
    lines = {"on": "2026-11-23", "came_A": "given", "came_B": "given"}
    refused = post(hand, "/prints/rounds/R1/typed/", **lines)
    assert refused.status_code == 422
    assert f"Letter {letter}: " in text(refused)
    assert dict(Print.objects.values_list("person__code", "state")) == {
        "12": "lost", "01": "acknowledged"
    }  # fmt: skip
    assert "typed in" in text(hand.get("/prints/rounds/"))
    assert "to be typed in" not in text(hand.get("/prints/rounds/"))


def test_round_is_called_off_by_a_press_and_its_prints_go_on_another(hand):
    row = bag.ready(cast.danuta(), "K12")
    bag.planned(row)
    assert "Call the round off" in text(hand.get("/prints/rounds/R1/"))
    assert post(hand, "/prints/rounds/R1/called-off/").url == "/prints/rounds/"
    assert "called off" in text(hand.get("/prints/rounds/"))
    page = text(hand.get("/prints/rounds/R1/"))
    assert "This round was called off." in page
    assert not any(press in page for press in ("Set out", "Sheet of", "Call the round off"))
    bag.out(row)
    refused = post(hand, "/prints/rounds/R2/called-off/")
    assert refused.status_code == 422
    assert "This round has set out." in text(refused)


def test_sheets_are_pdf_and_each_look_is_noted(hand):
    bag.planned(bag.ready(cast.danuta(), "K12"), bag.ready(cast.ibrahima(), "K35"))
    for sheet, kind, looks in (("places", "place", 2), ("names", "names", 1)):
        answer = hand.post(f"/prints/rounds/R1/{sheet}/")
        assert answer.content.startswith(b"%PDF")
        assert not re.search("12|Danuta|R1", answer.headers["Content-Disposition"])
        assert AccessEntry.objects.filter(verb="read", kind=kind).count() == looks


def test_where_is_kept_and_the_place_is_shown_by_a_noted_press(hand):
    bag.quarters()
    row = bag.ready(cast.danuta(), "K12", place="")
    cast.in_sight(cast.danuta(), cast.assistant())
    said = {"is_safe": "yes", "quarter": bag.QUAY, "place": "the net store", "opens_at": "10:00"}
    assert post(hand, "/prints/12/K12/where/", **said).url == "/prints/12/K12/"
    row.refresh_from_db()
    assert (row.quarter, row.place) == (bag.QUAY, "the net store")
    for url in ("/prints/12/K12/", "/prints/12/K12/where/"):
        assert "the net store" not in text(hand.get(url))
    page = text(hand.post("/prints/12/K12/place/"))
    assert "the net store" in page
    assert "Danuta" not in page
    assert AccessEntry.objects.filter(verb="read", kind="place").count() == 1
    refused = post(hand, "/prints/12/K12/where/", **said, closes_at="09:00")
    assert "The hours end before they begin." in text(refused)


def test_print_that_is_out_keeps_its_safe_way_until_it_is_typed_in(artist):
    bag.out(bag.ready(cast.danuta(), "K12"))
    answer = post(artist, "/prints/12/K12/where/", is_safe="no", quarter=bag.DOCK)
    assert answer.status_code == 422
    assert "note first what came of it" in text(answer)
    assert walks.candidates(cast.artist()) == []


def test_round_is_typed_in_from_the_doorsteps_of_whoever_walks_it(client):
    bag.out(bag.ready(cast.danuta(), "K12"), bag.ready(cast.ibrahima(), "K35"))
    press = "R1</bdi>: Type the round in"
    page = text(cast.signed_in(client, cast.assistant()).get("/"))
    assert page.count(press) == 1
    assert "K12" in page
    assert '<span class="when num">K35' not in page
    assert press not in text(cast.signed_in(client, cast.second_assistant()).get("/"))
