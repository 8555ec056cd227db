"""What telephones wrote is acted on once as by a press, or kept and shown: never lost."""

import json
import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.http import Http404
from django.utils import timezone

from relations.consent.models import TakenBack
from relations.languages.local_calendars import Calendar
from relations.languages.manner import Manner, speaking
from relations.meetings.models import Call
from relations.people.models import InSight
from relations.prints.models import Print, Step
from relations.privacy import clock
from relations.privacy.models import EntryState, OutboxEntry, OutboxKey, User
from relations.privacy.outbox import renew, stand
from relations.privacy.refused import Refused
from relations.today import outbox
from tests import cast, phone
from tests.rows import make

pytestmark = pytest.mark.django_db
DAY = cast.TODAY.isoformat()
HOURS = timedelta(hours=26)


@pytest.fixture
def loic():
    stand()
    return cast.assistant()


@pytest.fixture
def owed(loic):
    """Danuta's print, out on a round, and Danuta in sight of the assistant."""
    danuta = cast.danuta()
    InSight.objects.create(person=danuta, user=loic, day=cast.TODAY, why="print")
    out = {"state": "out_on_a_round", "state_on": cast.days(-2), "is_safe": True}
    return make(Print, person=danuta, picture=None, owed_since=cast.days(-90), **out)


def delivery(**other):
    return {"kind": "delivery", "code": "12", "picture": "", "to": "in_hand", "day": DAY, **other}


def stop(**other):
    return {"kind": "stop", "code": "12", "what": "all", "day": DAY, **other}


def ring(**other):
    usual = {"kind": "ring", "code": "12", "outcome": "no_answer", "day": DAY, "hour": "08:30"}
    return {**usual, "asked_on": "", "asked_hour": "", **other}


def take(user, said, **how):
    now = how.pop("now", timezone.now())
    return outbox.take_in(parcel=outbox.parcel(phone.body(said, now, **how)), by=user)[0]


def test_delivery_moves_the_print_and_both_times_are_kept(loic, owed):
    entry = take(loic, delivery())
    owed.refresh_from_db()
    assert (entry.state, owed.state, owed.state_on) == (EntryState.DONE, "in_hand", cast.TODAY)
    entry.refresh_from_db()
    assert entry.said == {} and entry.about == owed.person.log_key
    assert entry.written_at <= entry.received_at


def test_same_key_is_acted_on_once_whoever_sends_it(loic, owed):
    sent = outbox.parcel(phone.body(delivery(), timezone.now()))
    first, is_new = outbox.take_in(parcel=sent, by=loic)
    again, is_again = outbox.take_in(parcel=sent, by=cast.artist())
    assert (is_new, is_again, again.pk) == (True, False, first.pk)
    assert again.by == loic
    assert Step.objects.count() == OutboxEntry.objects.count() == 1


def test_stop_acts_on_somebody_out_of_sight_and_by_any_role(loic):
    keeper = make(User, role="keeper")
    cast.danuta()
    assert take(keeper, stop(what="use:web")).state == EntryState.DONE
    assert TakenBack.objects.get().use == "web"


def test_ring_is_dated_by_the_ring(loic, owed):
    assert take(loic, ring(outcome="no_answer", by_them="on")).state == EntryState.DONE
    call = Call.objects.exclude(outcome="").get()
    assert timezone.localtime(call.at).strftime("%H:%M") == "08:30"
    assert call.by == loic


def test_ring_leads_on_with_the_day_they_named(loic, owed):
    later = ring(outcome="ring_later", asked_on=cast.days(2).isoformat(), asked_hour="10:00")
    assert take(loic, later).state == EntryState.DONE
    assert Call.objects.get(outcome="").due_on == cast.days(2)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        (delivery(code="99"), None),
        (delivery(code="01"), None),
        (delivery(picture="K99"), "no_print"),
        (delivery(to="acknowledged"), None),
        (delivery(to="returned_by_them"), "two_steps"),
        (delivery(day="yesterday"), None),
        (ring(outcome="ring_later"), "no_day"),
        (stop(code="99"), None),
        (stop(what="use:nothing"), None),
    ],
)
def test_what_cannot_be_acted_on_is_kept_and_shown_to_its_writer(loic, owed, said, code):
    cast.marcel()  # 01, out of sight
    entry = take(loic, said)
    assert entry.state == EntryState.REFUSED
    kept = outbox.waiting(loic).get()
    assert {name: kept.said["typed"][name] for name in said} == said
    assert kept.said["codes"] == ([code] if code else [])
    assert outbox.shown(kept, loic).errors
    assert not Step.objects.exists() and not TakenBack.objects.exists()


