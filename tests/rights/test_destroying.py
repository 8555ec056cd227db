"""What is no whole person goes too, and goes again where an older register is put back."""

from datetime import date

import pytest
from django.db import transaction

from relations.consent.history import FormStep, KeptCopy
from relations.consent.models import Form, GuardianAnswer, PictureAnswer, Reading
from relations.documents import actions as documents
from relations.documents.models import Page, Scan
from relations.documents.split import look
from relations.meetings.models import Call, Interview, Meeting, Recording
from relations.people.models import (
    Introduction,
    Participant,
    PersonHold,
    PhoneLine,
    RangUs,
    Speaker,
)
from relations.prints.models import Print
from relations.privacy import ledger, log
from relations.privacy.fields import mark
from relations.privacy.files import scans
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry, LedgerHead, Mending
from relations.privacy.refused import Refused
from relations.rights import destroying, erasing
from tests import cast
from tests.documents import scanner
from tests.rows import AT, DAY, make
from tests.traces import opened, raw, traces

pytestmark = pytest.mark.django_db(transaction=True)
WORD, NUMBER = "Zéphirine by the old quay", "+33465710099"


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def person():
    found = make(Participant, code="Q7QQ9", standing="taking_part")
    make(PhoneLine, person=found, as_typed=NUMBER, number=NUMBER, mark=mark(NUMBER), note=WORD)
    make(Meeting, person=found, place=WORD, fallback=WORD, company=WORD, exit_signal=WORD)
    make(Speaker, person=found, name="Houria", way=WORD)
    make(Print, person=found, quarter=WORD, place=WORD, when_to_come=WORD)
    make(RangUs, typed=NUMBER, settled_on=DAY)
    make(RangUs, typed="+33465710098", settled_on=DAY)
    make(Mending, key=found.lines.get().pk, old={"note": WORD})
    return found


@pytest.fixture
def form():
    row = make(Form, person=make(Participant), state="withdrawn", state_on=DAY,
               agreed_name=WORD, own_condition=WORD, uses=["book"], given_on=DAY)  # fmt: skip
    make(Scan, sheet=row.sheet, file=scans().save(WORD.encode()))
    make(Page, sheet=row.sheet, file=scans().save(WORD.encode()), word=WORD)
    make(KeptCopy, form=row, record=WORD)
    make(KeptCopy, form=row, record=WORD, number=2, file=scans().save(WORD.encode()),
         digest="ab" * 32, made_at=AT)  # fmt: skip
    make(Reading, form=row, answers={"own_condition": WORD})
    make(GuardianAnswer, form=row, name=WORD)
    make(PictureAnswer, form=row)
    make(FormStep, form=row, number=1, state="withdrawn", on=DAY)
    make(Mending, key=row.pk, old={"agreed_name": WORD})
    row.sheet.kept = scans().save(WORD.encode())
    row.sheet.save()
    return row


@pytest.fixture
def recording():
    talk = make(Interview, person=make(Participant))
    return make(Recording, interview=talk, file=scans().save(WORD.encode()))


def left():
    return traces([WORD.encode(), NUMBER.encode(), mark(NUMBER)], opened() | raw())


def test_numbers_and_places_go_and_the_person_stays(person):
    assert left()
    assert destroying.has_ways(person)
    destroying.ways(person=person, by=cast.keeper())
    assert left() == []
    assert not destroying.has_ways(person)
    assert person.speakers.get().name == "Houria"
    assert [heard.typed for heard in RangUs.objects.order_by("typed", "pk")].count("") == 1
    assert Participant.objects.filter(pk=person.pk).exists()
    assert len(ledger.entries()) == LedgerHead.objects.get().seq == 5
    assert LedgerHead.objects.get().cleared == 5


def test_form_loses_what_it_says_and_that_it_existed_stays(form):
    sheet, files = form.sheet, scans().names()
    assert len(files) == 4
    destroying.form(row=form, by=cast.keeper(), on=DAY)
    assert left() == []
    assert scans().names() == []
    form.refresh_from_db()
    assert (form.state, form.state_on, form.given_on) == ("destroyed", DAY, DAY)
    assert (form.uses, form.sheet.serial, form.sheet.kind) == ([], sheet.serial, sheet.kind)
    assert form.sheet.digest == sheet.digest
    assert [step.state for step in form.steps.all()] == [
        *("withdrawn", "kept_as_proof", "destroyed"),
    ]
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.key, last.by) == ("let_go", form.pk, cast.keeper().pk)


def test_a_stack_nobody_has_looked_at_loses_the_pages_of_the_form(form):
    number = 70_042
    form.sheet.serial = scanner.serial(number)
    form.sheet.save()
    side, *_ = scanner.sides(number, 1, key=keyring.subkey("mark"), kind="D")
    by = cast.assistant()
    stack = documents.receive(files=[scanner.pdf([side, side], 150)], by=by, at=AT)
    before = stack.file
    destroying.form(row=form, by=cast.keeper(), on=DAY)
    stack.refresh_from_db()
    assert stack.file != before and not scans().exists(before)
    with scans().open(stack.file) as sealed:
        content = sealed.read()
    assert [look(content, page).is_blank for page in (1, 2)] == [True, True]


