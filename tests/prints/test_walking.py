"""Rounds are planned, set out whole or not at all, and typed door by door, each once."""

from datetime import time

import pytest

from relations.people import newcomers
from relations.people.models import InSight, PersonHold
from relations.prints import actions, walking, walks
from relations.prints.models import Print, QuarterMinutes, Round
from relations.privacy.refused import Refused
from tests import cast
from tests.prints import bag
from tests.rows import make

pytestmark = pytest.mark.django_db
AT = cast.moment()


def note(door, came, **rest):
    said = {"on": cast.TODAY, "by": cast.assistant(), "at": AT, **rest}
    return walking.note_door(door=door, came=came, **said)


def one_out(**rest):
    (door,) = bag.out(bag.ready(cast.danuta(), "K12", **rest)).doors.all()
    return door


def state():
    return Print.objects.get(person__code="12").state


def test_minutes_are_noted_over_what_stood_there():
    for minutes in (12, 15):
        walking.keep_minutes(start="a", end="b", minutes=minutes, by=cast.assistant())
    assert QuarterMinutes.objects.get().minutes == 15


def test_planned_round_has_letters_in_order_and_moves_nothing():
    far = bag.ready(cast.danuta(), "K12", quarter=bag.MOLE)
    near = bag.ready(cast.marcel(), "K01", quarter=bag.DOCK)
    row = bag.planned(far, near, starts_in=bag.DOCK)
    doors = [(door.letter, door.print, door.due_at) for door in row.doors.all()]
    assert doors == [("A", near, time(10)), ("B", far, time(10, 28))]
    assert (row.code, row.set_out_at) == ("R1", None)
    assert set(Print.objects.values_list("state", flat=True)) == {"checked"}


def test_whoever_walks_sees_them_on_that_day_and_the_artist_needs_no_line():
    later = cast.days(1)
    bag.planned(bag.ready(cast.danuta(), "K12"), on=later)
    bag.planned(bag.ready(cast.marcel(), "K01"), on=later, walker=cast.artist())
    seen = InSight.objects.values_list("person__code", "user__username", "day", "why")
    assert list(seen) == [("12", "loic", later, "print")]


def test_round_is_planned_for_a_day_to_come_and_only_of_doors_that_can_be_reached():
    row = bag.ready(cast.danuta(), "K12", closes_at=time(9))
    with pytest.raises(Refused, match="not_all_reached"):
        bag.planned(row)
    with pytest.raises(Refused, match="day_gone"):
        bag.planned(row, on=cast.days(-1))
    assert not Round.objects.exists()


def test_code_that_somebody_took_at_the_same_moment_is_refused_in_words(monkeypatch):
    make(Round, code="R1")
    monkeypatch.setattr(walking.walks, "next_code", lambda: "R1")
    with pytest.raises(Refused, match="round_meanwhile"):
        bag.planned(bag.ready(cast.danuta(), "K12"))


def test_setting_out_moves_every_print_dated_by_the_day_and_twice_is_once():
    row = bag.out(bag.ready(cast.danuta(), "K12"))
    walking.set_out(round=row, by=cast.assistant(), at=cast.moment(hour=11))
    owed = Print.objects.get()
    assert (owed.state, owed.state_on, owed.round) == ("out_on_a_round", cast.TODAY, row)
    assert owed.steps.count() == 2
    row.refresh_from_db()
    assert row.set_out_at == AT


def test_round_sets_out_whole_or_not_at_all_and_says_which_letters_stand_against_it():
    first = bag.ready(cast.danuta(), "K12")
    others = [bag.ready(cast.marcel(), "K01"), bag.ready(cast.bruno(), "K19")]
    row = bag.planned(first, *others)
    held, unsafe = others
    make(PersonHold, person=held.person)
    actions.agree_way(print=unsafe, by=cast.artist(), on=cast.TODAY, is_safe=False)
    with pytest.raises(Refused) as no:
        walking.set_out(round=row, by=cast.assistant(), at=AT)
    letters = {door.print.person.code: door.letter for door in row.doors.all()}
    assert set(no.value.codes) == {f"{letters['01']}:left_alone", f"{letters['19']}:safe_way"}
    assert set(Print.objects.values_list("state", flat=True)) == {"checked"}


def test_round_is_called_off_until_it_has_set_out_and_twice_is_once():
    row = bag.ready(cast.danuta(), "K12")
    gone = bag.planned(row)
    for _press in range(2):
        walking.call_off(round=gone, by=cast.assistant())
    assert not gone.doors.exists()
    with pytest.raises(Refused, match="no_doors"):
        walking.set_out(round=gone, by=cast.assistant(), at=AT)
    with pytest.raises(Refused, match="set_out_already"):
        walking.call_off(round=bag.out(row), by=cast.assistant())


def test_print_goes_on_one_round_at_a_time():
    row = bag.ready(cast.danuta(), "K12")
    first, second = bag.planned(row), bag.planned(row)
    walking.set_out(round=first, by=cast.assistant(), at=AT)
    with pytest.raises(Refused, match="A:out_already"):
        walking.set_out(round=second, by=cast.assistant(), at=AT)


def test_print_that_was_not_reached_goes_on_the_next_round_without_a_step():
    door = one_out()
    note(door, "not_reached")
    assert state() == "out_on_a_round"
    row = bag.planned(door.print)
    walking.set_out(round=row, by=cast.assistant(), at=AT)
    owed = Print.objects.get()
    assert (owed.round, owed.steps.count()) == (row, 2)


