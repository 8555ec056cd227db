"""Who is owed a print in the rehearsal, what is done next, and what is said of whom to whom.

Source of the figures: job.md F11 and tests/cases/demo.json.
"""

import re

import pytest

from relations.people.models import InSight, Participant
from relations.prints.models import Promise
from relations.privacy.models import User
from tests import cast
from tests.flows.hand import Hand, said

GRAVE = ("29", "30", "33", "35")


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def assistant(rehearsal) -> Hand:
    """Whoever has everybody of the register in sight today."""
    user = User.objects.get(username="loic")
    InSight.objects.bulk_create(
        InSight(person=one, user=user, day=cast.TODAY, why="print")
        for one in Participant.objects.all()
    )
    return Hand(user)


def rows(hand: Hand) -> list[str]:
    """The lines of the list of prints, in their order."""
    found = next(one for one in hand.page.iter("ul") if one.get("class") == "ledger")
    return [said(line) for line in found.iter("li")]


def test_the_artist_reads_the_counts_of_the_whole_project_and_of_each_group(artist):
    artist.go("/prints/")
    assert artist.sees("17 of 38 are acknowledged (45 %).")
    assert artist.sees("19 are in their hands (50 %).")
    assert artist.sees("14 are late")
    lines = [line for table in artist.page.iter("tbody") for line in table.iter("tr")]
    figures = [[int(said(cell)) for cell in line.iter("td")] for line in lines]
    assert [sum(column) for column in zip(*figures, strict=True)] == [38, 17, 19, 14]
    assert len(lines) == 5


def test_the_late_ones_come_first(artist):
    late = [row.split()[0].endswith("late") for row in rows(artist.go("/prints/"))]
    assert late[:14] == [True] * 14
    assert not any(late[14:])


def test_the_assistant_reads_no_count_and_nothing_of_the_grave_but_what_to_do(artist, assistant):
    artist.go("/prints/")
    page = assistant.go("/prints/")
    assert not page.sees("acknowledged (")
    names = Participant.objects.filter(code__in=GRAVE).order_by("code")
    assert [one.level for one in names] == ["grave"] * len(GRAVE)
    for who in names:
        assert who.call_name not in page.words
    held = [row for row in rows(page) if "Not at the lab." in row]
    assert {re.search(r"\d\d", row).group() for row in held} == {"30", "35"}
    assert all(row.endswith("Keep it for them.") for row in held)


def test_a_print_posted_long_ago_is_looked_for_and_the_next_step_is_one_press(artist):
    artist.go("/").row("K26")
    artist.go("/prints/26/K26/")
    assert artist.sees("Posted on 30 September 2026; no word yet.")
    artist.press("Look for a way")
    assert artist.sees("Looking for a way since 23 November 2026.")


def test_kept_prints_are_asked_about_on_the_next_trip_and_never_of_whom_a_hold_lies(artist):
    artist.go("/meetings/trips/").follow("T7")
    assert artist.row("since 8 Aug 2025")
    assert artist.row("since 7 Feb 2026")
    asked = {link.get("href") for link in artist.page.iter("a")}
    assert "/prints/30/K30/asked_how/" in asked
    assert "/prints/35/K35/asked_how/" not in asked


def test_what_was_promised_stands_on_the_page_of_the_person(artist, assistant):
    assert Promise.objects.filter(kind="book_copy").count() == 32
    for hand in (artist, assistant):
        hand.go("/person/11/")
        assert hand.sees("a copy of the book")
        assert hand.sees("others may not see them there: give them a quiet hour")
    artist.go("/person/36/")
    assert artist.sees("to tell them before: B1")
    assert not assistant.go("/person/36/").sees("B1")


def test_a_print_is_theirs_whoever_took_everything_back_meanwhile(artist, assistant):
    before = artist.go("/prints/12/K12/").words
    assistant.go("/person/12/").follow("Stop").press("Stop everything")
    assert artist.go("/prints/12/K12/").words == before
    for step in ("Ordered", "It is at the lab", "Collected", "Checked, good"):
        artist.press(step)
    artist.follow("Set out for a round").press("Set out for a round", is_safe="yes").press(
        "In hand"
    )
    assert not artist.sees("talk about uses")


def test_nobody_is_sent_to_whoever_said_never_ring_meanwhile(artist, assistant):
    assistant.go("/person/32/").follow("Never ring").press("Never ring")
    artist.go("/prints/32/K32/")
    assert artist.sees("nobody goes there. Keep it for them.")
    artist.follow("Keep for them").press("Keep for them", box="B32")
    assert artist.sees("Kept for them since 23 November 2026.")
