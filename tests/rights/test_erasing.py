"""Erasing: nothing of a person is left, nothing gets clearer, and what comes back goes again."""

from datetime import date

import pytest
from django.db import transaction

from relations.consent import queries as consent
from relations.consent.actions import take_back
from relations.consent.answers import Code, Result
from relations.consent.values import Plan, Use
from relations.consent.weighing import weigh_all
from relations.documents.models import Page, Upload
from relations.documents.split import look
from relations.people import links, search
from relations.people.models import Introduction, Name, Participant
from relations.pictures.models import Picture
from relations.privacy import ledger, log, slots
from relations.privacy.crypt import Cost
from relations.privacy.files import scans
from relations.privacy.home import today
from relations.privacy.keys import keyring
from relations.privacy.ledger import LedgerBroken
from relations.privacy.models import AccessEntry, LedgerHead, Role, User
from relations.privacy.refused import Refused
from relations.referrals.links import waves as wave_of_stubs
from relations.referrals.queries import web
from relations.rights import erasing
from relations.uses import queries as uses
from relations.uses.models import PlannedUse, Shown, UndoLine
from relations.uses.undoing import undo_done
from tests.rights.everything import everything
from tests.rows import AT, DAY, NEXT_DAY, make
from tests.traces import KEEPS_THE_KEY, files, opened, raw, traces, values_of

RANK = {Result.NOT_CLEARED: 0, Result.CONDITIONS: 1, Result.CLEARED: 2}


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def keeper(db):
    return User.objects.filter(role=Role.KEEPER).first() or User.objects.create_user(
        "otto", None, role=Role.KEEPER, called="Otto"
    )


def finish(person):
    """Whatever keeps somebody from being erased is done."""
    artist = User.objects.filter(role=Role.ARTIST).first() or make(User)
    if "stop_first" in erasing.why_not_yet(person, AT):
        take_back(person=person, scope="all", said_on=DAY, by=artist, at=AT)
    for line in UndoLine.objects.filter(person=person, done_on=None):
        undo_done(line=line, on=today(), by=artist, cannot=True)


def test_nothing_of_person_37_is_left(rehearsal, keeper):
    person = Participant.objects.get(code="37")
    values, log_key = values_of(person), person.log_key
    assert len(values) > 20
    assert search.find("Latifa") == [person]
    before = traces(values, opened() | raw())
    assert {"people.Name.text", "people.PhoneLine.mark", "table people_phoneline"} <= set(before)
    erasing.erase(person=person, by=keeper, at=AT)
    keys = {log_key.bytes, log_key.hex.encode(), str(log_key).encode()}
    assert traces(values - keys, opened() | raw()) == []
    assert traces(keys, opened()) == [KEEPS_THE_KEY]
    assert not Participant.objects.filter(code="37").exists()
    for said in ("Latifa", "37", "04 65 71 00 37", "لطيفة"):
        assert search.find(said) == []
    assert log.broken_at() is None
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.key, last.by) == ("erased", log_key, keeper.pk)
    assert [one.person_id for one in ledger.entries()] == [log_key]
    assert LedgerHead.objects.get().seq == 1


def test_an_older_database_put_back_forgets_person_37_again(rehearsal, keeper):
    """The rows as they were before, on both databases; then what every opening does."""
    person = Participant.objects.get(code="37")
    log_key = person.log_key
    with transaction.atomic():
        erasing.erase(person=person, by=keeper, at=AT)
        transaction.set_rollback(True)
    assert search.find("Latifa") == [Participant.objects.get(code="37")]
    erasing.catch_up()
    assert search.find("Latifa") == []
    assert not Name.objects.filter(person=person.pk).exists()
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.key, last.by) == ("erased", log_key, None)
    assert log.broken_at() is None
    lines = AccessEntry.objects.count()
    erasing.catch_up()
    assert AccessEntry.objects.count() == lines


def test_an_older_database_put_back_is_sealed_again(rehearsal, keeper):
    """Also where somebody was erased between, and the rows of before name who told us."""
    artist = User.objects.filter(role=Role.ARTIST).first()
    rows = list(Introduction.objects.filter(person__code__in=("12", "20")))
    waves = {code: one.wave for code, one in web().reached.items()}
    gone = Participant.objects.get(code="37")
    with transaction.atomic():
        links.seal(rows=rows[:1], waves=wave_of_stubs(rows[:1]), by=artist)
        erasing.erase(person=gone, by=keeper, at=AT)
        links.seal(rows=rows[1:], waves=wave_of_stubs(rows[1:]), by=artist)
        transaction.set_rollback(True)
    assert not Introduction.objects.filter(is_withheld=True).exists()
    erasing.catch_up()
    sealed = Introduction.objects.filter(is_withheld=True, person__code__in=("12", "20"))
    assert [(row.introducer, row.outside, row.may_say_who) for row in sealed] == [(None,) * 3] * 2
    assert not Participant.objects.filter(code="37").exists()
    del waves["37"]
    assert {code: one.wave for code, one in web().reached.items()} == waves
    assert LedgerHead.objects.get().seq == 3
    assert [entry.kind for entry in AccessEntry.objects.order_by("-seq")[:3]] == [
        links.KIND, "person", links.KIND,
    ]  # fmt: skip
    lines = AccessEntry.objects.count()
    erasing.catch_up()
    assert AccessEntry.objects.count() == lines


