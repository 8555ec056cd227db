"""What each clock runs on is found in the register: of whom, of what, and since which day."""

from datetime import date, timedelta

import pytest

from relations.consent.history import FormStep
from relations.consent.models import Form, TakenBack
from relations.meetings.models import Call, Interview, Meeting, Recording
from relations.people.models import Introduction, Participant, PersonHold, PhoneLine
from relations.pictures.models import Appearance, Picture, Sitting
from relations.privacy import home as homes
from relations.privacy import log, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry
from relations.privacy.opening import make_home
from relations.rights import due
from relations.rights.clocks import Clock
from relations.uses.models import Shown, UndoLine
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
LONG_AGO, LATE = date(2020, 2, 29), date(2099, 12, 31)
A_DAY = timedelta(days=1)


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


def person(standing, since=LONG_AGO, **more):
    return make(Participant, standing=standing, standing_since=since, heard_on=since, **more)


def sitter(**more):
    return person("taking_part", **more)


def rung(whom, on, outcome="no_answer", **more):
    at, by = cast.moment(on), cast.assistant()
    return make(Call, person=whom, at=at, by=by, state="settled", outcome=outcome, **more)


def found(clock, on=LATE):
    """Who or what a clock proposes by a day: (called, first day)."""
    return [(one.called, one.due_on) for one in due.proposals(on) if one.clock == clock]


def appears_on_its_day(clock, called, first):
    return found(clock, first) == [(called, first)] and found(clock, first - A_DAY) == []


def test_name_and_a_no_run_from_their_standing():
    person("said_no", date(2026, 11, 12), code="37")
    person("named", date(2026, 11, 2), code="41")
    assert appears_on_its_day(Clock.SAID_NO, "37", date(2026, 12, 12))
    assert appears_on_its_day(Clock.NAMED, "41", date(2027, 1, 1))


def test_never_reached_runs_from_our_first_try():
    one = person("pause", date(2026, 9, 21), code="25")
    rung(one, date(2026, 1, 5), by_them=True, outcome="no_answer")
    for on in (date(2026, 9, 14), date(2026, 8, 31)):
        rung(one, on)
    assert appears_on_its_day(Clock.NEVER_REACHED, "25", date(2027, 8, 31))
    rung(one, date(2026, 9, 21), outcome="ring_later")
    assert found(Clock.NEVER_REACHED) == []
    assert appears_on_its_day(Clock.PAUSED, "25", date(2027, 9, 21))


def test_who_stepped_back_stays_as_long_as_their_forms():
    one = person("stepped_back", date(2026, 6, 9), code="27")
    form = make(Form, person=one, state="withdrawn", state_on=date(2026, 6, 9))
    assert appears_on_its_day(Clock.STEPPED_BACK, "27", date(2031, 6, 9))
    Form.objects.filter(pk=form.pk).update(state="scanned")
    assert found(Clock.STEPPED_BACK) == []


def test_numbers_of_who_sat_run_from_the_last_yes():
    one = sitter(code="08", last_talk_on=date(2025, 5, 18))
    assert found(Clock.WAYS) == []  # nothing is kept to reach them by
    make(PhoneLine, person=one)
    assert appears_on_its_day(Clock.WAYS, "08", date(2027, 5, 18))
    form = make(Form, person=one, state="scanned", given_on=LONG_AGO, uses=["book"])
    assert found(Clock.WAYS) == []
    Form.objects.update(state="ended", state_on=date(2026, 1, 31))
    FormStep.objects.create(form=form, number=1, state="ended", on=date(2026, 1, 30))
    assert appears_on_its_day(Clock.WAYS, "08", date(2028, 1, 30))
    Form.objects.update(uses=[])
    assert appears_on_its_day(Clock.WAYS, "08", date(2027, 5, 18))


def test_all_taken_back_ends_every_yes_given_before_it():
    one = sitter(code="09")
    make(Meeting, person=one, place="by the quay")
    said = {"uses": ["web"], "settled_at": cast.moment(), "wording_was_read": True}
    make(Form, person=one, state="standing", given_on=date(2025, 5, 18), **said)
    assert found(Clock.WAYS) == []
    back = {"scope": "all", "said_on": date(2026, 7, 2), "answer_due_on": date(2026, 7, 9)}
    make(TakenBack, person=one, **back)
    assert appears_on_its_day(Clock.WAYS, "09", date(2028, 7, 2))
    make(Form, person=one, state="standing", given_on=date(2026, 9, 1), **said)
    assert found(Clock.WAYS) == []


def test_standing_form_with_a_last_day_runs_from_it():
    one = sitter(code="07")
    make(PhoneLine, person=one)
    said = {"settled_at": cast.moment(), "wording_was_read": True, "given_on": date(2025, 5, 18)}
    form = make(
        Form, person=one, state="standing", uses=["book"], last_day=date(2026, 12, 31), **said
    )
    assert appears_on_its_day(Clock.WAYS, "07", date(2028, 12, 31))
    assert appears_on_its_day(Clock.FORMS, form.sheet.serial, date(2031, 12, 31))


