"""Bad input that comes late: an old tab, a ring of somebody let go, a day sheet typed twice."""

from datetime import UTC, datetime

import pytest

from relations.meetings.models import Call
from relations.people.models import Participant
from relations.privacy import home
from relations.privacy.models import User
from relations.rights.erasing import erase
from tests.flows.hand import Hand, filled


@pytest.fixture(autouse=True)
def twenty_to_eleven(monkeypatch, rehearsal) -> None:
    monkeypatch.setattr(home, "REHEARSAL_MOMENT", datetime(2026, 11, 23, 10, 40, tzinfo=UTC))


@pytest.fixture
def hand() -> Hand:
    artist = Hand(User.objects.get(username="ines"))
    artist.go("/meetings/ring/42/plan/").press("Plan the ring", due_on="2026-11-23")
    hand = Hand(User.objects.get(username="loic"))
    hand.go("/")
    return hand


def rings() -> int:
    return Call.objects.filter(person__code="42").exclude(outcome="").count()


def other_tab(hand: Hand, address: str) -> Hand:
    """The same person at the same browser, with a second page open."""
    tab = Hand(User.objects.get(username="loic"))
    tab.client = hand.client
    return tab.go(address)


@pytest.mark.parametrize("page", ["", "later/", "thinking/"])
def test_second_tab_with_an_old_page_is_told_and_moves_nothing_twice(hand, page):
    hand.go("/meetings/ring/42/")
    tab = other_tab(hand, f"/meetings/ring/42/{page}")
    hand.press("No answer")
    plan = Call.objects.get(person__code="42", state="planned")
    words = {"": "No answer", "later/": "Ring later", "thinking/": "Remind them once"}[page]
    tab.send(words, {"day": "2026-12-01"} if page else None)
    assert tab.answer.status_code == 422
    assert "A ring was noted since this page was opened." in tab.errors[0]
    assert rings() == 1
    assert Call.objects.get(person__code="42", state="planned") == plan
    if page:
        assert tab.value("day") == "2026-12-01"
    tab.press(words)
    assert rings() == 2, "looked at again, it is a second ring"


def test_no_on_an_old_page_is_heard_all_the_same(hand):
    hand.go("/meetings/ring/42/")
    tab = other_tab(hand, "/meetings/ring/42/")
    hand.press("No answer")
    tab.press("Noall erased by")
    assert Participant.objects.get(code="42").standing == "said_no"


def test_ring_of_somebody_let_go_a_minute_ago_is_told_in_words(hand):
    hand.go("/meetings/ring/42/")
    Participant.objects.filter(code="42").update(standing="let_go")
    hand.send("Thinking it over")
    assert hand.answer.status_code == 422
    assert hand.errors == ["Nobody rings here unless they come to us."]
    assert rings() == 0


def test_ring_of_somebody_erased_a_minute_ago_stores_nothing(hand):
    hand.go("/meetings/ring/42/")
    bodies = [filled(one) for one in hand.page.iter("form") if "seen" in filled(one)]
    erase(
        person=Participant.objects.get(code="42"),
        by=User.objects.get(username="aude"),
        at=home.now(),
    )
    before = Call.objects.count()
    answer = hand.client.post("/meetings/ring/42/", {**bodies[0], "outcome": "thinking"})
    assert answer.status_code == 404
    assert Call.objects.count() == before


def test_day_sheet_typed_twice_stores_once_and_says_so(hand):
    hand.go("/").follow("Day sheet")
    languages = {name: hand.choice(name, words) for name, words in
                 (("first", "Français"), ("second", "English"))}  # fmt: skip
    hand.press("Print the day sheet", languages)
    assert hand.answer.headers["Content-Type"] == "application/pdf"
    hand.go("/").follow("Type it in")
    address = hand.address
    number = line_of(hand, "42")
    tab = other_tab(hand, address)
    typed = {f"came_{number}": "no_answer", f"hour_{number}": "10:15"}
    hand.press("Type it in", typed)
    call = Call.objects.get(person__code="42", outcome="no_answer")
    assert f"{call.at:%H:%M}" in {"10:15", "09:15"}, "in our zone, or in UTC"
    tab.send("Type it in", typed)
    assert tab.answer.status_code == 422
    assert tab.errors == [f"Line {number}: it was typed in before. Nothing was stored twice."]
    assert rings() == 1


def line_of(hand: Hand, code: str) -> str:
    """The number of the line about somebody, as it stands over its fields."""
    heads = ["".join(one.itertext()).split(" · ") for one in hand.page.iter("legend")]
    return next(head[0].strip() for head in heads if code in [part.strip() for part in head])