def weighed():
    """Every picture in every use, in one country and everywhere, and every plan as it stands."""
    found = consent.load(Picture.objects.all(), today())
    assert len(found.pictures) > 30
    answers = {}
    for use in Use:
        for countries in (frozenset({"FR"}), None):
            plan = Plan(use, date(2027, 2, 5), countries, date(2027, 4, 18), is_paper_only=True)
            # As one by one, which tests/consent/test_weighing.py holds, and sooner.
            together = weigh_all(found.pictures, found.people, plan, today=today())
            for picture, answer in zip(found.pictures, together, strict=True):
                answers[picture.id, use, countries] = answer
    for plan in PlannedUse.objects.all():
        for row in uses.weighed(plan, today()):
            answers[row.picture, plan.code] = row.answer
    return answers


def test_erasing_anybody_never_makes_any_picture_clearer(rehearsal, keeper, own_home):
    before = weighed()
    assert {answer.result for answer in before.values()} == set(Result)
    stricter = 0
    for person in Participant.objects.filter(appearances__isnull=False).distinct():
        theirs = set(Picture.objects.filter(appearances__person=person).values_list("code", flat=1))
        with transaction.atomic():
            finish(person)
            erasing.erase(person=person, by=keeper, at=AT)
            for key, answer in weighed().items():
                assert RANK[answer.result] <= RANK[before[key].result], (person.code, key)
                assert (key[0] in theirs) == ((key[0], Code.ERASED) in answer.stops)
                stricter += RANK[answer.result] < RANK[before[key].result]
            transaction.set_rollback(True)
        # Else the next one would be preceded by this one, as after an older copy put back.
        for name in ("ledger", "ledger.heads"):
            (own_home / name).unlink()
    assert stricter > 100


@pytest.mark.django_db
def test_nothing_is_left_in_any_table_of_somebody_who_is_in_every_one(keeper, own_home):
    found = everything()
    person = found.person
    person.undo_lines.update(done_on=DAY)
    values, code = values_of(person), person.code
    log_key = {person.log_key.bytes, person.log_key.hex.encode(), str(person.log_key).encode()}
    assert traces([code.encode()], opened())
    erasing.erase(person=person, by=keeper, at=AT)
    assert traces(values - log_key, opened() | raw()) == []
    assert traces([code.encode()], opened() | raw()) == []
    assert traces(log_key, opened()) == [KEEPS_THE_KEY]
    assert traces([one for one in values if one not in log_key], files(own_home)) == []
    assert Participant.objects.get(pk=found.other.pk).code == found.other.code


@pytest.mark.django_db
def test_files_of_a_person_leave_the_disk_once_it_stands(
    keeper, own_home, django_capture_on_commit_callbacks, monkeypatch
):
    person = everything().person
    person.undo_lines.update(done_on=DAY)
    monkeypatch.setattr(erasing.residue, "_take_over_journal", lambda: True)
    monkeypatch.setattr(erasing.residue, "_vacuum", lambda tables: True)
    there = {name for name in files(own_home) if name.startswith(("scans", "pictures"))}
    assert len(there) == 8
    with django_capture_on_commit_callbacks(execute=True):
        erasing.erase(person=person, by=keeper, at=AT)
        assert there <= set(files(own_home))
    assert not there & set(files(own_home))
    assert LedgerHead.objects.get().cleared == 1
    with django_capture_on_commit_callbacks() as left:
        erasing.catch_up()
    assert left == []


@pytest.mark.django_db
def test_page_in_a_stack_nobody_has_looked_at_is_taken_out_of_it(keeper):
    person = everything().person
    person.undo_lines.update(done_on=DAY)
    (theirs,) = (form.sheet for form in person.forms.all() if form.sheet.arrivals.exists())
    before = Upload.objects.exclude(file="").get()
    with scans().open(before.file) as sealed:
        assert [look(content := sealed.read(), 1).is_blank, look(content, 2).is_blank] == [
            False,
            False,
        ]
    erasing.erase(person=person, by=keeper, at=AT)
    after = Upload.objects.get(pk=before.pk)
    with scans().open(after.file) as sealed:
        content = sealed.read()
    assert [look(content, page).is_blank for page in (1, 2)] == [True, False]
    assert set(Page.objects.filter(sheet=theirs).values_list("place", flat=True)) == {"not_kept"}


