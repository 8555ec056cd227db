"""Journey 10, a bag lost and a new assistant: the alarm, then a handover signed by both.

A sitter refuses the newcomer, who then finds nothing of them: the artist rings.
"""

import re
import subprocess
from datetime import timedelta

import pytest
from django.contrib.auth import authenticate
from django.urls import reverse
from django.utils import timezone

from relations.meetings.models import Call
from relations.people.access import people
from relations.people.models import InSight, Participant, Why
from relations.people.values import Risk
from relations.privacy.actions import change_password
from relations.privacy.home import today
from relations.privacy.models import Role, User
from relations.rights.models import Alarm, Handover, ToIntroduce
from tests.flows.hand import Hand

FIRST, OLD, NEW = (f"the invented tide turns at {hour}" for hour in ("four", "six", "nine"))
HANDOVER = "/alarm/handover/"


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def loic(rehearsal) -> User:
    user = User.objects.get(username="loic")
    user.set_password(OLD)
    user.save()
    return user


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


def levels(codes: list[str]) -> list[str]:
    found = dict(Participant.objects.values_list("code", "level"))
    return [found[code] or Risk.RAISED for code in codes]


def test_alarm_ends_what_the_assistant_has_open_and_lists_grave_first(artist, loic):
    before, his = timezone.now(), Hand(loic).go("/")
    assert his.sees("Ring list")
    artist.go("/alarm/").press("A bag")
    alarm = Alarm.objects.get(what="bag", known_at__gte=before - timedelta(days=7), closed_on=None)
    assert timedelta() < alarm.sessions_ended_at - before < timedelta(minutes=2)
    assert "sign-in" in his.go("/").address or not his.sees("Ring list")
    artist.go(reverse("rights:affected", args=[alarm.pk]))
    codes = list(alarm.affected.values_list("code", flat=True))
    shown = sorted(codes, key=lambda code: artist.html.index(f'code num">{code}<'))
    order = [Risk.GRAVE, Risk.RAISED, Risk.ORDINARY]
    assert len(shown) > 3
    assert levels(shown) == sorted(levels(shown), key=order.index)


def test_handover_is_counted_and_signed_by_both_and_a_sitter_refuses(artist, loic):
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
