"""What is counted for funders, on which days, and that it is said once."""

from datetime import date, timedelta

import pytest

from relations.people.models import Community, Participant
from relations.pictures.models import Sitting
from relations.prints.models import Print, Step
from relations.privacy.models import AccessEntry, User
from relations.privacy.refused import Refused
from relations.rights import counting
from relations.rights.counting import Counted, fixed_day, half_of
from relations.rights.counts import Kind
from relations.rights.models import CountsReport
from tests.rows import AT, make

pytestmark = pytest.mark.django_db
JUNE, NOVEMBER, JANUARY = date(2026, 6, 30), date(2026, 11, 23), date(2027, 1, 4)


def sat(group, many, on=date(2025, 5, 14), **given):
    """So many people of a group who sat on a day."""
    people = [
        make(Participant, community=group, heard_on=on, standing_since=on, **given)
        for _ in range(many)
    ]
    make(Sitting, on=on).sitters.set(people)
    return people


def group(name):
    return make(Community, key=name.lower(), name=name)


def said(report, what=Counted.SAT):
    """What stands on the paper of one table: how, and the number."""
    (found,) = [one for one in report.tables if one.what is what]
    rows = {name: (one.kind.value, one.number) for name, one in found.rows}
    return {**rows, "total": (found.said.total.kind.value, found.said.total.number)}


def say(day=JUNE, on=NOVEMBER, by=None):
    return counting.say(day=day, on=on, by=by or make(User), at=AT)


@pytest.mark.parametrize(
    ("on", "day"),
    [
        (date(2026, 6, 30), date(2025, 12, 31)),
        (date(2026, 7, 1), JUNE),
        (date(2026, 12, 31), JUNE),
        (date(2027, 1, 1), date(2026, 12, 31)),
    ],
)
def test_fixed_day_is_the_end_of_the_last_half_year_that_is_over(on, day):
    assert fixed_day(on) == day
    assert half_of(day + timedelta(days=1)) > half_of(day)


def test_demo_is_said_as_the_rule_has_it(rehearsal):
    """Source: job.md F13; 32 people of five groups, grave harm may come to some of Érable."""
    report = counting.newest(NOVEMBER)
    assert (report.as_of, report.said_at, report.left_out) == (JUNE, None, [])
    assert said(report) == {
        "Aulne": ("number", 7),
        "Bouleau": ("number", 9),
        "Cèdre": ("number", 6),
        "Frêne": ("under", 5),
        "Érable": ("under", 10),
        "total": ("about", 30),
    }
    halves = said(report, Counted.HEARD)
    years = [f"{year}-{half}" for year in range(2023, 2027) for half in (1, 2)]
    assert list(halves) == [*years[1:7], "total"]


def test_everybody_is_counted_once_and_only_up_to_the_day():
    aulne = group("Aulne")
    people = sat(aulne, 6)
    make(Sitting, on=JUNE).sitters.set(people)
    sat(aulne, 3, on=JUNE + timedelta(days=1))
    assert said(counting.newest(NOVEMBER))["Aulne"] == ("number", 6)


def test_group_with_somebody_at_grave_risk_is_counted_from_ten_on():
    sat(group("Aulne"), 9)
    sat(group("Bouleau"), 9)
    make(Participant, community=Community.objects.get(key="bouleau"), level="grave")
    report = said(counting.newest(NOVEMBER))
    assert (report["Aulne"], report["Bouleau"]) == (("not_shown", 0), ("under", 10))


def test_nobody_in_a_group_is_not_told_from_a_few():
    sat(group("Aulne"), 20)
    sat(group("Bouleau"), 6)
    group("Cèdre")
    assert said(counting.newest(NOVEMBER))["Cèdre"] == ("under", 5)


def test_who_is_in_no_group_has_a_row_too():
    sat(None, 12)
    assert said(counting.newest(NOVEMBER)) == {"": ("number", 12), "total": ("about", 10)}


def test_prints_are_counted_by_the_half_year_in_which_they_came_home():
    for on in [date(2025, 3, 1)] * 6 + [date(2026, 7, 2)] * 6:
        home = make(Print, state="acknowledged", state_on=on + timedelta(days=90), owed_since=on)
        make(Step, print=home, became="in_hand", on=on)
        make(Step, print=home, became="acknowledged", on=on + timedelta(days=90), number=2)
    make(Print, state="collected", state_on=JUNE, owed_since=JUNE)
    assert said(counting.newest(NOVEMBER), Counted.PRINTS) == {
        "2025-1": ("number", 6),
        "2025-2": ("number", 0),
        "2026-1": ("number", 0),
        "total": ("about", 5),
    }


def test_nothing_is_counted_where_nothing_is_kept():
    report = counting.newest(NOVEMBER)
    assert [said(report, what) for what in Counted] == [{"total": ("under", 5)}] * 3
    assert report.tables[0].kinds == {Kind.UNDER}


def test_what_was_said_of_a_day_stays_said():
    aulne = group("Aulne")
    sat(aulne, 12)
    user = make(User)
    first = say(by=user)
    assert AccessEntry.objects.filter(by=user.pk, verb="printed", kind=counting.KIND).count() == 1
    sat(aulne, 30)
    Community.objects.update(name="Aune")
    assert say() == first == counting.newest(NOVEMBER) == counting.reports()[0]
    assert said(first)["Aulne"] == ("number", 12)
    assert CountsReport.objects.count() == 1


def test_next_report_says_what_moved_little_as_last_time():
    aulne = group("Aulne")
    sat(aulne, 12)
    sat(group("Bouleau"), 20)
    say()
    sat(aulne, 4, on=NOVEMBER)
    report = counting.newest(JANUARY)
    assert said(report)["Aulne"] == ("number", 12)
    assert report.as_of == date(2026, 12, 31)
    assert report.tables[0].is_kept and report.tables[0].is_by_group
    sat(aulne, 1, on=NOVEMBER)
    assert said(counting.newest(JANUARY))["Aulne"] == ("number", 17)


def test_half_year_that_was_in_a_report_stays_in_the_next():
    people = sat(None, 9, on=date(2024, 3, 1))
    say()
    Sitting.objects.all().delete()
    for person in people:
        person.delete()
    sat(None, 12)
    halves = said(counting.newest(JANUARY), Counted.HEARD)
    assert (halves["2024-1"], halves["2025-1"]) == (("number", 0), ("number", 12))


def test_table_is_left_out_where_it_would_tell_of_another():
    sat(group("Aulne"), 13)
    sat(group("Bouleau"), 7)
    sat(group("Cèdre"), 6)
    group("Frêne")
    # 26 were ever heard of, 13 and 7 of them are shown: what is left is nobody and six.
    report = counting.newest(NOVEMBER)
    assert said(report)["Frêne"] == ("under", 5)
    assert report.left_out == [Counted.HEARD]


def test_report_of_another_day_cannot_be_made_up():
    say()
    for day, on in [(date(2025, 12, 31), NOVEMBER), (JUNE + timedelta(days=1), NOVEMBER)]:
        with pytest.raises(Refused) as refused:
            say(day=day, on=on)
        assert refused.value.codes == ("no_report",)


def test_clock_that_goes_back_makes_no_report_between_two():
    later = say(day=date(2026, 12, 31), on=JANUARY)
    assert counting.newest(NOVEMBER) == later
    with pytest.raises(Refused):
        say()
