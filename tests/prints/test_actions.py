"""A print is owed to everybody in a picture, and moves one step at a time."""

from datetime import date
from decimal import Decimal

import pytest

from relations.languages import codes
from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.pictures.models import Appearance
from relations.prints import actions, models, queries
from relations.prints.models import Print, Promise, Step
from relations.prints.rules import PrintState
from relations.privacy.refused import Refused
from tests import cast
from tests.cast import days
from tests.prints.frames import made, picture

pytestmark = pytest.mark.django_db


def step(row, to, on=None, **said):
    return actions.step(
        print=row, to=to, on=on or days(0), by=cast.assistant(), at=cast.moment(), **said
    )


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def owe():
    return actions.owe(by=cast.artist(), at=cast.moment())


def test_everybody_in_every_picture_is_owed_a_print_once():
    picture("G01", cast.marcel(), cast.danuta())
    picture("K12", cast.danuta())
    assert len(owe()) == 3
    assert owe() == []
    row = Print.objects.get(person=cast.danuta(), picture__code="K12")
    assert (row.state, row.owed_since, row.state_on) == ("owed", days(-30), days(-30))
    assert [(one.number, one.was, one.became) for one in row.steps.all()] == [(1, "", "owed")]


def test_each_print_bears_a_code_of_its_own_that_is_drawn_and_taken_by_no_other(monkeypatch):
    made(cast.danuta(), "K12")
    taken = set(Print.objects.values_list("code", flat=True))
    drawn = iter([*taken, "ACDEFX", "ACDEFX", "K7M3PM", "ACDEFX", "ACDEGP"])
    monkeypatch.setattr(models, "new_code", lambda known, _chance, length: next(
        code for code in drawn if code not in known and len(code) == length
    ))  # fmt: skip
    picture("G01", cast.marcel(), cast.danuta())
    assert [row.code for row in owe()] == ["ACDEFX", "K7M3PM"]
    said = {"person": cast.marcel(), "on": days(-60), "by": cast.artist(), "at": cast.moment()}
    assert actions.owe_without_picture(**said).code == "ACDEGP"
    assert actions.owe_without_picture(**said).code == "ACDEGP"


def test_code_of_a_print_is_well_formed():
    picture("K12", cast.danuta())
    (row,) = owe()
    assert codes.is_well_formed(row.code, codes.PRINT_LENGTH)


def test_a_crop_and_a_sitting_still_to_come_owe_nothing():
    whole = picture("K12", cast.danuta())
    picture("K12b", cast.danuta(), crop_of=whole)
    picture("K13", cast.danuta(), on=days(3))
    assert [row.picture.code for row in owe()] == ["K12"]


def test_a_print_of_somebody_at_grave_risk_is_not_for_the_lab():
    picture("K35", cast.ibrahima())
    picture("K12", cast.danuta())
    owe()
    assert {row.person.code: row.not_at_the_lab for row in Print.objects.all()} == {
        "35": True,
        "12": False,
    }


def test_a_print_is_owed_without_a_picture_and_put_on_its_way_by_the_next_one():
    who = cast.danuta()
    said = {"person": who, "on": days(-60), "by": cast.artist(), "at": cast.moment()}
    row = actions.owe_without_picture(**said)
    assert actions.owe_without_picture(**said) == row
    step(row, "nothing_to_print", days(-50))
    picture("K12", who)
    picture("K13", who)
    assert [found.picture.code for found in owe()] == ["K13"]
    row.refresh_from_db()
    assert (row.state, row.picture.code, row.owed_since) == ("owed", "K12", days(-30))
    assert [one.became for one in row.steps.all()] == ["owed", "nothing_to_print", "owed"]


