"""The three short forms: what they let through, and where each leads."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from relations.people.models import InSight
from relations.prints.models import Print
from relations.privacy.refused import Refused
from relations.today.outbox_forms import (
    FORMS,
    DeliveryEntry,
    EntryForm,
    RingEntry,
    RoundEntry,
    StopEntry,
)
from tests import cast
from tests.prints import bag
from tests.rows import make

pytestmark = pytest.mark.django_db
DAY = cast.TODAY.isoformat()
RING = {"outcome": "no_answer", "hour": "08:30", "asked_on": "", "asked_hour": ""}


def form(kind, user, **typed):
    said = {"kind": kind.KIND, "code": "12", "day": DAY, "token": str(uuid.uuid4()), **typed}
    return kind(said, user=user)


def test_there_is_one_form_of_each_kind_and_the_first_of_all_does_nothing():
    assert list(FORMS) == ["stop", "delivery", "round", "ring"]
    with pytest.raises(NotImplementedError):
        EntryForm.act(RingEntry(), cast.artist())


def test_nobody_is_found_by_a_form_that_was_not_checked():
    with pytest.raises(Refused, match="nobody"):
        StopEntry().found()


def test_ring_that_is_still_to_come_is_not_taken(settings):
    settings.RELATIONS_TODAY = None
    cast.danuta()
    soon = timezone.localtime() + timedelta(hours=2)
    when = {"day": soon.date().isoformat(), "hour": f"{soon:%H:%M}"}
    assert not form(RingEntry, cast.artist(), **{**RING, **when}).is_valid()


def test_spoken_and_agreed_rings_lead_where_their_page_does():
    cast.danuta()
    artist = cast.artist()
    spoke = form(RingEntry, artist, **RING, by_them="on")
    assert spoke.is_valid()
    assert spoke.act(artist) == "/meetings/rings/"
    teodor = cast.person("19", "Teodor", "being_rung")
    meet = form(RingEntry, artist, **{**RING, "outcome": "yes_meet"}, code=teodor.code)
    assert meet.is_valid()
    assert meet.act(artist) == "/meetings/fix/19/"


def test_talk_from_which_nothing_follows_is_noted_as_one():
    danuta, artist = cast.danuta(), cast.artist()
    spoke = {**RING, "outcome": "spoke", "by_them": "on"}
    said = form(RingEntry, artist, **spoke)
    assert said.is_valid()
    assert said.act(artist) == "/meetings/rings/"
    assert danuta.calls.get(outcome="spoke").line
    fresh = form(RingEntry, artist, **spoke, code=cast.person("19", "Teodor", "being_rung").code)
    assert fresh.is_valid()
    with pytest.raises(Refused, match="has_not_sat"):
        fresh.act(artist)


def test_delivery_of_a_picture_leads_to_the_way_of_its_print():
    artist, danuta = cast.artist(), cast.danuta()
    row = make(Print, person=danuta, state="out_on_a_round", is_safe=True, state_on=cast.days(-2))
    code = row.picture.code if row.picture else ""
    said = form(DeliveryEntry, artist, to="not_home", picture=code)
    assert said.is_valid()
    assert said.act(artist) == f"/prints/12/{code or 'no-picture'}/"


def test_stop_of_somebody_in_sight_leads_to_what_must_come_down():
    danuta, loic = cast.danuta(), cast.assistant()
    InSight.objects.create(person=danuta, user=loic, day=cast.TODAY, why="stop")
    said = form(StopEntry, loic, what="all")
    assert said.is_valid()
    assert said.act(loic) == "/uses/undo/12/"


def letter(user, code="r1", **typed):
    return form(RoundEntry, user, **{"code": code, "letter": "a", "came": "given", **typed})


def test_letter_of_a_round_says_no_code_of_anybody_and_leads_to_its_page():
    bag.out(bag.ready(cast.danuta(), "K12"))
    loic = cast.assistant()
    said = letter(loic)
    assert said.is_valid(), said.errors
    assert said.act(loic) == "/prints/rounds/R1/typed/"
    assert Print.objects.get().state == "acknowledged"
    again = letter(loic)
    assert again.is_valid()
    with pytest.raises(Refused, match="typed_already"):
        again.act(loic)


def test_letter_of_no_round_and_of_somebody_elses_is_of_nobody():
    bag.out(bag.ready(cast.danuta(), "K12"))
    for user, typed in (
        (cast.assistant(), {"letter": "B"}),
        (cast.assistant(), {"code": "R2"}),
        (cast.second_assistant(), {}),
    ):
        assert not letter(user, **typed).is_valid()
    with pytest.raises(Refused, match="nobody"):
        RoundEntry().act(cast.assistant())


def test_entry_of_a_letter_is_about_the_person_behind_the_door():
    bag.out(bag.ready(cast.danuta(), "K12"))
    assert RoundEntry.whose({"code": "r1", "letter": "a"}) == cast.danuta()
    assert RoundEntry.whose({"code": "R9", "letter": "A"}) is None
    assert RoundEntry.whose({}) is None
    assert StopEntry.whose({"code": "12"}) == cast.danuta()
