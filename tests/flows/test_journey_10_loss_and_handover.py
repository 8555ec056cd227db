"""Journey 10, a loss and a new assistant: the alarm, then a handover signed by both.

A telephone is lost while a travelling set is out; a borrowed browser ends everything at once.
A sitter refuses the newcomer, who then finds nothing of them: the artist rings.
"""

import re
import subprocess
from datetime import timedelta
from uuid import uuid4

import pytest
from django.contrib.auth import authenticate
from django.urls import reverse

from relations.consent.models import Wording
from relations.meetings import travelling
from relations.meetings.models import Call, Trip
from relations.meetings.values import SetEnd
from relations.people.access import people
from relations.people.models import InSight, Participant, Why
from relations.people.values import Risk
from relations.privacy.actions import change_password
from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.rights.models import Alarm, Handover, ToIntroduce
from tests import cast
from tests.flows.hand import Hand, tell_from_elsewhere

FIRST, OLD, NEW = (f"the invented tide turns at {hour}" for hour in ("four", "six", "nine"))
HANDOVER = "/alarm/handover/"
# On the lists of the assistant besides the day's own; neither has a safe hour when it is lost.
ORDINARY, GRAVE = "12", "30"


@pytest.fixture
def loic(rehearsal) -> User:
    user = User.objects.get(username="loic")
    user.set_password(OLD)
    user.save()
    return user


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


def add_newcomer(artist: Hand) -> User:
    """Added as a reader of wordings, with a password of her own."""
    said = {"username": "maelle", "called": "Maëlle", "password": FIRST}
    artist.go(reverse("privacy:new_account")).press("Add", role=Role.WORDING_READER.value, **said)
    return User.objects.get(username="maelle")


def begun(artist: Hand) -> None:
    artist.go(HANDOVER)
    gone, come = artist.choice("gone", "Loïc"), artist.choice("come", "Maëlle")
    artist.press("Begin the handover", gone=gone, come=come)


def counts(**other: str) -> dict[str, str]:
    """Both count 20 blanks, 11 prints, two keys and one telephone."""
    same = {"blanks": "20", "prints": "11", "keys": "2", "phones": "1"}
    said = {f"{who}_{what}": n for who in ("gone", "come") for what, n in same.items()}
    return {**said, "gone_password": OLD, "come_password": NEW, **other}


def lost_with_a_set_out(loic: User) -> Alarm:
    """A telephone is gone, and a set was carried: all of it ends by one sending, for everybody."""
    hands = [Hand(User.objects.get(username=name)).go("/") for name in ("ines", "loic", "aude")]
    before, trip = now(), Trip.objects.get(code="T7")
    carried = travelling.make(trip=trip, made_for=loic, secret="random", at=before)
    borrowed, answer = tell_from_elsewhere(OLD, "phone")
    assert "The alarm is raised" in answer.content.decode()
    assert "sessionid" not in borrowed.cookies
    listed = Alarm.objects.get(closed_on=None).affected.all()
    assert not [one for one in listed if one.call_name in answer.content.decode()]
    assert [hand.client.get("/").status_code for hand in hands] == [302] * 3
    assert borrowed.get("/").status_code == 302

    alarm = Alarm.objects.get(closed_on=None)
    carried.refresh_from_db()
    assert carried.ended_how == SetEnd.ALARM
    for ended in (alarm.sessions_ended_at, carried.ended_at):
        assert timedelta() <= ended - before < timedelta(minutes=2)
    return alarm


def levels(codes: list[str]) -> list[str]:
    found = dict(Participant.objects.values_list("code", "level"))
    return [found[code] or Risk.RAISED for code in codes]


def told_grave_first(artist: Hand, alarm: Alarm) -> None:
    """The artist rings in the order of the list, a number only where the hour allows it."""
    codes = set(alarm.affected.values_list("code", flat=True))
    waiting = f"{len(codes)} people are still to be told. 72 hours left to tell the authority"
    assert artist.go("/").sees(waiting)
    artist.follow_to(f"/alarm/{alarm.pk}/")
    assert artist.sees("The travelling set of T7 with Loïc was out.")
    listed = list(dict.fromkeys(re.findall(r"/tell/(\w+)/", artist.html)))
    assert codes == set(listed) >= {ORDINARY, GRAVE}
    order = [Risk.GRAVE, Risk.RAISED, Risk.ORDINARY]
    assert set(levels(listed)) == set(order)
    assert levels(listed) == sorted(levels(listed), key=order.index)
    for code in listed:
        person = Participant.objects.get(code=code)
        artist.follow_to(f"/alarm/{alarm.pk}/tell/{code}/")
        tag = person.language_list[0]
        words = Wording.objects.filter(language=tag).order_by("-version").first().labels
        assert artist.sees(words["warn_what"])
        if code in {ORDINARY, GRAVE}:
            assert artist.has_button("Show number") is (code == GRAVE), artist.words
        artist.press("Told them")
    assert artist.sees("0 still to be told")


