"""Every person has an ending before the project closes; nobody's comes by itself."""

from datetime import date, timedelta

import pytest

from relations.consent import queries as consent
from relations.consent.answers import Code
from relations.consent.rules import weigh
from relations.consent.values import Plan, Use
from relations.people.closed import ProjectClosed
from relations.people.models import Participant
from relations.people.values import Standing
from relations.pictures.models import Appearance
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


def test_an_ending_taken_back_leaves_them_where_they_stood_since_the_same_day():
    quiet, never = sitter("52", "gone_quiet"), make(Participant, code="60", standing="pause")
    before = list(Participant.objects.values_list("code", "standing", "standing_since"))
    begin()
    end(quiet, "destroyed")
    end(never, "destroyed")
    assert set(Participant.objects.values_list("not_shown_since", flat=True)) == {cast.TODAY}
    for _twice in range(2):
        for person in (quiet, never):
            people_ending.take_back(person=person, by=cast.artist())
    assert list(Participant.objects.values_list("code", "standing", "standing_since")) == before
    assert set(Participant.objects.values_list("not_shown_since", flat=True)) == {None}
    assert left() == ["52", "60"]
    assert AccessEntry.objects.filter(kind="rights.ending", verb="took_back").count() == 2


def test_no_ending_is_taken_back_by_another_nor_once_the_project_is_closed():
    person = sitter("51")
    Print.objects.create(
        person=person, picture=person.appearances.get().picture, state="acknowledged",
        state_on=cast.TODAY, owed_since=cast.days(-9),
    )  # fmt: skip
    begin()
    end(person)
    take_back = people_ending.take_back
    assert refused(take_back, person=person, by=cast.keeper()) == ("artist_only",)
    ending.close(on=cast.TODAY, by=cast.artist())
    assert refused(take_back, person=person, by=cast.artist()) == ("project_closed",)
    ending.call_off(on=cast.TODAY, by=cast.artist())
    take_back(person=person, by=cast.artist())
    assert Participant.objects.get().standing == "taking_part"


@pytest.mark.parametrize(
    ("how", "is_stopped"), [("destroyed", True), ("given_back", True), ("as_agreed", False)]
)
def test_what_was_given_back_or_destroyed_is_weighed_as_erased(how, is_stopped):
    person, other = sitter("51"), make(Participant, code="53", standing="taking_part")
    shared = person.appearances.get().picture
    make(Appearance, picture=shared, person=other, place=2)
    begin()

    def weighed():
        (frame,), everybody = consent.load([shared.pk], cast.TODAY)
        plan = Plan(use=Use.EXHIBITION, starts_on=cast.TODAY, countries=None)
        return {one.code for one in weigh(frame, everybody, plan, today=cast.TODAY).stops}

    assert Code.ERASED not in weighed()
    end(other, how)
    assert (Code.ERASED in weighed()) is is_stopped
    people_ending.take_back(person=other, by=cast.artist())
    assert Code.ERASED not in weighed()


def test_whom_nobody_could_ask_is_looked_for_on_their_day_and_not_before():
    quiet = sitter("52", "gone_quiet")
    begin()
    day = end(quiet, "could_not_ask").look_again_on
    assert people_ending.to_look_for(day - timedelta(days=1)) == []
    (due,) = people_ending.to_look_for(day)
    assert [one.value for one in due.may_become] == [
        *("as_agreed", "archive", "given_back", "destroyed", "could_not_ask")
    ]

    def look(how, on, by=None):
        return people_ending.looked_for(person=quiet, how=how, on=on, by=by or cast.artist())

    assert refused(look, "as_agreed", day, cast.assistant()) == ("artist_only",)
    assert refused(look, "archive", day) == ("their_archive_not_agreed",)
    assert look("as_agreed", day - timedelta(days=1)).how == "could_not_ask"
    assert look("could_not_ask", day).look_again_on == date(2030, 11, 23)
    assert people_ending.to_look_for(day) == []
    found = look("given_back", date(2030, 11, 23))
    assert (found.how, found.look_again_on) == ("given_back", None)
    quiet.refresh_from_db()
    assert (quiet.standing, quiet.not_shown_since) == ("closed", date(2030, 11, 23))
    people_ending.take_back(person=quiet, by=cast.artist())
    assert refused(look, "as_agreed", day) == ("ending_gone",)
