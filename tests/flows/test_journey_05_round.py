"""Journey 5, a round of eight doors: from the lab to the bag, two sheets, and eight lines typed."""

import subprocess
from datetime import date, time

import pytest

from relations.people.models import InSight
from relations.prints.models import Print, Round, RoundDoor
from relations.prints.words import STEPS
from relations.privacy.models import AccessEntry, User
from tests.flows.hand import Hand

MONDAY = date(2026, 11, 23)
FORME, BASTIDE, FERRIES = "la Forme", "Bastide-Claire", "quai des Ferries"
CORDERIES, MOLE = "les Corderies", "le Môle"
# Minutes by scooter, as the assistant knows them; invented like the port.
MINUTES = {
    (FORME, BASTIDE): 12, (FORME, FERRIES): 9, (FORME, CORDERIES): 7, (FORME, MOLE): 15,
    (BASTIDE, FERRIES): 18, (BASTIDE, CORDERIES): 10, (BASTIDE, MOLE): 22,
    (FERRIES, CORDERIES): 11, (FERRIES, MOLE): 6, (CORDERIES, MOLE): 14,
}  # fmt: skip
# Person, picture, quarter, and the hours that they named.
EIGHT = {
    "12": ("K12", BASTIDE, "10:00", "12:00"),
    "13": ("K13", FORME, "", ""),
    "14": ("K14", FORME, "10:00", "13:00"),
    "15": ("K15", CORDERIES, "", ""),
    "16": ("K16", CORDERIES, "", ""),
    "30": ("K30", FERRIES, "11:00", "13:00"),
    "31": ("K31", MOLE, "", "12:30"),
    "32": ("K32", MOLE, "", ""),
}
PLACES = {code: f"the gate with {number} knots" for number, code in enumerate(EIGHT, start=20)}
CAME = {
    **dict.fromkeys(("12", "13", "15", "16", "32"), "given"),
    "14": "not_home", "30": "not_safe", "31": "handed_on",
}  # fmt: skip
pytestmark = pytest.mark.needs("pdftotext")


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def assistant(artist) -> Hand:
    return Hand(User.objects.get(username="loic"))


def move(hand: Hand, person: str, picture: str, *states: str) -> None:
    for to in states:
        hand.go(f"/prints/{person}/{picture}/{to}/").press(str(STEPS[to]), on=MONDAY.isoformat())


def print_of(code: str) -> Print:
    return Print.objects.get(person__code=code, picture__code=EIGHT[code][0])


def home_from_the_lab(hand: Hand) -> None:
    move(hand, "12", "K12", "ordered", "at_the_lab", "collected", "checked")
    move(hand, "15", "K15", "at_the_lab", "collected", "checked")
    move(hand, "31", "K31", "collected", "checked")
    move(hand, "16", "K16", "checked")
    move(hand, "39", "K39", "ordered")
    move(hand, "16", "K15", "ordered")


def minutes_and_light(artist: Hand, assistant: Hand) -> None:
    for (start, end), minutes in MINUTES.items():
        said = {"start": start, "end": end, "minutes": str(minutes)}
        assistant.go("/prints/quarters/").press("Keep the minutes", said)
    artist.go("/meetings/trips/T7/light/").press(
        "Work out the light", latitude="43.3", longitude="5.4"
    )


def where_and_when(hand: Hand) -> None:
    for code, (picture, quarter, opens, closes) in EIGHT.items():
        hand.go(f"/prints/{code}/{picture}/where/").press(
            "Keep where and when", is_safe="yes", quarter=quarter, place=PLACES[code],
            opens_at=opens, closes_at=closes, word_at_the_door=f"The tide of {code}",
        )  # fmt: skip


def planned(hand: Hand, **hours: str) -> Hand:
    """Eight doors for the assistant, whatever the page answers."""
    keys = [str(print_of(code).pk) for code in EIGHT]
    hand.go("/prints/rounds/new/")
    walker = hand.choice("walker", "loic")
    return hand.send("Work the order out", {"prints": keys, "walker": walker, **hours})


@pytest.fixture
def ready(artist, assistant) -> Hand:
    home_from_the_lab(artist)
    minutes_and_light(artist, assistant)
    where_and_when(artist)
    return artist


@pytest.fixture
def out(ready, assistant) -> Hand:
    planned(ready, starts_at="10:00", starts_in=FORME)
    assert not ready.errors
    assistant.go("/prints/rounds/R1/").press("Set out")
    return assistant


def letters() -> dict[str, str]:
    return {door.print.person.code: door.letter for door in RoundDoor.objects.all()}