def authority_told_and_closed(keeper: Hand, alarm: Alarm) -> None:
    keeper.go("/").follow_to(f"/alarm/{alarm.pk}/authority/")
    assert keeper.sees("72 hours left to tell the authority, until 26 November 2026, 09:00.")
    refused = keeper.client.post(f"/alarm/{alarm.pk}/close/", {"token": str(uuid4())})
    assert refused.status_code == 422
    keeper.press("Note it", told_on=today().isoformat())
    assert keeper.sees("The authority was told on 23 November 2026.")
    keeper.follow("Alarm").press("Close it")
    assert Alarm.objects.get(pk=alarm.pk).closed_on == today()


def test_what_is_lost_ends_at_once_then_the_newcomer_takes_over_and_a_sitter_refuses(loic):
    for code in (ORDINARY, GRAVE):
        cast.in_sight(Participant.objects.get(code=code), loic)
    alarm = lost_with_a_set_out(loic)
    artist = Hand(User.objects.get(username="ines"))
    assert artist.go("/trips/T7/").sees("Ended by an alarm on 23 November 2026")
    told_grave_first(artist, alarm)
    authority_told_and_closed(Hand(User.objects.get(username="aude")), alarm)
    handed_over(artist, loic)


def handed_over(artist: Hand, loic: User) -> None:
    """Counted and signed by both; the old access ends with it, and each sitter is asked."""
    his, past = Hand(loic).go("/"), list(Call.objects.order_by("pk").values())
    come = add_newcomer(artist)
    begun(artist)
    for line in ("Rings planned6", "Blank forms20", "Prints with us11"):
        assert line in artist.words
    artist.send("Both sign", counts(come_password=FIRST))
    assert any("chooses a password first" in one for one in artist.errors)
    change_password(user=come, password=NEW)

    artist.send("Both sign", counts(come_keys="1"))
    assert any("The numbers differ" in one for one in artist.errors)
    artist.send("Both sign", counts(gone_password=NEW))
    assert any("not their password" in one for one in artist.errors)
    assert Handover.objects.get().signed_by_both_at is None
    assert his.go("/").sees("Ring list")
    artist.press("Both sign", counts())

    row = Handover.objects.get()
    assert row.signed_by_both_at is not None
    assert (row.counts["blanks"], row.counts["prints"], row.by_hand["come"]["keys"]) == (20, 11, 2)
    assert not his.go("/").sees("Ring list")
    assert authenticate(username="loic", password=OLD) is None
    assert User.objects.get(username="maelle").role == Role.ASSISTANT
    assert list(Call.objects.order_by("pk").values()) == past

    told = [one.person.level for one in ToIntroduce.objects.filter(handover=row)]
    assert (told.count("raised"), told.count("grave"), len(told)) == (11, 4, 15)
    assert artist.go("/").sees("Introduce the newcomer 15")
    one_refuses(artist, User.objects.get(username="maelle"))


def without_token(answer) -> str:
    return re.sub(r'name="csrfmiddlewaretoken" value="[^"]+"', "", answer.content.decode())


def one_refuses(artist: Hand, newcomer: User) -> None:
    """Somebody with a ring due refuses: out of the newcomer's sight, on the artist's Today."""
    hers, code = Hand(newcomer).go("/"), "13"
    sitter = Participant.objects.get(code=code)
    InSight.objects.get_or_create(person=sitter, user=newcomer, day=today(), why=Why.RING)
    page = reverse("today:person", args=[code])
    assert hers.go(page).sees(code)
    artist.go(reverse("rights:introduce"))
    artist.press(f"Only the artist rings {code}")
    absent, refused = (hers.client.get(reverse("today:person", args=[c])) for c in ("ZZ9", code))
    assert (absent.status_code, refused.status_code) == (404, 404)
    assert without_token(absent) == without_token(refused)
    assert not people(newcomer).filter(code=code).exists()
    # Nor once her day is laid out anew, nor when somebody rings her and says the code.
    assert code not in {one.code for one in people(newcomer) if hers.go("/")}
    hers.go(reverse("people:rang_us"))
    hers.press("Heard", typed=code)
    assert not hers.sees(sitter.call_name)
    assert not people(newcomer).filter(code=code).exists()
    assert artist.go("/").row(code).startswith(f"{code}{sitter.call_name}Does not want Maëlle")
    artist.go(reverse("rights:introduce")).press("They may come after all")
    assert hers.go(page).sees(code)


@pytest.mark.needs("pdftotext")
def test_the_list_is_printed_with_codes_and_counts_and_no_name(artist, loic):
    add_newcomer(artist)
    begun(artist)
    row = Handover.objects.get()
    answer = artist.client.get(reverse("rights:handover_pdf", args=[row.pk]))
    assert answer.headers["Content-Type"] == "application/pdf"
    ran = subprocess.run(
        ["pdftotext", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    said = ran.stdout.decode()
    assert "Blank forms" in said
    for name in (one.call_name for one in Participant.objects.all() if one.call_name):
        assert name not in said.split()
