"""Journey 3, the first meeting of 23, who cannot read: alone, told back, a witness, a sitting."""

from collections.abc import Callable
from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from relations.consent.values import Use
from relations.meetings.models import Helper, Meeting
from relations.people.models import Participant
from relations.pictures.models import Sitting
from relations.privacy.models import User
from tests.consent import desk
from tests.flows.hand import Hand
from tests.flows.test_story_portrait import picture_file

AWA, PICTURE, SITTING = "23", "K23", "23-1"
EVE, DAY = date(2026, 12, 1), date(2026, 12, 2)
# The ready choice "walls where I live, and my print".
WALL_AND_PRINT = {f"use_{use}": "yes" if use == Use.EXHIBITION else "no" for use in Use}
READ = {
    "way": "mark_and_witness", "given_on": "2026-12-02", "copy_kept": "yes", "may_keep": "yes",
    "only_countries": "FR", "name_form": "first", "place_word": "city",
    "if_cannot_answer": "ask", "if_died": "ask", **WALL_AND_PRINT,
}  # fmt: skip


@pytest.fixture
def dawn(rehearsal, settings) -> Callable[[date], None]:
    def begin(day: date) -> None:
        settings.RELATIONS_TODAY = day

    return begin


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


def stands() -> str:
    return Participant.objects.get(code=AWA).standing


def met_alone(artist: Hand, dawn: Callable[[date], None]) -> Hand:
    """The second meeting: place, hour and company are hers; an interpreter; nobody in power."""
    interpreter = Helper.objects.filter(kind="interpreter").first()
    artist.go(f"/meetings/fix/{AWA}/").press(
        "Fix", day="2026-12-02", hour="09:00", place="The bench by the lock",
        place_is_theirs=True, exit_signal="Scarf off",
    )  # fmt: skip
    where = artist.address
    artist.go(f"{where}who-helps/").press("Save", interpreter=str(interpreter.pk))
    dawn(EVE)
    artist.go(where).press("Confirm")
    dawn(DAY)
    artist.go(where).press("Held")
    return artist.go(f"{where}write-up/")


def test_meeting_with_the_team_leader_there_does_not_count(artist):
    first = Meeting.objects.get(person__code=AWA, state="written_up")
    artist.go(f"/meetings/{first.pk}/")
    assert artist.sees("This meeting does not count.")
    assert artist.sees("Somebody with power over them was there. Meet them again, alone.")
    assert stands() == "meeting_agreed"


def test_form_is_offered_only_after_four_of_four_are_told_back(artist, dawn):
    met_alone(artist, dawn)
    explained = [box.get("value") for box in artist.boxes("explained")]
    back = [box.get("value") for box in artist.boxes("told_back")]
    assert (len(explained), len(back)) == (12, 4)
    artist.press("Write up", power_present="no", explained=explained, told_back=back[:3])
    assert artist.sees("Told back3/4 · still open: How they stop it")
    assert stands() == "met"


def test_second_meeting_alone_counts_and_leads_to_a_sitting(artist, dawn):
    met_alone(artist, dawn)
    written_up(artist)
    assert artist.sees("Told back4/4")
    assert stands() == "sitting_agreed"


def written_up(artist: Hand) -> None:
    ticks = {name: [box.get("value") for box in artist.boxes(name)]
             for name in ("explained", "told_back")}  # fmt: skip
    artist.press("Write up", power_present="no", **ticks)


def sat(artist: Hand) -> None:
    """65 minutes, six sheets in holders 11 to 13, and somebody more in the frame."""
    artist.go(f"/person/{AWA}/").follow("Note a sitting")
    artist.press("Save", minutes="65", sheets="6", holders="11 12 13")
    assert artist.sees("Film 6")
    artist.follow("Add a picture").press(
        "Save", {f"place_{AWA}": "1", f"recognisable_{AWA}": "yes"}, code=PICTURE,
        others="unresolved", light_copy=picture_file(),
    )  # fmt: skip


def test_thumb_without_a_witness_is_incomplete_and_opens_nothing(artist, dawn):
    met_alone(artist, dawn)
    written_up(artist)
    sat(artist)
    sitting = Sitting.objects.get(sitters__code=AWA)
    assert (sitting.minutes, sitting.sheets.count()) == (65, 6)
    assert sorted({sheet.holder for sheet in sitting.sheets.all()}) == ["11", "12", "13"]
    assert stands() == "taking_part"
    serial = printed(artist)
    spot_sheet(artist, serial)
    stop_card(artist, serial)
    read_twice(artist, serial, sitting.code)
    weighed(artist)


def printed(artist: Hand) -> str:
    artist.go("/forms/").follow("Print a form").press(
        "Print the form", code=AWA, first=artist.choice("first", "Français"),
        second=artist.choice("second", "English"),
    )  # fmt: skip
    return artist.address.strip("/").rpartition("/")[2]


def paper(artist: Hand, **chosen: str) -> None:
    """A press that answers with a PDF."""
    both = {"first": artist.choice("first", "Français"),
            "second": artist.choice("second", "English")}  # fmt: skip
    artist.press(chosen.pop("press"), {**both, **chosen})
    assert artist.answer.headers["Content-Type"] == "application/pdf"


def spot_sheet(artist: Hand, serial: str) -> None:
    """The sheet that asks for the witness before anybody leaves."""
    paper(artist.go(f"/forms/{serial}/spot-sheet/"), press="Print the sheet")


def stop_card(artist: Hand, serial: str) -> None:
    artist.go(f"/forms/papers/?serial={serial}")
    paper(artist, press="Print the paper", kind="stop_card", serial=serial)


def read_twice(artist: Hand, serial: str, sitting: str) -> None:
    """Home and read by both, who see the same empty line; the form stays doubtful."""
    assistant = Hand(User.objects.get(username="loic"))
    for to in ("carried", "filled_in", "brought_home"):
        artist.go(f"/forms/{serial}/").follow("Where is it now?").press("Note it", to=to)
    scan = SimpleUploadedFile("scan.png", desk.scan(23), "image/png")
    artist.follow("File a scan").press("File it", serial=serial, scan=scan)
    assistant.go("/").go(f"/forms/{serial}/read/")
    missing = assistant.choice("lines_missing", "the witness, signed")
    assistant.press("This is what I read", {**READ, "lines_missing": [missing]})
    artist.go(f"/forms/{serial}/read/")
    ticked = [artist.choice("sittings", sitting)]
    artist.press("This is what I read", {**READ, "lines_missing": [missing], "sittings": ticked})
    assert artist.sees("Doubtful: only its limits act")


def weighed(artist: Hand) -> None:
    """Who stepped in keeps the picture off until they are named and asked; so does the form."""
    artist.go("/uses/plans/").follow("Plan a use").press(
        "Note the plan", code="E7", use="exhibition", starts_on="2027-02-05", place="The hall",
        countries="FR", captions=False,
    )  # fmt: skip
    artist.press("Ask for these", pictures=[PICTURE]).press("Name them so")
    assert "Somebody in it can be recognised and is not settled." in artist.words
    assert "The form lacks a line for the way in which it was given." in artist.words
    artist.go(f"/pictures/{PICTURE}/strangers/").press(
        "Note it", place="2", became="not_recognisable"
    )
    artist.go("/uses/plan/E7/").press("Keep these answers")
    assert "Somebody in it can be recognised and is not settled." not in artist.words
    assert "The form lacks a line for the way in which it was given." in artist.words
