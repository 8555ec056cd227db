"""The keeper confirms or postpones once; nobody else, and nothing that something keeps."""

from datetime import date, timedelta

import pytest

from relations.consent.models import Form
from relations.meetings.models import Call, Interview, Meeting, Recording
from relations.people.models import Introduction, Participant, PersonHold, PhoneLine
from relations.pictures.models import Appearance, Picture, Sitting
from relations.prints.models import Print, Promise
from relations.privacy import ledger, log
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.rights import letting_go as letting
from relations.rights.clocks import Clock
from relations.rights.models import LettingGo
from relations.uses.models import Shown
from tests import cast
from tests.rows import AT, DAY, make

pytestmark = pytest.mark.django_db
ON = date(2026, 12, 12)


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


@pytest.fixture
def person():
    return said_no("37")


def said_no(code):
    since = date(2026, 11, 12)
    return make(
        Participant, code=code, standing="said_no", standing_since=since, heard_on=date(2026, 9, 1)
    )


def only(clock, on=ON):
    (found,) = [line for line in letting.waiting(on) if line.proposal.clock == clock]
    return found


def confirm(line, on=ON, by=None):
    letting.confirm(line=line, by=by or cast.keeper(), at=cast.moment(on), on=on)


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def postpone(line, sentence="A niece asked for time.", on=ON, by=None):
    return letting.postpone(line=line, sentence=sentence, by=by or cast.keeper(), on=on)


def test_confirmed_person_goes_and_the_row_says_of_nobody(person):
    confirm(only(Clock.SAID_NO))
    assert not Participant.objects.filter(pk=person.pk).exists()
    assert [entry.person_id for entry in ledger.entries()] == [person.log_key]
    row = LettingGo.objects.get()
    assert (row.clock, row.due_on, row.person, row.thing) == ("said_no", ON, None, "")
    assert (row.confirmed_on, row.confirmed_by) == (ON, cast.keeper())
    assert letting.lines(ON) == []


def test_two_of_one_day_leave_two_rows():
    for code in ("37", "38"):
        said_no(code)
    for line in letting.waiting(ON):
        confirm(line)
    assert LettingGo.objects.filter(confirmed_on=ON, person=None).count() == 2


def test_postponed_once_by_ninety_days_with_a_sentence(person):
    line = only(Clock.SAID_NO)
    row = postpone(line, "  A niece asked for time.  ")
    assert (row.postponed_until, row.sentence) == (date(2027, 3, 12), "A niece asked for time.")
    assert letting.waiting(date(2027, 3, 11)) == []
    (kept,) = letting.lines(date(2027, 3, 11))
    assert refused(confirm, kept, date(2027, 3, 11)) == ("postponed",)
    assert refused(postpone, kept, on=date(2027, 3, 11)) == ("postponed",)
    back = only(Clock.SAID_NO, date(2027, 3, 12))
    assert back.sentence == "A niece asked for time."
    assert refused(postpone, back, on=date(2027, 3, 12)) == ("postponed_before",)
    confirm(back, date(2027, 3, 12))
    assert not Participant.objects.exists()
    assert (LettingGo.objects.get().sentence, LettingGo.objects.count()) == ("", 1)


def test_nothing_is_postponed_without_a_sentence(person):
    assert refused(postpone, only(Clock.SAID_NO), " ") == ("no_sentence",)
    assert not LettingGo.objects.exists()


@pytest.mark.parametrize("who", [cast.artist, cast.assistant, cast.wording_reader])
def test_nobody_but_the_keeper_lets_go_or_postpones(person, who):
    line = only(Clock.SAID_NO)
    assert refused(confirm, line, by=who()) == ("keeper_only",)
    assert refused(postpone, line, by=who()) == ("keeper_only",)
    assert Participant.objects.filter(pk=person.pk).exists()


def test_somebody_whose_picture_hangs_today_stays(person):
    picture = make(Picture)
    make(Appearance, picture=picture, person=person)
    make(Shown, starts_on=DAY).pictures.add(picture)
    line = only(Clock.SAID_NO)
    assert letting.why_not_yet(line.proposal, cast.moment(ON)) == ("stop_first",)
    assert refused(confirm, line) == ("stop_first",)
    assert Participant.objects.filter(pk=person.pk).exists()
    assert (ledger.entries(), LettingGo.objects.count()) == ([], 0)