@pytest.mark.django_db
def test_files_that_a_cut_of_power_left_go_at_the_next_opening(
    keeper, own_home, django_capture_on_commit_callbacks, monkeypatch
):
    person = everything().person
    person.undo_lines.update(done_on=DAY)
    monkeypatch.setattr(erasing.residue, "_take_over_journal", lambda: True)
    monkeypatch.setattr(erasing.residue, "_vacuum", lambda tables: True)
    with django_capture_on_commit_callbacks():  # and none of them is run
        erasing.erase(person=person, by=keeper, at=AT)
    assert [name for name in files(own_home) if name.startswith("scans")]
    with django_capture_on_commit_callbacks(execute=True):
        erasing.catch_up()
    left = [name for name in files(own_home) if name.startswith(("scans", "pictures"))]
    assert left == [f"scans/{Upload.objects.exclude(file='').get().file}"], "the rest of a stack"


@pytest.mark.django_db
def test_the_keeper_alone_erases(keeper):
    person = make(Participant)
    for role in set(Role) - {Role.KEEPER}:
        with pytest.raises(Refused, match="keeper_only"):
            erasing.erase(person=person, by=make(User, role=role), at=AT)
    assert ledger.entries() == []


@pytest.mark.django_db
def test_what_shows_somebody_is_stopped_and_taken_down_first(keeper):
    found = everything()
    UndoLine.objects.all().delete()
    over, lasting = make(Shown, ends_on=DAY), make(Shown)
    over.pictures.add(found.alone)
    person = found.person
    person.taken_back.all().delete()
    assert erasing.why_not_yet(person, AT.replace(day=24)) == ()
    lasting.pictures.add(found.together)
    assert erasing.why_not_yet(person, AT) == ("stop_first",)
    take_back(person=person, scope="all", said_on=DAY, by=keeper, at=AT)
    line = make(UndoLine, shown=lasting, picture=found.together, person=person)
    assert erasing.why_not_yet(person, AT) == ("still_up",)
    with pytest.raises(Refused, match="still_up"):
        erasing.erase(person=person, by=keeper, at=AT)
    assert ledger.entries() == []
    undo_done(line=line, on=NEXT_DAY, by=keeper)
    assert erasing.why_not_yet(person, AT) == ()


@pytest.mark.django_db
def test_a_line_whose_erasing_was_cut_short_is_ended_at_the_next_opening(keeper):
    person, other = make(Participant), make(Participant)
    ledger.append(person.log_key)
    erasing.erase(person=other, by=keeper, at=AT)
    assert not Participant.objects.exists()
    said = AccessEntry.objects.filter(verb="erased").order_by("seq").values_list("key", "by")
    assert list(said) == [(person.log_key, None), (other.log_key, keeper.pk)]
    assert LedgerHead.objects.get().seq == 2


@pytest.mark.django_db
def test_somebody_whom_the_database_never_knew_is_passed_over(keeper):
    person = make(Participant)
    ledger.append(person.pk)
    erasing.catch_up()
    assert Participant.objects.get() == person
    assert LedgerHead.objects.get().seq == 1
    assert not AccessEntry.objects.exists()


@pytest.mark.django_db
def test_a_database_ahead_of_its_ledger_is_not_opened(keeper, own_home):
    erasing.erase(person=make(Participant), by=keeper, at=AT)
    (own_home / "ledger").unlink()
    with pytest.raises(LedgerBroken, match="line 1"):
        erasing.catch_up()


@pytest.fixture
def locked(own_home, monkeypatch):
    """A real home, locked, whose passphrase opens the key that the tests hold."""
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    said = {"passphrase": "six words that nobody guesses", "recovery": "0" * 28}
    master = bytes(range(32))
    slots.write_key_file(own_home / "keys.json", slots.new_key_file("real", said, master))

    def lock():
        keyring.lock()
        return said["passphrase"]

    yield lock
    keyring.hold(master)


def unlock(client, passphrase):
    kind = "application/x-www-form-urlencoded"
    return client.post("/", f"passphrase={passphrase}", content_type=kind)


@pytest.mark.unlocked
@pytest.mark.django_db
def test_who_types_the_passphrase_is_let_in_after_the_ledger_is_applied(client, locked):
    keyring.hold(bytes(range(32)))
    person, other = make(Participant), make(Participant)
    ledger.append(person.log_key)
    passphrase = locked()
    assert unlock(client, passphrase).status_code == 302
    assert keyring.is_open
    assert Participant.objects.get() == other


@pytest.mark.unlocked
@pytest.mark.django_db
def test_damaged_ledger_is_said_on_the_unlocking_page_and_nobody_is_let_in(
    client, locked, own_home
):
    keyring.hold(bytes(range(32)))
    ledger.append(make(Participant).log_key)
    (own_home / "ledger").write_text("")
    answer = unlock(client, locked())
    assert answer.status_code == 503
    assert b"Line 1 of the list of what was erased is missing" in answer.content
    assert keyring.locked
    assert client.get("/in/").status_code == 503
