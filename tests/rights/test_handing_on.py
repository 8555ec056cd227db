"""A handover is counted and signed by both; the old access ends and nothing of before changes."""

from datetime import date

import pytest
from django.contrib.sessions.models import Session
from django.http import Http404
from django.test import Client

from relations.consent.models import Form
from relations.meetings.models import Call, Meeting
from relations.people import access
from relations.people.models import Participant
from relations.people.newcomers import Unwanted
from relations.prints.models import Print, Promise
from relations.privacy.models import AccessEntry, Role, User
from relations.privacy.refused import Refused
from relations.rights import handing_on
from relations.rights.models import Handover, ToIntroduce
from relations.uses.models import UndoLine
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
NONE = dict.fromkeys(("blanks", "prints", "keys", "phones"), 0)


@pytest.fixture
def newcomer():
    return cast.wording_reader()


def begin(come, gone=None, by=None):
    said = {"gone": gone or cast.assistant(), "come": come, "on": cast.TODAY}
    return handing_on.begin(**said, by=by or cast.artist())


def sign(row, why_differs="", gone=NONE, come=NONE):
    said = {"by_hand": {"gone": gone, "come": come}, "why_differs": why_differs}
    return handing_on.sign(handover=row, **said, by=cast.artist(), at=cast.moment())


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def test_open_things_are_counted_and_named_by_serial_and_code_alone():
    gone = cast.assistant()
    make(Call, state="planned", due_on=cast.days(3))
    make(Call, state="called_off")
    make(Meeting, state="proposed")
    make(Promise, promised_on=cast.TODAY)
    make(UndoLine)
    form = make(Form, state="carried", carried_by=gone)
    make(Form, state="carried", carried_by=cast.second_assistant())
    row = make(Print, state="checked")
    make(Print, state="acknowledged")
    found = handing_on.open_things(gone)
    assert found.counts == {
        "rings": 1, "meetings": 1, "promises": 1, "down": 1, "blanks": 1, "prints": 1,
    }  # fmt: skip
    assert (found.serials, found.prints) == ([form.sheet.serial], [row.code])


def test_signing_ends_the_old_access_and_begins_the_new_one(newcomer):
    gone = cast.assistant()
    cast.signed_in(Client(), gone)
    row = begin(newcomer)
    assert begin(newcomer) == row == handing_on.current()
    sign(row)
    gone.refresh_from_db()
    newcomer.refresh_from_db()
    assert (gone.is_active, Session.objects.count()) == (False, 0)
    assert (newcomer.role, newcomer.is_active) == (Role.ASSISTANT, True)
    row = handing_on.handover_or_404(row.pk)
    assert (row.signed_by_both_at, row.is_open) == (cast.moment(), None)
    assert handing_on.current() is None
    assert refused(sign, row) == ("handover_over",)
    said = AccessEntry.objects.filter(kind="rights.handover").values_list("verb", flat=True)
    assert list(said) == ["began", "signed"]


def test_an_assistant_who_comes_stays_one(newcomer):
    row = begin(cast.second_assistant())
    sign(row)
    assert User.objects.get(username="maelle").role == Role.ASSISTANT
    assert not AccessEntry.objects.filter(verb="role_changed").exists()


def test_numbers_that_differ_are_counted_again_or_named_with_a_sentence(newcomer):
    row = begin(newcomer)
    fewer = {**NONE, "keys": 1}
    assert refused(sign, row, come=fewer) == ("differs",)
    make(Print, state="checked")
    assert refused(sign, row) == ("differs",)
    assert refused(sign, row, "  ") == ("differs",)
    sign(row, "One print lies at the framer's.")
    kept = Handover.objects.get()
    assert kept.why_differs == "One print lies at the framer's."
    assert kept.by_hand == {"gone": NONE, "come": NONE}
    assert handing_on.by_hand_of(kept, kept.counts) == [
        *(("blanks", 0, 0, 0), ("prints", 1, 0, 0)),
        *(("keys", None, 0, 0), ("phones", None, 0, 0)),
    ]


