"""Journey 2, fourteen rings in an hour on a link that drops twice: each outcome in four presses."""

from datetime import UTC, date, datetime

import pytest

from relations.meetings.models import Call, Helper
from relations.people.models import NeverRing, Participant
from relations.privacy import home
from relations.privacy.models import AccessEntry, User
from tests.flows.hand import Hand, filled, said

MONDAY, TUESDAY = date(2026, 11, 23), date(2026, 11, 24)
# On the list of this day in the story already: 08, 16 and 26.
PLANNED = ("02", "05", "07", "11", "12", "15", "19", "23", "31", "32", "42")
FOURTEEN = {"08", "16", "26", *PLANNED}
AT_MOST = 4  # presses from the ring card to what came of it
PAGE_AND_ANSWER = 50_000  # bytes, as they are before anything packs them
THE_NO = "Noall erased by"  # "No answer" begins alike
FERNAND = "04 65 71 00 05"  # set aside for fiction


@pytest.fixture(autouse=True)
def twenty_to_eleven(monkeypatch, rehearsal) -> None:
    """The hour of F1's worked dates."""
    monkeypatch.setattr(home, "REHEARSAL_MOMENT", datetime(2026, 11, 23, 10, 40, tzinfo=UTC))


@pytest.fixture
def artist() -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def assistant(artist) -> Hand:
    for code in PLANNED:
        artist.go(f"/meetings/ring/{code}/plan/").press("Plan the ring", due_on="2026-11-23")
    hand = Hand(User.objects.get(username="loic"))
    hand.go("/")
    return hand


def listed(hand: Hand) -> set[str]:
    """The codes of those who fit today."""
    hand.go("/meetings/rings/")
    due = next(one for one in hand.page.iter("section") if one.get("aria-labelledby") == "h-due")
    links = (one.get("href") or "" for one in due.iter("a"))
    return {link.split("/")[3] for link in links if link.startswith("/meetings/ring/")}


def ring(hand: Hand, code: str) -> Hand:
    """The card of somebody, with the number shown and the telephone at the ear."""
    hand.go(f"/meetings/ring/{code}/")
    hand.presses = 0
    hand.press("Show number")
    assert [one for one in hand.page.iter("a") if (one.get("href") or "").startswith("tel:+33")]
    hand.presses += 1
    return hand


def next_of(code: str) -> Call:
    return Call.objects.get(person__code=code, state="planned")


def test_fourteen_are_on_the_list_and_nobody_whom_nobody_may_ring(assistant):
    assert listed(assistant) == FOURTEEN
    assert len(FOURTEEN) == 14


def test_those_never_to_be_rung_at_rest_or_not_vouched_for_are_refused_a_ring(artist, settings):
    for code, words in {"06": "unless they come to us", "37": "unless they come to us",
                        "41": "Nobody has vouched for them yet"}.items():  # fmt: skip
        artist.go(f"/meetings/ring/{code}/plan/").send("Plan the ring")
        assert any(words in line for line in artist.errors), code
    artist.go("/meetings/ring/25/")
    assert artist.sees("20 December 2026")
    settings.RELATIONS_TODAY = TUESDAY
    assert "33" in listed(artist), "safe on Tuesdays only"
    settings.RELATIONS_TODAY = MONDAY
    assert "33" not in listed(artist)
    assert artist.go("/meetings/ring/33/").sees("Only on: Tuesday. All other days are quiet.")


def test_shared_telephone_says_whom_to_ask_for_and_nothing_else(assistant):
    for code, name in {"19": "Bruno", "12": "Danuta"}.items():
        assistant.go(f"/meetings/ring/{code}/")
        assert assistant.sees("This telephone is shared")
        assert assistant.sees(f"{name}, say nothing else.")


def test_one_who_is_only_written_to_is_shown_no_way_to_be_rung(assistant):
    assistant.go("/meetings/ring/15/")
    assert assistant.sees("Never ring: write only.")
    assistant.press("Show number")
    links = [one.get("href") or "" for one in assistant.page.iter("a")]
    assert [link for link in links if link.startswith("sms:+33")]
    assert not [link for link in links if link.startswith("tel:")]
    assistant.press("No answer")
    assert Call.objects.get(person__code="15", at=home.now()).kind == "message"


