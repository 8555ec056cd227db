"""Every person has an ending before the project closes; nobody's comes by itself."""

from datetime import date

import pytest

from relations.people.closed import ProjectClosed
from relations.people.models import Participant
from relations.people.values import Standing
from relations.prints.models import Print
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.rights import ending, people_ending
from relations.rights.models import Ending
from tests import cast
from tests.prints.frames import made, picture
from tests.rows import make

pytestmark = pytest.mark.django_db


def sitter(code, standing="taking_part"):
    person = make(Participant, code=code, standing=standing)
    picture(f"K{code}", person)
    return person


def begin():
    return ending.begin(on=cast.TODAY, by=cast.artist())


def end(person, how="as_agreed", by=None):
    return people_ending.end_for(person=person, how=how, on=cast.TODAY, by=by or cast.artist())


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def left():
    return [one.person.code for one in people_ending.without_ending()]


def test_project_closes_only_once_every_person_has_an_ending():
    first, second = sitter("51"), sitter("52", "gone_quiet")
    begin()
    for person in (first, second):
        Print.objects.create(
            person=person, picture=person.appearances.get().picture, state="acknowledged",
            state_on=cast.TODAY, owed_since=cast.days(-9),
        )  # fmt: skip
    assert left() == ["51", "52"]
    assert refused(ending.close, on=cast.TODAY, by=cast.artist()) == ("people_without_ending",)
    end(first)
    assert refused(ending.close, on=cast.TODAY, by=cast.artist()) == ("people_without_ending",)
    end(second, "could_not_ask")
    ending.close(on=cast.TODAY, by=cast.artist())
    assert ProjectClosed.objects.get().since == cast.TODAY
    ending.call_off(on=cast.TODAY, by=cast.artist())
    assert not ProjectClosed.objects.exists()


def test_file_is_closed_and_whom_nobody_could_ask_is_looked_for_in_two_years():
    quiet, here = sitter("52", "gone_quiet"), sitter("51")
    begin()
    assert end(quiet, "could_not_ask").look_again_on == date(2028, 11, 23)
    assert end(here).look_again_on is None
    assert [row.person.code for row in people_ending.endings()] in (["52", "51"], ["51", "52"])
    assert {*Participant.objects.values_list("standing", flat=True)} == {"closed"}
    assert AccessEntry.objects.filter(kind="rights.ending", verb="ended").count() == 2


def test_said_twice_it_stays_as_it_was_first():
    person = sitter("51")
    begin()
    assert end(person) == end(person, "destroyed")
    assert Ending.objects.get().how == "as_agreed"


def test_nothing_is_ended_before_it_was_begun_nor_by_another():
    person = sitter("51")
    assert refused(end, person) == ("not_begun",)
    begin()
    assert refused(end, person, by=cast.assistant()) == ("artist_only",)
    said = {"standing": "taking_part", "has_sat": True, "how": "as_agreed", "on": cast.TODAY}
    assert refused(people_ending.end_alike, **said, by=cast.keeper()) == ("artist_only",)


def test_a_print_that_is_owed_comes_first():
    row = made(cast.danuta(), state="kept_for_them")
    Participant.objects.filter(pk=row.person.pk).update(standing="taking_part")
    begin()
    assert refused(end, row.person) == ("still_owed",)


@pytest.mark.parametrize(
    ("standing", "how"),
    [
        ("taking_part", "could_not_ask"),
        ("stepped_back", "archive"),
        ("never_ring", "given_back"),
    ],
)
def test_an_ending_that_does_not_fit_where_somebody_stands_is_refused(standing, how):
    person = sitter("51", standing)
    begin()
    assert "not_this_ending" in refused(end, person, how)


def test_nothing_goes_to_an_archive_that_nobody_said_yes_to():
    person = sitter("51")
    begin()
    assert refused(end, person, "archive") == ("their_archive_not_agreed",)


def test_who_never_sat_is_only_let_go_of_and_keeps_the_standing():
    person = make(Participant, code="60", standing="pause")
    begin()
    assert refused(end, person, "as_agreed") == ("not_this_ending",)
    assert end(person, "destroyed").how == "destroyed"
    assert Participant.objects.get(code="60").standing == "pause"


def test_who_is_let_go_or_only_a_closed_number_needs_none():
    for number, standing in enumerate(("let_go", "closed", "never_ring")):
        make(Participant, code=f"7{number}", standing=standing)
    assert left() == []
    sitter("79", "never_ring")
    assert left() == ["79"]


def test_one_press_does_for_all_who_stand_alike_but_those_still_owed():
    for code in ("51", "52"):
        sitter(code)
    owed = made(cast.danuta(), state="kept_for_them").person
    Participant.objects.filter(pk=owed.pk).update(standing="taking_part")
    begin()
    group = people_ending.alike()[0]
    assert (group.standing, group.has_sat) == (Standing.TAKING_PART, True)
    assert [one.value for one in group.may_end] == [
        *("as_agreed", "archive", "given_back", "destroyed")
    ]
    said = {"standing": "taking_part", "has_sat": True, "how": "as_agreed"}
    press = {"on": cast.TODAY, "by": cast.artist()}
    assert people_ending.end_alike(**said, **press) == 2
    assert "12" in left()
    assert refused(people_ending.end_alike, **said, **press) == ("still_owed",)
    said["standing"] = "gone_quiet"
    assert refused(people_ending.end_alike, **said, **press) == ("nobody_alike",)
