"""Journey 7, a take-back at 21:10: "take me out of everything", by telephone, to the assistant."""

from datetime import date

import pytest

from relations.privacy.models import User
from tests.flows.hand import Hand

DANUTA, PICTURE = "12", "K12"
FEWER_THAN = 6  # presses, from the working page to "it is stopped"


@pytest.fixture
def assistant(rehearsal) -> Hand:
    return Hand(User.objects.get(username="loic"))


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


def take_everything_back(assistant: Hand) -> None:
    """Whoever is on the telephone says a code, and says stop."""
    assistant.go("/").follow("Stop / Hold")
    assistant.press("Go on", code=DANUTA).press("Stop everything")


def says_of(artist: Hand, plan: str, picture: str) -> str:
    """What the page of weighing says of one picture."""
    return artist.go(f"/uses/plan/{plan}/").row(picture)


def test_take_me_out_of_everything_in_under_six_presses_without_a_password(assistant):
    take_everything_back(assistant)
    assert assistant.presses < FEWER_THAN
    assert assistant.sees("It is stopped.")


def test_somebody_who_rings_is_stopped_on_their_own_page_too(assistant):
    assistant.go("/").follow("Somebody rang us").press("Heard", typed=DANUTA)
    assistant.follow("People").follow("Danuta").follow("Stop").press("Stop everything")
    assert assistant.address == f"/uses/undo/{DANUTA}/"


def test_no_password_is_asked_on_the_way(assistant):
    assistant.go("/").follow("Stop / Hold")
    pages = [assistant.html]
    pages.append(assistant.press("Go on", code=DANUTA).html)
    pages.append(assistant.press("Stop everything").html)
    assert not [page for page in pages if 'type="password"' in page]


def test_the_picture_weighs_withdrawn_in_every_plan_at_once(assistant, artist):
    before = {plan: says_of(artist, plan, PICTURE) for plan in ("E1", "B1")}
    assert not any("Took it back." in said for said in before.values())
    take_everything_back(assistant)
    for plan in before:
        assert "Took it back." in says_of(artist, plan, PICTURE), plan


def test_nobody_else_is_taken_back(assistant, artist):
    artist.go("/uses/plan/E1/")
    before = {code: artist.row(code) for code in ("K01", "K10", "K15", "K20")}
    take_everything_back(assistant)
    artist.go("/uses/plan/E1/")
    assert {code: artist.row(code) for code in before} == before


def test_undo_list_has_a_line_for_each_use_with_its_hour(assistant, artist):
    """F15 from 09:00: 24 hours for a page of ours, two days for a wall and for those we ask."""
    shown = {"U8": ("web", "The project’s site"), "U9": ("exhibition", "A small wall")}
    for code, (use, place) in shown.items():
        artist.go("/uses/shown/new/").press(
            "Keep in the register", code=code, use=use, pictures=[PICTURE], place=place,
            starts_on="2026-11-01", holder="Ines",
        )  # fmt: skip
    take_everything_back(assistant)
    artist.go(f"/uses/undo/{DANUTA}/")
    until = {"U4": "By 25 November 2026, 23:59.", "U8": "By 24 November 2026, 09:00."}
    for code, by in {**until, "U9": "By 25 November 2026, 23:59."}.items():
        assert by in artist.row(f"{PICTURE} {code}"), code
    assert artist.sees("Copies that others have made cannot be brought back.")
    artist.press("Told them all of it")


def test_answer_to_her_is_due_in_fourteen_days(assistant, artist):
    take_everything_back(assistant)
    artist.go(f"/person/{DANUTA}/")
    assert artist.sees("To be answered in words by 7 December 2026.")
    assert (date(2026, 12, 7) - date(2026, 11, 23)).days == 14


def test_her_print_stays_hers(assistant, artist):
    before = artist.go(f"/prints/{DANUTA}/{PICTURE}/").words
    take_everything_back(assistant)
    assert artist.go(f"/prints/{DANUTA}/{PICTURE}/").words == before
    artist.press("Ordered")
    assert artist.sees("Ordered on 23 November 2026.")