def test_each_outcome_takes_four_presses_at_most_and_fifty_kilobytes(assistant):
    outcomes = {
        "02": "Someone else", "07": "No answer", "11": "Telephone off",
        "16": "Broke off", "19": "Thinking it over", "23": "Wants to see pictures",
        "26": "Wrong number", "31": "Asks who gave the number", "32": "Another language",
        "42": "Yes, let us meet", "05": THE_NO,
    }  # fmt: skip
    for code, words in outcomes.items():
        ring(assistant, code)
        page = len(assistant.answer.content)
        assistant.press(words)
        assert assistant.presses <= AT_MOST, (code, assistant.presses)
        assert page + len(assistant.answer.content) <= PAGE_AND_ANSWER, code
        assert Call.objects.filter(person__code=code, at=home.now()).exists()
    ring(assistant, "12").follow("Ring later").press("Ring later", day="2026-11-26")
    assert assistant.presses <= AT_MOST
    assert next_of("12").due_on == date(2026, 11, 26)


def test_every_number_that_was_shown_is_noted(assistant):
    before = AccessEntry.objects.filter(kind="phone").count()
    for code in ("07", "11"):
        ring(assistant, code)
    assert AccessEntry.objects.filter(kind="phone").count() == before + 2


def test_two_answers_that_were_lost_are_sent_again_and_stored_once(assistant):
    for code, outcome in {"02": "spoke", "11": "off"}.items():
        ring(assistant, code)
        form = next(one for one in assistant.page.iter("form") if "by_them" in said_names(one))
        body = {**filled(form), "outcome": outcome}
        address = form.get("action")
        answers = [assistant.client.post(address, body) for _ in range(3)]
        assert [answer.status_code for answer in answers] == [302] * 3
        assert Call.objects.filter(person__code=code, at=home.now()).count() == 1


def said_names(form) -> set[str]:
    return {one.get("name") or "" for one in form.iter("input")}


def test_three_silences_are_tried_again_when_the_formula_says(assistant, settings, monkeypatch):
    """F1, by hand: the first +2 days, the second +4, each in another part of the day; then 90."""
    for code in ("42", "16", "26"):
        ring(assistant, code).press("No answer")
    wednesday, friday = date(2026, 11, 25), date(2026, 11, 27)
    assert {code: next_of(code).due_on for code in ("42", "16", "26")} == {
        "42": wednesday,  # never rung before
        "16": friday,  # silent on 19 November
        "26": friday,  # silent on 20 November
    }
    assert all(next_of(code).parts == ["afternoon", "evening"] for code in ("42", "16", "26"))
    settings.RELATIONS_TODAY = friday
    monkeypatch.setattr(home, "REHEARSAL_MOMENT", datetime(2026, 11, 23, 14, 0, tzinfo=UTC))
    assistant.go("/")
    assert "16" in listed(assistant)
    ring(assistant, "16").press("No answer")
    assert next_of("16").due_on == date(2027, 2, 25), "90 days after 27 November"


def test_never_again_acts_at_once_and_is_refused_to_both_in_the_same_words(
    assistant, artist, settings
):
    ring(assistant, "05").follow("Never ring again").press("Never ring again")
    assert assistant.presses <= AT_MOST
    assert "05" not in listed(assistant)
    assert NeverRing.objects.filter(who=Participant.objects.get(code="05").log_key).exists()
    told = []
    for hand in (assistant, artist):
        hand.go("/people/12/phone/").send("Save", number=FERNAND)
        told.append(hand.errors)
    assert told[0] == told[1] == ["Number: This number may not be rung."]
    settings.RELATIONS_TODAY = TUESDAY
    artist.go("/")
    fernand = Participant.objects.get(code="05")
    assert (fernand.call_name, fernand.lines.count()) == ("", 0)
    artist.go("/people/12/phone/").send("Save", number=FERNAND)
    assert artist.errors == told[0]


def test_beats_are_said_in_their_language_and_read_in_ours(assistant):
    assistant.go("/meetings/ring/42/")
    scripts = [one for one in assistant.page.iter("ol") if one.get("class") == "beats"]
    assert [len(list(one.iter("li"))) for one in scripts] == [6]
    assert [one.get("lang") for one in scripts] == ["en"]
    assert "may I speak to" in said(scripts[0])
    known = Helper.objects.filter(kind="interpreter")
    theirs = [one.initials for one in known if "bn" in one.languages.split()]
    assert theirs
    assert all(assistant.sees(initials) for initials in theirs)