def test_the_newcomer_signs_with_a_password_that_nobody_else_knows(newcomer):
    row = begin(newcomer)
    User.objects.filter(pk=newcomer.pk).update(must_choose_password=True)
    assert refused(sign, row) == ("own_password_first",)
    assert cast.assistant().is_active


def test_only_artist_and_keeper_begin_one_between_two_who_may_sign_in(newcomer):
    assert begin(newcomer, by=cast.keeper()).begun_by == cast.keeper()
    handing_on.call_off(handover=handing_on.current(), on=cast.TODAY, by=cast.keeper())
    assert refused(begin, newcomer, by=cast.assistant()) == ("artist_or_keeper",)
    assert refused(begin, cast.assistant()) == ("the_same_person",)


def test_who_is_no_assistant_or_may_not_sign_in_hands_nothing_on(newcomer):
    assert refused(begin, cast.assistant(), gone=newcomer) == ("not_an_assistant",)
    assert refused(begin, cast.keeper()) == ("cannot_come",)
    User.objects.filter(pk=newcomer.pk).update(is_active=False)
    assert refused(begin, newcomer) == ("cannot_come",)


def test_called_off_nothing_has_changed(newcomer):
    row = begin(newcomer)
    for day in (0, 1):
        handing_on.call_off(handover=row, on=cast.days(day), by=cast.artist())
    assert Handover.objects.get().called_off_on == cast.TODAY
    assert refused(sign, row) == ("handover_over",)
    assert cast.assistant().is_active
    other = begin(newcomer)
    sign(other)
    said = {"handover": other, "on": cast.TODAY, "by": cast.artist()}
    assert refused(handing_on.call_off, **said) == ("already_signed",)


def sitters():
    told = (("51", "grave"), ("52", "raised"), ("53", ""), ("54", "ordinary"))
    for code, level in told:
        make(Participant, code=code, level=level, standing="taking_part")
    make(Participant, code="55", level="grave", standing="said_no")


def test_raised_grave_and_never_set_are_to_be_told_by_the_artist(newcomer):
    sitters()
    sign(begin(newcomer))
    assert [task.person.code for task in handing_on.tasks()] == ["51", "52", "53"]


def test_who_refuses_is_out_of_the_newcomers_sight_at_once(newcomer):
    sitters()
    row = sign(begin(newcomer))
    newcomer.refresh_from_db()
    first, second, _third = handing_on.tasks()
    for task in (first, second):
        cast.in_sight(task.person, newcomer)
    by = {"on": cast.TODAY, "by": cast.artist()}
    for _twice in range(2):
        handing_on.introduce(task=first, said="refused", **by)
    handing_on.introduce(task=second, said="introduced", **by)
    assert [one.code for one in access.people(newcomer)] == ["52"]
    assert [(one.person.code, one.said) for one in handing_on.spoken()] == [
        *(("51", "refused"), ("52", "introduced"))
    ]
    assert [task.person.code for task in handing_on.tasks()] == ["53"]
    assert Unwanted.objects.get().user == row.come


def test_telling_is_the_artists_and_comes_after_both_signed(newcomer):
    sitters()
    sign(begin(newcomer))
    task = handing_on.tasks()[0]
    said = {"task": task, "said": "introduced"}
    early = {"on": date(2026, 11, 1), "by": cast.artist()}
    assert refused(handing_on.introduce, **said, **early) == ("before_the_handover",)
    other = {"on": cast.TODAY, "by": cast.keeper()}
    assert refused(handing_on.introduce, **said, **other) == ("artist_only",)


def test_what_is_not_there_is_a_404(newcomer):
    nobody = cast.artist().pk
    for find in (handing_on.handover_or_404, handing_on.task_or_404):
        with pytest.raises(Http404):
            find(nobody)
    task = make(ToIntroduce)
    assert handing_on.task_or_404(task.pk) == task
    # A handover that was never signed has no first day.
    handing_on.introduce(task=task, said="introduced", on=cast.TODAY, by=cast.artist())
