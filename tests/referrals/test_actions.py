"""What was made to be shown is kept by number, with what it said, and noted."""

import pytest
from django.db import IntegrityError, transaction

from relations.privacy.models import AccessEntry
from relations.referrals import actions
from relations.referrals.models import Shared
from relations.referrals.said import as_json, from_json
from relations.referrals.sharing import Part
from tests import cast
from tests.referrals import shared_cast as project

pytestmark = pytest.mark.django_db


def share() -> Shared:
    return actions.share(by=cast.artist(), at=cast.moment())


def test_a_drawing_is_kept_with_what_it_said_and_noted():
    project.project()
    made = share()
    said = from_json(Shared.objects.get().said)
    assert (made.number, made.kind, made.by) == (1, "drawing", cast.artist())
    assert (said.people, as_json(said)) == (40, made.said)
    entry = AccessEntry.objects.get()
    assert (entry.verb, entry.kind, entry.key) == ("shared", "map", made.pk)


def test_four_more_people_change_nothing_and_a_fifth_does():
    project.project()
    first = share()
    project.more(4)
    second = share()
    assert second.said == first.said
    project.more(1)
    third = from_json(share().said)
    assert third.people == 45
    assert [shared.number for shared in Shared.objects.all()] == [3, 2, 1]


def test_a_map_between_two_drawings_changes_nothing_of_what_the_next_is_held_to():
    project.project()
    first = share()
    actions.keep_map(part=Part.GROUP, group="oak", people=12, by=cast.artist(), at=cast.moment())
    project.more(3)
    assert share().said == first.said


def test_of_a_map_its_group_is_kept_and_of_a_line_no_code():
    by, at = cast.artist(), cast.moment()
    group = actions.keep_map(part=Part.GROUP, group="oak", people=12, by=by, at=at)
    line = actions.keep_map(part=Part.LINE, group="Q01", people=3, by=by, at=at)
    assert group.said == {"part": "group", "group": "oak", "people": 12}
    assert line.said == {"part": "line", "group": "", "people": 3}
    assert AccessEntry.objects.filter(verb="shared", kind="map").count() == 2


def test_while_people_are_few_only_a_rounded_total_is_kept():
    people = project.project()
    for person in people[18:]:
        person.introductions.all().delete()
    assert share().said == {"rows": [], "about": 15, "within": 0, "across": 0}


def test_no_two_have_one_number():
    made = share()
    with pytest.raises(IntegrityError), transaction.atomic():
        Shared.objects.create(number=1, kind="drawing", at=made.at, by=made.by)
