"""Journey 6, the wall E1: 33 pictures asked for, 14 cleared, 2 with conditions, 17 not, and why.

What the curator is handed is told by the story of the clearance sheet.
"""

import pytest

from relations.consent.words import NAME_FORMS
from relations.privacy.models import User
from relations.uses.models import Weighing
from relations.uses.words import REASONS
from tests.flows.hand import Hand
from tests.uses.plans import DEMO

WALL = "/uses/plan/E1/"
EXPECTED = DEMO["expected"]["E1"]


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


def test_every_picture_gets_its_answer_with_all_reasons_of_all_sitters(artist):
    artist.go("/").follow("Clearing").follow_to(WALL)
    assert artist.sees("14 may hang, 2 with conditions, 17 not.")
    assert len(EXPECTED) == 33
    for picture, expected in EXPECTED.items():
        row = artist.row(picture)
        for reason in (*expected["stops"], *expected["conditions"]):
            assert str(REASONS[reason["code"]].reason) in row, (picture, reason)


def test_reasons_stand_by_next_action_and_by_person(artist):
    artist.go(WALL)
    headings = [
        one for one in artist.page.iter("h2") if "Talk with them" in "".join(one.itertext())
    ]
    assert len(headings) == 1
    assert "G01 K07" in artist.row("07 ")
    artist.follow("Person by person")
    held = artist.row("35 ")
    assert str(REASONS["HOLD"].reason) in held
    assert str(REASONS["CHECK-IN"].reason) in held
    assert artist.row("07 ").count(str(REASONS["ENDED"].reason)) == 1


def test_nine_talks_stand_between_the_wall_and_ten_pictures(artist):
    """Counted by hand from the expected answers; one of them only asks to be spoken with."""
    artist.go(WALL)
    assert artist.sees("One talk stands between this wall and one picture. K20")
    assert artist.sees("It counts from 9 August 2026 until the opening, 5 February 2027.")
    assert artist.sees("Nine talks stand between this wall and 10 pictures.")
    assert artist.sees("07 Teresa: G01 K07")


def test_answers_are_kept_by_a_press_and_nobody_can_tick_them(artist):
    artist.go(WALL).press("Keep these answers")
    assert Weighing.objects.filter(asked__plan__code="E1").count() == 33
    assert not [one for one in artist.page.iter("input") if one.get("type") == "checkbox"]
    assert not artist.sees("Kept answers are out of date")
    artist.go("/people/01/hold/").press("Hold")
    artist.go(WALL)
    assert artist.sees("Kept answers are out of date")
    assert artist.sees("13 may hang, 2 with conditions, 18 not.")
    assert "look into" in artist.row("K01").lower() or "hold" in artist.row("K01").lower()


def test_words_that_were_agreed_to_clear_the_picture_again(artist):
    """K38 was approved as c1 and edited into c2: shown as c1 it may hang."""
    artist.go(WALL).follow_to("/uses/plan/E1/words/K38/")
    artist.press("Show it so", caption=artist.choice("caption", "c1"))
    assert artist.sees("15 may hang, 2 with conditions, 16 not.")


def test_one_picture_may_name_its_sitter_otherwise(artist):
    artist.go("/uses/plan/E1/words/K01/")
    less = artist.choice("name-01", str(NAME_FORMS["none"]))
    artist.press("Show it so", {"name-01": less})
    assert str(REASONS["NAMED-LESS"].reason) in artist.row("K01")
    assert artist.sees("13 may hang, 3 with conditions, 17 not.")


def test_days_to_look_again_come_as_a_calendar_of_codes(artist):
    artist.go(WALL).follow("Days for a calendar")
    said = artist.answer.content.decode().replace("\r\n ", "")
    assert artist.answer.headers["Content-Disposition"] == 'attachment; filename="look-again.ics"'
    # 30 is grave: the last word opens 30 days before; the hold on 35 is looked into on its day.
    for day, picture in (("20270106", "K30"), ("20261201", "K35"), ("20270418", "K01")):
        event = next(one for one in said.split("BEGIN:VEVENT") if f"DATE:{day}" in one)
        assert picture in event
    assert "SUMMARY:Look again: E1" in said
    assert not any(name in said for name in ("Marcel", "Teresa", "Salma"))