def test_rings_run_from_the_oldest_of_which_more_is_kept():
    one = person("said_no", code="37")
    rung(one, date(2024, 2, 29))
    rung(one, date(2024, 1, 5), by_them=True, next_step="pause")
    assert appears_on_its_day(Clock.RINGS, "", date(2026, 1, 5))
    make(PersonHold, person=one)
    assert found(Clock.RINGS) == []
    rung(person("named"), date(2025, 1, 5), parts=["morning"])
    assert appears_on_its_day(Clock.RINGS, "", date(2027, 1, 5))
    Call.objects.update(next_step="", parts=[], due_on=None)
    assert found(Clock.RINGS) == []


def test_links_run_from_the_sitting_or_the_end():
    told, one = sitter(), sitter(code="38")
    make(Introduction, person=one, introducer=told)
    make(Sitting, on=date(2023, 11, 15)).sitters.add(one)
    assert appears_on_its_day(Clock.LINKS, "38", date(2026, 11, 15))
    make(PhoneLine, person=one, through=told)
    assert found(Clock.LINKS) == []
    PhoneLine.objects.all().delete()
    Participant.objects.filter(pk=one.pk).update(standing="closed", standing_since=LONG_AGO)
    assert found(Clock.LINKS) == [("38", LONG_AGO)]


def test_recording_runs_to_its_day_and_as_proof_as_long_as_its_form():
    talk = make(Interview, person=sitter())
    row = make(Recording, code="R-15", interview=talk, destroy_on=date(2026, 11, 30))
    assert appears_on_its_day(Clock.RECORDINGS, "R-15", date(2026, 11, 30))
    form = make(Form, person=talk.person, recording=row, state="scanned")
    assert found(Clock.RECORDINGS) == []
    Form.objects.filter(pk=form.pk).update(state="withdrawn", state_on=date(2026, 2, 28))
    assert appears_on_its_day(Clock.RECORDINGS, "R-15", date(2031, 2, 28))
    Recording.objects.update(day_is_theirs=True)
    assert appears_on_its_day(Clock.RECORDINGS, "R-15", date(2026, 11, 30))
    Recording.objects.update(destroyed_on=LONG_AGO)
    assert found(Clock.RECORDINGS) == []


def test_form_runs_from_the_end_of_the_last_use_of_their_pictures():
    one = sitter()
    form = make(Form, person=one, state="kept_as_proof", state_on=date(2026, 3, 1))
    FormStep.objects.create(form=form, number=1, state="withdrawn", on=date(2026, 2, 1))
    FormStep.objects.create(form=form, number=2, state="kept_as_proof", on=date(2026, 3, 1))
    serial = form.sheet.serial
    assert appears_on_its_day(Clock.FORMS, serial, date(2031, 2, 1))
    picture = make(Picture)
    make(Appearance, picture=picture, person=one)
    shown = make(Shown, starts_on=LONG_AGO, ends_on=date(2026, 6, 30))
    shown.pictures.add(picture)
    assert appears_on_its_day(Clock.FORMS, serial, date(2031, 6, 30))
    Shown.objects.update(ends_on=None)
    assert found(Clock.FORMS) == []
    line = make(UndoLine, shown=shown, picture=picture, person=one)
    assert found(Clock.FORMS) == []
    UndoLine.objects.filter(pk=line.pk).update(done_on=date(2026, 8, 31))
    assert appears_on_its_day(Clock.FORMS, serial, date(2031, 8, 31))
    Form.objects.filter(pk=form.pk).update(state="destroyed")
    assert found(Clock.FORMS) == []


def test_log_runs_from_its_oldest_line_the_anchor_left_out():
    assert found(Clock.SEE_LOG) == []
    log.note(None, "read", "people.phone", None)
    AccessEntry.objects.update(at=cast.moment(date(2026, 1, 31)))
    assert appears_on_its_day(Clock.SEE_LOG, "", date(2027, 1, 31))
    AccessEntry.objects.update(verb=log.ANCHOR, kind=log.OWN)
    assert found(Clock.SEE_LOG) == []


def test_backups_run_from_the_last_day_of_their_month(monkeypatch):
    assert found(Clock.BACKUPS) == []
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    before = keyring.master_to_seal()
    make_home("rehearsal", {"open": "open"})
    keyring.month_key(date(2026, 10, 3))
    assert homes.home().keys.is_file()
    assert appears_on_its_day(Clock.BACKUPS, "2026-10", date(2027, 1, 30))
    keyring.hold(before)


def test_demo_names_37_on_the_twelfth_of_december_and_not_before(rehearsal):
    assert appears_on_its_day(Clock.SAID_NO, "37", date(2026, 12, 12))
    assert found(Clock.LINKS, date(2026, 11, 23)) == [
        ("36", date(2026, 11, 14)),
        ("38", date(2026, 11, 15)),
    ]
    assert found(Clock.NEVER_REACHED, date(2026, 12, 12)) == []