def test_keeper_writes_no_ring(loic, owed):
    keeper = make(User, role="keeper")
    assert take(keeper, ring()).state == EntryState.REFUSED


def test_whoever_has_yet_to_choose_a_password_writes_a_stop_only(loic, owed):
    loic.must_choose_password = True
    loic.save()
    assert take(loic, ring()).said["codes"] == ["not_yours"]
    assert take(loic, stop()).state == EntryState.DONE


def test_what_nobody_can_open_is_kept_as_it_came(loic):
    sealed = {"to": str(uuid.uuid4()), "wrapped": "AA==", "nonce": "AA==", "closed": "AA=="}
    entry = outbox.take_in(parcel=outbox.Parcel(uuid.uuid4(), sealed, timezone.now()), by=loic)[0]
    assert (entry.state, entry.said) == (EntryState.UNREAD, {"sealed": sealed})
    assert outbox.shown(entry, loic) is None
    assert take(loic, {"kind": "letter"}).state == EntryState.UNREAD


def test_entry_sealed_to_an_older_key_is_still_acted_on(loic, owed):
    sent = outbox.parcel(phone.body(delivery(), timezone.now()))
    renew()
    assert OutboxKey.objects.count() == 2
    assert outbox.take_in(parcel=sent, by=loic)[0].state == EntryState.DONE


@pytest.mark.parametrize("off", [HOURS, -HOURS])
def test_clock_a_day_wrong_is_asked_about_and_nothing_is_stored_wrong(loic, owed, off):
    entry = take(loic, delivery(), now=timezone.now() + off)
    assert entry.state == EntryState.ASKED
    assert not Step.objects.exists()
    form = outbox.shown(outbox.waiting(loic).get(), loic)
    assert form.is_valid()
    outbox.settle(entry=entry, form=form, by=loic)
    assert Step.objects.get().on == cast.TODAY
    entry.refresh_from_db()
    assert entry.written_at - entry.received_at > off - timedelta(minutes=1)


def test_day_of_a_wrong_clock_is_shown_as_most_likely_meant(loic, owed, settings):
    settings.RELATIONS_TODAY = None
    yesterday = timezone.now() - timedelta(days=1)
    local = timezone.localtime(yesterday)
    said = ring(day=local.date().isoformat(), hour=f"{local:%H:%M}")
    entry = take(loic, said, now=yesterday)
    form = outbox.shown(entry, loic)
    assert form["day"].value() == timezone.localdate().isoformat()
    bad = take(loic, ring(day="then"), now=yesterday)
    assert outbox.shown(bad, loic)["day"].value() == "then"


def test_stop_of_a_wrong_clock_acts_today_and_asks_for_its_day(loic):
    cast.danuta()
    entry = take(loic, stop(day=cast.days(1).isoformat()), now=timezone.now() + HOURS)
    assert entry.state == EntryState.ASKED
    assert entry.said["acts_since"] == DAY
    assert TakenBack.objects.get().said_on == cast.TODAY
    form = outbox.form_of(entry, loic, day=cast.days(-1).isoformat())
    assert form.is_valid()
    outbox.settle(entry=entry, form=form, by=loic)
    assert {row.said_on for row in TakenBack.objects.all()} == {cast.TODAY, cast.days(-1)}


def test_day_in_another_calendar_is_shown_to_its_writer_and_a_stop_acts_at_once(loic, owed):
    """A telephone cannot ask back: an entry waits for its writer, a no never does."""
    typed = "6 Mangsir 2083"
    entry = take(loic, delivery(day=typed))
    assert entry.state == EntryState.REFUSED
    assert entry.said["typed"]["day"] == typed
    form = outbox.shown(entry, loic)
    assert form.has_error("day", "confirm")
    with speaking(Manner("ne", calendar=Calendar.BIKRAM_SAMBAT)):
        # In figures it fits two calendars: the stop acts from today, and its day is asked for.
        heard = take(loic, stop())
    assert heard.state == EntryState.ASKED
    assert TakenBack.objects.get().said_on == cast.TODAY