def test_a_step_is_dated_by_the_event_and_keeps_what_was_agreed():
    row = made(cast.danuta(), state_on=days(-9))
    step(row, "asked_how", days(-3), is_safe=True, size="18 × 24 cm", word_at_the_door="quay")
    row.refresh_from_db()
    assert (row.state, row.state_on, row.is_safe) == ("asked_how", days(-3), True)
    last = row.steps.last()
    assert (last.number, last.was, last.became, last.on) == (2, "owed", "asked_how", days(-3))
    assert (last.noted_at, last.by) == (cast.moment(), cast.assistant())


def test_two_steps_at_once_are_refused_and_nothing_moves():
    row = made(cast.danuta())
    assert refused(step, row, "file_ready", size="large") == ("two_steps",)
    row.refresh_from_db()
    assert (row.state, row.size, row.steps.count()) == ("owed", "", 1)


def test_a_step_from_a_page_that_was_opened_earlier_is_refused():
    row = made(cast.danuta(), state="ordered")
    step(row, "at_the_lab", was="ordered")
    assert refused(step, row, "at_the_lab", was="ordered") == ("moved_meanwhile",)


def test_a_step_lies_neither_in_the_future_nor_before_the_last():
    row = made(cast.danuta(), state="ordered")
    assert refused(step, row, "at_the_lab", days(1)) == ("day_in_future",)
    assert refused(step, row, "at_the_lab", days(-2)) == ("before_the_last_step",)


def test_a_word_that_belongs_to_no_step_is_a_mistake():
    row = made(cast.danuta())
    with pytest.raises(TypeError, match="colour"):
        step(row, "asked_how", colour="grey")
    with pytest.raises(TypeError, match="tracked"):
        actions.agree_way(print=row, by=cast.artist(), on=days(0), tracked=True)


def test_a_print_goes_out_by_a_safe_way_only_and_twice_at_most():
    row = made(cast.danuta(), state="checked")
    assert refused(step, row, "out_on_a_round") == ("safe_way",)
    actions.agree_way(print=row, by=cast.assistant(), on=days(0), is_safe=True)
    for _ in range(2):
        step(row, "out_on_a_round")
        step(row, "not_home")
    assert row.tries == 2
    assert refused(step, row, "out_on_a_round") == ("two_tries",)
    step(row, "looking_for_a_way")


def test_post_goes_tracked_plain_and_asked_for():
    row = made(cast.danuta(), state="checked")
    assert refused(step, row, "posted", tracked=True) == ("plain_cover", "asked_for")
    step(row, "posted", tracked=True, plain_cover=True, post_asked_for=True)


def test_handed_on_is_acknowledged_by_word_from_the_sitter():
    row = made(cast.danuta(), state="handed_on")
    assert refused(step, row, "acknowledged") == ("word",)
    step(row, "acknowledged", word_from_sitter=True)
    assert refused(step, row, "in_hand") == ("no_such_move",)


def test_kept_prints_are_asked_about_once_a_trip():
    Trip.objects.create(code="T7", first_day=days(-5), last_day=days(5))
    row = made(cast.danuta(), state="kept_for_them", state_on=days(-4))
    step(row, "asked_how", days(-3))
    step(row, "kept_for_them", days(-2), box="B08")
    assert refused(step, row, "asked_how") == ("asked_this_trip",)
    assert row.box == "B08"


def test_kept_prints_may_be_asked_about_at_home():
    row = made(cast.danuta(), state="kept_for_them")
    assert step(row, "asked_how").state == "asked_how"


def test_a_print_is_closed_out_at_closing_with_how_and_by_whom():
    row = made(cast.danuta(), state="kept_for_them")
    assert refused(step, row, "closed_out") == ("ending", "closing", "decided_by")
    step(row, "closed_out", is_closing=True, is_decided=True, ending="archive")
    row.refresh_from_db()
    assert row.closed_how == "archive"


def test_nothing_to_print_is_closed_out_after_an_apology():
    row = made(cast.danuta(), code="", state="nothing_to_print")
    step(row, "closed_out", is_closing=True, is_decided=True, apology_given=True)
    assert Print.objects.get().closed_how == "apology"