@pytest.mark.parametrize(
    ("came", "expected", "steps"),
    [
        ("given", "acknowledged", 4),
        ("handed_on", "handed_on", 3),
        ("not_home", "not_home", 3),
        ("not_safe", "kept_for_them", 4),
        ("gave_back", "returned_by_them", 4),
        ("lost", "lost", 3),
        ("not_reached", "out_on_a_round", 2),
    ],
)
def test_one_line_notes_every_step_that_follows(came, expected, steps):
    door = note(one_out(), came, reason="X2")
    assert (state(), door.came, door.typed_by) == (expected, came, cast.assistant())
    owed = Print.objects.get()
    assert owed.steps.count() == steps
    assert all(step.reason == "X2" for step in owed.steps.filter(number__gt=2))


def test_after_two_failures_the_way_is_no_way_any_more_and_the_sitter_is_asked():
    door = note(one_out(tries=1), "not_home")
    owed = Print.objects.get()
    assert (owed.state, owed.tries, owed.is_safe) == ("looking_for_a_way", 2, None)
    with pytest.raises(Refused, match="A:safe_way"):
        walking.set_out(round=bag.planned(owed), by=door.typed_by, at=AT)
    actions.agree_way(print=owed, by=cast.assistant(), on=cast.TODAY, is_safe=True)
    assert walking.set_out(round=bag.planned(owed), by=door.typed_by, at=AT).set_out_at


def test_line_typed_three_days_later_keeps_the_day_it_happened():
    door = one_out()
    note(door, "given", at=cast.moment(cast.days(3)))
    assert Print.objects.get().state_on == cast.TODAY
    assert {step.on for step in Print.objects.get().steps.filter(number__gt=2)} == {cast.TODAY}


def test_line_is_stored_once_whoever_types_it_and_not_before_the_round():
    door = one_out()
    for on, code in ((cast.days(-1), "before_the_round"), (cast.days(1), "day_in_future")):
        with pytest.raises(Refused, match=code):
            note(door, "given", on=on)
    note(door, "given")
    with pytest.raises(Refused, match="typed_already"):
        note(door, "lost", by=cast.artist())
    assert state() == "acknowledged"


def test_line_of_a_round_that_has_not_set_out_and_one_noted_elsewhere_are_refused():
    (door,) = bag.planned(bag.ready(cast.danuta(), "K12")).doors.all()
    with pytest.raises(Refused, match="not_set_out"):
        note(door, "given")
    walking.set_out(round=door.round, by=cast.assistant(), at=AT)
    actions.step(print=door.print, to="lost", on=cast.TODAY, by=cast.artist(), at=AT)
    with pytest.raises(Refused, match="noted_already"):
        note(door, "given")


def test_one_line_that_is_refused_keeps_no_other_out():
    doors = list(
        bag.out(bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01")).doors.all()
    )
    note(doors[0], "given")
    stored, refused = walking.note_all(
        [(door, "not_safe", "") for door in doors], on=cast.TODAY, by=cast.assistant(), at=AT
    )
    assert stored == ["B"]
    assert refused["A"].codes == ("typed_already",)


def test_each_line_is_kept_by_itself_whatever_happens_at_the_next(monkeypatch):
    rows = bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01")
    first, second = bag.out(*rows).doors.all()
    step = actions.step

    def cut(*, print, **said):
        if print.pk == second.print_id and said["to"] == "acknowledged":
            raise OSError("the power is gone between two steps of the second door")
        return step(print=print, **said)

    monkeypatch.setattr(walking.actions, "step", cut)
    lines = [(door, "given", "") for door in (first, second)]
    said = {"on": cast.TODAY, "by": cast.assistant(), "at": AT}
    with pytest.raises(OSError, match="power"):
        walking.note_all(lines, **said)
    monkeypatch.undo()
    states = {row.doors.get().letter: row.state for row in Print.objects.all()}
    assert states == {"A": "acknowledged", "B": "out_on_a_round"}
    assert walking.note_all(lines, **said)[0] == ["B"]


def test_door_is_found_by_round_and_letter():
    door = one_out()
    assert walking.door_of("R1", "A") == door
    assert walking.door_of("R1", "B") is None


def test_nobody_who_wants_another_is_on_the_round_of_whoever_walks():
    row = bag.ready(cast.danuta(), "K12")
    newcomers.refuse(person=row.person, user=cast.assistant(), on=cast.TODAY, by=cast.artist())
    with pytest.raises(Refused, match="wants_another"):
        bag.planned(row)
    assert not InSight.objects.exists()
    assert bag.planned(row, walker=cast.artist()).doors.count() == 1


def test_who_refuses_after_the_plan_is_not_gone_to_and_stands_on_no_sheet():
    rows = bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01", quarter=bag.MOLE)
    planned = bag.planned(*rows)
    said = {"person": cast.danuta(), "user": cast.assistant(), "on": cast.TODAY}
    refusal = newcomers.refuse(**said, by=cast.artist())
    letters = {door.print.person.code: door.letter for door in planned.doors.all()}
    with pytest.raises(Refused) as no:
        walking.set_out(round=planned, by=planned.by, at=AT)
    assert no.value.codes == (f"{letters['12']}:wants_another",)
    doors = walks.doors(cast.artist(), planned)
    assert [door.letter for door in walks.carried(doors)] == [letters["01"]]
    newcomers.lift(row=refusal, on=cast.TODAY, by=cast.artist())
    assert len(walks.carried(doors)) == 2
    assert walking.set_out(round=planned, by=planned.by, at=AT).set_out_at == AT
