"""Journey 8, an arrest: 17 cannot answer, 18 speaks for them, and a reporter asks."""

from datetime import date

import pytest
from django.urls import reverse

from relations.privacy.models import User
from relations.rights.models import OthersAsk
from tests.flows.hand import Hand

RACHID, PICTURE = "17", "K17"
# Two days after the rehearsal's own day: the speaker is asked then.
ASKED = date(2026, 11, 25)
AWAY = "Cannot answer for now, and nobody has said yes for them since."
SPOKEN = "The one who speaks for them said yes."
DOWN = "Cover it on the wall now, whatever the hour."


@pytest.fixture
def assistant(rehearsal) -> Hand:
    return Hand(User.objects.get(username="loic"))


@pytest.fixture
def artist(rehearsal, settings) -> Hand:
    settings.RELATIONS_TODAY = ASKED
    return Hand(User.objects.get(username="ines"))


def says_of(artist: Hand, plan: str) -> str:
    """What the page of weighing says of the picture."""
    return artist.go(f"/uses/plan/{plan}/").row(PICTURE)


def the_speaker_says(artist: Hand, use: str, answer: str, on: date = ASKED) -> None:
    artist.go(reverse("consent:speaker_says", args=[RACHID]))
    artist.press("Note it", use=use, is_yes=artist.choice("is_yes", answer), on=on.isoformat())


def plan_for_the_press(artist: Hand) -> None:
    artist.go("/uses/plans/new/").press(
        "Note the plan", code="P8", use="press", starts_on="2027-01-10", paper_only=True
    )
    artist.press("Ask for these", pictures=[PICTURE]).press("Name them so")


def test_the_wall_opens_at_the_speakers_yes_and_the_press_stays_shut(artist):
    plan_for_the_press(artist)
    assert AWAY in says_of(artist, "E1")
    assert AWAY in says_of(artist, "P8")
    the_speaker_says(artist, "exhibition", "Yes")
    the_speaker_says(artist, "press", "No")
    wall, press = says_of(artist, "E1"), says_of(artist, "P8")
    assert wall.startswith(f"{PICTURE}with a condition"), wall
    assert SPOKEN in wall
    assert AWAY not in wall
    assert press.startswith(f"{PICTURE}not"), press
    assert AWAY in press


def test_a_speakers_word_from_before_the_event_counts_for_nothing(artist):
    the_speaker_says(artist, "exhibition", "Yes", on=date(2026, 9, 3))
    assert AWAY in says_of(artist, "E1")


def test_what_hangs_comes_down_until_the_speaker_says_yes(artist):
    artist.go("/uses/shown/new/").press(
        "Keep in the register", code="U8", use="exhibition", pictures=[PICTURE],
        place="A small wall", starts_on="2026-08-01", holder="Ines", reach_holder="at her desk",
    )  # fmt: skip
    line = artist.go("/uses/undo/").row(f"{PICTURE} U8")
    assert DOWN in line
    assert "They cannot answer for now" in line
    artist.go(f"/uses/undo/{RACHID}/").press("Told the holder")
    assert "Told the holder on 25 November 2026." in artist.row(f"{PICTURE} U8")
    the_speaker_says(artist, "exhibition", "Yes")
    assert DOWN not in artist.go("/uses/undo/").words


def ask(assistant: Hand, **said: str) -> str:
    assistant.go("/").follow("Others ask")
    told = assistant.choice("told", "The sentence")
    assistant.press("Note it", asked_by="press", told=told, **said)
    return assistant.words


def test_a_reporters_call_is_logged_and_nothing_is_confirmed(assistant, artist):
    before = OthersAsk.objects.count()
    of_him, of_nobody, of_none = (ask(assistant, code=c) for c in (RACHID, "99", ""))
    assert of_him == of_nobody == of_none
    assert "I do not speak about people." in of_him
    assert RACHID not in of_him
    assert OthersAsk.objects.count() - before == 3
    rows = artist.go("/alarm/others-ask/").row(f"25 November 2026A reporter · {RACHID}")
    assert rows.endswith("The sentence, and nothing else")


def test_police_hear_the_sentence_from_the_assistant_and_nothing_else(assistant):
    assistant.go("/").follow("Others ask")
    with pytest.raises(AssertionError, match="not 'That the artist answers'"):
        assistant.choice("told", "That the artist answers")
    message = assistant.choice("told", "That a message may be left")
    assistant.send("Note it", asked_by="police", told=message)
    assert any("only the artist speaks" in error for error in assistant.errors)
    assistant.press("Note it", told=assistant.choice("told", "The sentence"))