def type_all(hand: Hand) -> None:
    """Eight lines, one of them on the form that is written without a signal."""
    of = letters()
    hand.go("/outbox/write/").press(
        "Keep the letter", code="R1", letter=of["31"], came=CAME["31"], word="X2"
    )
    lines = {f"came_{of[code]}": came for code, came in CAME.items() if code != "31"}
    hand.go("/prints/rounds/R1/typed/").press("Type it in", lines)


def test_eight_doors_in_three_hours_each_in_the_hours_they_named(out):
    doors = list(Round.objects.get(code="R1").doors.all())
    assert len(doors) == 8
    assert doors[-1].due_at <= time(12, 52), "eight minutes later it is within three hours"
    for door in doors:
        _picture, _quarter, opens, closes = EIGHT[door.print.person.code]
        assert not opens or door.due_at >= time.fromisoformat(opens)
        assert not closes or door.due_at <= time.fromisoformat(closes)
    assert {print_of(code).state for code in EIGHT} == {"out_on_a_round"}
    assert {print_of(code).round for code in EIGHT} == {Round.objects.get()}


def test_whoever_walks_sees_them_on_that_day_and_no_name_stands_by_a_place(out):
    seen = InSight.objects.filter(user__username="loic", day=MONDAY, why="print")
    assert set(EIGHT) <= set(seen.values_list("person__code", flat=True))
    out.go("/prints/rounds/R1/")
    assert out.sees("8 doors. Out at 10:00")
    assert out.sees("The sun sets at 17:")
    assert not any(out.sees(place) for place in PLACES.values())
    assert not any(out.sees(print_of(code).person.call_name) for code in EIGHT)
    assert out.sees("K12")
    assert not out.sees("K30")


def test_two_sheets_are_carried_apart_and_one_at_risk_is_on_none_with_a_name(out):
    names = {code: print_of(code).person.call_name for code in EIGHT}
    out.go("/prints/rounds/R1/").send("Sheet of places")
    places = _words(out)
    assert all(place in places for place in PLACES.values())
    assert not any(name in places for name in names.values())
    assert AccessEntry.objects.filter(kind="place").count() >= 8
    out.go("/prints/rounds/R1/").send("Sheet of names")
    told = _words(out)
    assert not any(place in told for place in PLACES.values())
    assert not any(quarter in told for _picture, quarter, *_hours in EIGHT.values())
    assert "The tide of 12" in told
    assert names["12"] in told
    assert not any(never in told for never in ("K30", "The tide of 30", names["30"]))


def _words(hand: Hand) -> str:
    ran = subprocess.run(
        ["pdftotext", "-raw", "-", "-"],
        input=hand.answer.content,
        capture_output=True,
        check=True,
    )
    return " ".join(ran.stdout.decode().split())


def test_typed_that_night_in_eight_lines_and_counted(out, artist):
    type_all(out)
    states = {code: print_of(code).state for code in EIGHT}
    assert states == {
        **dict.fromkeys(("12", "13", "15", "16", "32"), "acknowledged"),
        "14": "looking_for_a_way", "30": "kept_for_them", "31": "handed_on",
    }  # fmt: skip
    assert out.go("/prints/rounds/R1/typed/").sees("Every letter is typed in.")
    assert print_of("31").steps.last().reason == "X2"
    artist.go("/prints/")
    assert artist.sees("22 of 38 are acknowledged (58 %).")
    assert artist.sees("24 are in their hands (63 %).")
    assert artist.sees("9 are late")


def test_second_failure_asks_the_sitter_and_nothing_goes_out_before_they_answer(out, artist):
    type_all(out)
    failed = print_of("14")
    assert (failed.tries, failed.is_safe) == (2, None)
    assert artist.go("/prints/rounds/new/").sees("No safe way was agreed.")


def test_lines_that_are_sent_again_are_stored_once(out, artist):
    type_all(out)
    before = sum(print_of(code).steps.count() for code in EIGHT)
    line = {"code": "R1", "letter": letters()["12"], "came": "lost"}
    out.go("/outbox/write/").send("Keep the letter", line)
    assert out.errors
    assert sum(print_of(code).steps.count() for code in EIGHT) == before


def test_round_with_no_daylight_left_is_refused_and_keeps_what_was_typed(ready):
    planned(ready, starts_at="16:40")
    assert ready.errors
    assert ready.sees("it would be dark")
    assert ready.value("starts_at") == "16:40"
    planned(ready, starts_at="17:30")
    assert ready.sees("No daylight is left for this round.")
    assert not Round.objects.exists()