def test_somebody_who_is_held_or_owed_something_stays(person):
    make(PersonHold, person=person)
    assert refused(confirm, only(Clock.SAID_NO)) == ("is_held",)
    PersonHold.objects.all().delete()
    owed = make(Print, person=person)
    assert refused(confirm, only(Clock.SAID_NO)) == ("still_owed",)
    Print.objects.filter(pk=owed.pk).update(state="acknowledged")
    promise = make(Promise, person=person)
    assert refused(confirm, only(Clock.SAID_NO)) == ("still_owed",)
    Promise.objects.filter(pk=promise.pk).delete()
    assert letting.why_not_yet(only(Clock.SAID_NO).proposal, AT) == ()


def test_hold_keeps_what_is_theirs_too():
    one = make(Participant, standing="taking_part")
    make(PersonHold, person=one)
    make(Recording, interview=make(Interview, person=one), code="R-1")
    make(Form, person=one, state="withdrawn", state_on=date(2020, 1, 1))
    make(Introduction, person=one, introducer=make(Participant))
    make(Sitting, on=date(2020, 1, 1)).sitters.add(one)
    for clock in (Clock.RECORDINGS, Clock.FORMS, Clock.LINKS):
        assert refused(confirm, only(clock)) == ("is_held",)


def test_each_clock_lets_its_own_thing_go():
    one = make(Participant, standing="taking_part", standing_since=DAY, last_talk_on=DAY)
    later = date(2032, 1, 1)
    make(PhoneLine, person=one)
    make(Meeting, person=one, place="by the quay")
    recording = make(Recording, interview=make(Interview, person=one))
    form = make(Form, person=one, state="withdrawn", state_on=DAY)
    told = make(Introduction, person=one, introducer=make(Participant, standing="closed"))
    make(Sitting, on=DAY).sitters.add(one)
    said = {"outcome": "spoke", "by": cast.assistant(), "state": "settled", "next_step": "pause"}
    ring = make(Call, person=one, at=cast.moment(DAY), **said)
    for clock in (Clock.WAYS, Clock.RINGS, Clock.LINKS, Clock.RECORDINGS, Clock.FORMS):
        line = only(clock, later)
        confirm(line, later)
        assert clock not in {other.proposal.clock for other in letting.lines(later)}
    for row in (recording, form, told, ring):
        row.refresh_from_db()
    assert not one.lines.exists()
    assert (recording.destroyed_on, form.state) == (later, "destroyed")
    assert (told.is_withheld, ring.next_step) == (True, "")
    rows = LettingGo.objects.filter(confirmed_on=later)
    assert {row.clock: row.thing or row.person_id for row in rows} == {
        "ways": one.pk, "ring_notes": "ring_notes", "links": str(told.pk),
        "recordings": str(recording.pk), "forms": str(form.pk),
    }  # fmt: skip


def test_log_is_pruned_and_its_pruning_is_confirmed():
    log.note(None, "read", "people.phone", None)
    on = AccessEntry.objects.get().at.date() + timedelta(days=400)
    confirm(only(Clock.SEE_LOG, on), on)
    assert {row.verb for row in AccessEntry.objects.all()} == {"anchor", "pruned"}
    assert LettingGo.objects.get().thing == "see_log"


def test_keys_of_backups_go_all_at_once_and_are_never_postponed(monkeypatch):
    months = ["2026-07", "2026-08"]
    monkeypatch.setattr(
        "relations.rights.due._backups",
        lambda: [(Clock.BACKUPS, month, DAY, month) for month in months],
    )
    monkeypatch.setattr(keyring, "destroy_month_keys", lambda on: list(months))
    line = letting.line_of(Clock.BACKUPS, "2026-07", ON)
    assert refused(postpone, line) == ("never_later",)
    confirm(line)
    rows = LettingGo.objects.filter(confirmed_on=ON)
    assert {(row.thing, row.due_on) for row in rows} >= {
        ("2026-07", date(2026, 10, 30)), ("2026-08", date(2026, 11, 30)),
    }  # fmt: skip


def test_line_that_is_not_due_is_no_line(person):
    assert letting.line_of("said_no", str(person.pk), ON - timedelta(days=1)) is None
    assert letting.line_of("named", str(person.pk), ON) is None
    assert letting.line_of("said_no", str(person.pk), ON).proposal.called == "37"