def test_every_step_leaves_its_line():
    row = made(cast.danuta(), state="file_ready")
    for to in ("ordered", "at_the_lab", "collected"):
        step(row, to)
    step(row, "faulty", reason="the wrong frame")
    assert [one.became for one in queries.way(row)][:2] == ["faulty", "collected"]
    assert Step.objects.get(number=5).reason == "the wrong frame"
    assert row.state == PrintState.FAULTY


def test_a_promise_is_noted_and_kept_once():
    said = {"person": cast.danuta(), "kind": "book_copy", "by": cast.artist()}
    promise = actions.promise(**said, on=days(-9), due_on=days(9))
    assert refused(actions.promise, **said, on=days(0), due_on=days(-1)) == ("due_before",)
    keep = {"promise": promise, "by": cast.artist()}
    assert refused(actions.keep_promise, **keep, on=days(-10)) == ("kept_before",)
    actions.keep_promise(**keep, on=days(-1))
    actions.keep_promise(**keep, on=days(0))
    assert Promise.objects.get().kept_on == days(-1)


def test_an_invitation_is_kept_only_once_it_was_asked_who_may_see_them():
    seat = actions.promise(person=cast.danuta(), kind="invitation", on=days(-9), by=cast.artist())
    keep = {"promise": seat, "on": days(0), "by": cast.artist()}
    assert refused(actions.keep_promise, **keep) == ("others_may_see",)
    actions.keep_promise(**keep, others_may_see=False)
    found = Promise.objects.get()
    assert (found.kept_on, found.others_may_see) == (days(0), False)


def test_a_sum_says_its_currency_and_nothing_else_has_an_amount():
    said = {"person": cast.danuta(), "on": days(0), "by": cast.artist()}
    assert refused(actions.promise, kind="sum", amount=Decimal(40), **said) == ("currency",)
    seat = {"kind": "invitation", "amount": Decimal(40), "currency": "EUR"}
    assert refused(actions.promise, **seat, **said) == ("no_sum",)
    made = actions.promise(kind="sum", amount=Decimal(40), currency="EUR", **said)
    assert (made.amount, made.currency) == (Decimal(40), "EUR")
    assert actions.promise(kind="sum", currency="EUR", **said).currency == ""


def test_nobody_is_sent_to_whoever_said_no_meanwhile_and_the_print_stays_theirs():
    row = made(cast.danuta(), state="checked", is_safe=True)
    Participant.objects.update(standing="never_ring")
    assert refused(step, Print.objects.get(), "out_on_a_round") == ("left_alone",)
    post = {"tracked": True, "plain_cover": True, "post_asked_for": True}
    assert refused(step, Print.objects.get(), "posted", **post) == ("left_alone",)
    step(row, "kept_for_them", box="B12")
    assert Print.objects.get().state == "kept_for_them"


def test_whose_risk_became_grave_meanwhile_is_kept_from_the_lab():
    row = made(cast.ibrahima(), "K35")
    with_them = made(cast.danuta(), "G01")
    made(cast.marcel(), "K01")
    over = made(cast.ibrahima(), "K36", "acknowledged")
    Appearance.objects.create(picture=with_them.picture, person=cast.ibrahima(), place=2)
    step(row, "asked_how", not_at_the_lab=False)
    row.refresh_from_db()
    assert row.not_at_the_lab, "the mark cannot be taken off while the risk is grave"
    assert actions.keep_from_the_lab() == 1
    assert actions.keep_from_the_lab() == 0
    marked = Print.objects.filter(not_at_the_lab=True)
    assert set(marked) == {row, with_them}
    assert over not in marked


def test_a_kind_that_is_no_promise_is_a_mistake():
    with pytest.raises(ValueError, match="flowers"):
        actions.promise(
            person=cast.danuta(), kind="flowers", on=date(2026, 11, 1), by=cast.artist()
        )