def test_day_that_the_page_proposed_needs_no_asking_in_any_calendar(loic, owed):
    with speaking(Manner("ne", calendar=Calendar.BIKRAM_SAMBAT)):
        entry = take(loic, delivery(day_meant=DAY))
    owed.refresh_from_db()
    assert (entry.state, owed.state_on) == (EntryState.DONE, cast.TODAY)


def test_while_our_own_clock_is_behind_only_a_stop_is_taken_in(loic, owed, monkeypatch):
    monkeypatch.setattr(clock, "behind", timezone.now)
    with pytest.raises(outbox.NotNow):
        take(loic, delivery())
    assert not OutboxEntry.objects.exists()
    assert take(loic, stop()).state == EntryState.DONE


def test_entry_is_settled_once_and_by_its_writer_or_the_artist(loic, owed):
    entry = take(loic, delivery(picture="K99"))
    other = make(User, role="assistant")
    with pytest.raises(Http404):
        outbox.entry_or_404(other, entry.pk)
    assert outbox.entry_or_404(cast.artist(), entry.pk) == entry
    form = outbox.form_of(entry, loic, picture="")
    assert form.is_valid()
    assert outbox.settle(entry=entry, form=form, by=loic) == "/prints/12/no-picture/"
    with pytest.raises(Refused, match="settled"):
        outbox.settle(entry=entry, form=form, by=loic)
    assert Step.objects.count() == 1
    with pytest.raises(Http404):
        outbox.entry_or_404(loic, entry.pk)


def test_letting_go_empties_the_row_and_keeps_its_key(loic, owed):
    sent = outbox.parcel(phone.body(delivery(picture="K99"), timezone.now()))
    entry, _ = outbox.take_in(parcel=sent, by=loic)
    outbox.let_go(entry=entry, by=loic)
    assert outbox.take_in(parcel=sent, by=loic) == (entry, False)
    entry.refresh_from_db()
    assert (entry.state, entry.said) == (EntryState.LET_GO, {})


def test_what_was_acted_on_meanwhile_is_not_let_go(loic, owed):
    waiting = take(loic, delivery(picture="K99"))
    settled = outbox.form_of(waiting, loic, picture="")
    assert settled.is_valid()
    outbox.settle(entry=waiting, form=settled, by=loic)
    outbox.let_go(entry=waiting, by=loic)
    assert OutboxEntry.objects.get(pk=waiting.pk).state == EntryState.DONE


def test_what_was_typed_lies_sealed_in_the_register(loic, owed):
    entry = take(loic, delivery(picture="K99"))
    with connection.cursor() as cursor:
        cursor.execute("SELECT said FROM privacy_outboxentry")
        stored = bytes(cursor.fetchone()[0])
    assert b"K99" not in stored and entry.said["typed"]["picture"] == "K99"


@pytest.mark.parametrize("body", [b"", b"[]", b"{}", b'{"key":"no","sealed":{}}', b'{"sealed":1}'])
def test_body_of_another_shape_is_no_parcel(body):
    with pytest.raises(ValueError, match=r".*"):
        outbox.parcel(body)


@pytest.mark.parametrize("now", [None, "soon", "2026-11-23T09:00:00"])
def test_time_that_is_none_is_taken_as_unknown(now):
    said = {"key": str(uuid.uuid4()), "sealed": {}, "now": now}
    assert outbox.parcel(json.dumps(said).encode()).phone_at is None


def test_print_of_no_picture_needs_no_code_and_of_two_needs_one(loic, owed):
    make(Print, person=owed.person, state="out_on_a_round", is_safe=True, state_on=cast.days(-2))
    assert take(loic, delivery()).said["codes"] == ["which_print"]


@pytest.mark.parametrize(
    "body",
    [
        b"[" * outbox.LONGEST_PARCEL,
        b'{"key": "%s", "sealed": {"to": %s}}' % (b"0" * 32, b"[" * 500 + b"]" * 500),
        b'{"key": "%s", "sealed": {"to": "%s"}}' % (b"0" * 32, b"x" * outbox.LONGEST_PARCEL),
    ],
    ids=["open to no end", "deep", "long"],
)
def test_what_is_deep_or_long_is_no_entry(body):
    with pytest.raises(ValueError):
        outbox.parcel(body)