@pytest.mark.parametrize(
    ("state", "way"),
    [
        ("standing", ["ended", "kept_as_proof", "destroyed"]),
        ("ended", ["kept_as_proof", "destroyed"]),
        ("kept_as_proof", ["destroyed"]),
    ],
)
def test_form_passes_every_state_on_its_way_out(state, way):
    said = {"settled_at": AT, "wording_was_read": True, "given_on": DAY}
    row = make(Form, person=make(Participant), state=state, state_on=DAY, **said)
    destroying.form(row=row, by=cast.keeper(), on=DAY)
    assert [step.state for step in row.steps.all()] == way


def test_recording_goes_and_its_code_stays(recording):
    destroying.recording(row=recording, by=cast.keeper(), on=DAY)
    recording.refresh_from_db()
    assert (recording.file, recording.destroyed_on, scans().names()) == ("", DAY, [])
    assert recording.code


def test_rings_keep_their_day_and_their_outcome():
    whose, held = make(Participant), make(Participant)
    make(PersonHold, person=held)
    line = make(PhoneLine, person=whose)
    said = {"outcome": "no_answer", "by": cast.assistant(), "state": "settled"}
    more = {"line": line, "next_step": "pause", "parts": ["evening"], "due_at": AT}
    at = cast.moment(date(2024, 11, 23), 23, 30)
    old = make(Call, person=whose, at=at, **said, **more)
    young = make(Call, person=whose, at=cast.moment(date(2024, 11, 24), 0, 5), **said, **more)
    kept = make(Call, person=held, at=at, **said, **more)
    make(Mending, key=old.pk, old={"outcome": "off"})
    destroying.rings(on=date(2026, 11, 23))
    old.refresh_from_db()
    assert (old.outcome, old.at) == ("no_answer", cast.moment(date(2024, 11, 23), 0))
    assert (old.line, old.next_step, old.parts) == (None, "", [])
    assert (old.due_on, old.due_at) == (None, None)
    assert not Mending.objects.exists()
    for row in (young, kept):
        row.refresh_from_db()
        assert row.line == line


def test_link_is_sealed_by_the_keeper():
    told = make(Introduction, introducer=make(Participant))
    destroying.link(row=told, by=cast.keeper())
    told.refresh_from_db()
    assert told.is_withheld
    assert told.introducer is None


def test_lines_of_the_log_go_where_it_stands_and_none_where_it_does_not():
    for on in (date(2025, 11, 22), date(2025, 11, 23), date(2025, 11, 24)):
        log.note(None, "read", "people.phone", None)
        row = AccessEntry.objects.order_by("seq").last()
        assert row.at.date() != on
    with pytest.raises(Refused) as caught:
        AccessEntry.objects.filter(seq=2).update(verb="wrote")
        destroying.see_log(on=DAY)
    assert caught.value.codes == ("log_broken",)
    assert AccessEntry.objects.count() == 3


def test_lines_of_the_log_of_a_year_ago_go(monkeypatch):
    for on in (date(2025, 11, 22), date(2025, 11, 23), date(2025, 11, 24)):
        monkeypatch.setattr("relations.privacy.log.timezone.now", lambda on=on: cast.moment(on))
        log.note(None, "read", "people.phone", None)
    destroying.see_log(on=date(2026, 11, 23))
    assert [row.verb for row in AccessEntry.objects.order_by("seq")] == ["anchor", "read", "pruned"]
    assert log.broken_at() is None


def test_an_older_register_put_back_lets_go_of_all_of_it_again(person, form, recording):
    """The rows as they were before; then what every opening does."""
    with transaction.atomic():
        destroying.ways(person=person, by=cast.keeper())
        destroying.form(row=form, by=cast.keeper(), on=DAY)
        destroying.recording(row=recording, by=cast.keeper(), on=DAY)
        transaction.set_rollback(True)
    assert left()
    assert len(scans().names()) == 5
    erasing.catch_up()
    assert left() == []
    assert scans().names() == []
    assert Form.objects.get(pk=form.pk).state == "destroyed"
    assert Recording.objects.get(pk=recording.pk).destroyed_on is not None
    assert LedgerHead.objects.get().seq == 7
    lines = AccessEntry.objects.count()
    for entry in ledger.entries():
        assert not destroying.again(entry.person_id)
    erasing.catch_up()
    assert AccessEntry.objects.count() == lines


def test_nothing_goes_where_the_ledger_does_not_stand(recording, own_home):
    ledger.append(recording.pk)
    (own_home / "ledger").write_text("")
    with pytest.raises(Refused) as caught:
        destroying.recording(row=recording, by=cast.keeper(), on=DAY)
    assert caught.value.codes == ("ledger",)
    recording.refresh_from_db()
    assert recording.destroyed_on is None
