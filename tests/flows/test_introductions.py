"""The artist reviews the introductions of the rehearsal: the numbers worked by hand, and one press.

Worked from the demo scenario by hand: who hangs on whom, the lines, the longest chain (F4 of the
job), and that each group was reached through one door for more than three in ten.
"""

import pytest
from django.test import Client

from relations.people.models import Community
from relations.privacy.home import today
from relations.privacy.models import User
from relations.referrals.overview import overview
from relations.referrals.threads import Rule
from tests.at_the_door import come_in

pytestmark = pytest.mark.django_db


def test_the_demo_answers_as_worked_by_hand_and_a_thank_you_leaves_the_list(rehearsal):
    web = overview(today())
    hanging = {one.code: one.people for one in web.through}
    wanted = {"01": 19, "20": 11, "X1": 10, "10": 9, "X2": 8, "21": 6}
    assert {code: hanging[code] for code in wanted} == wanted
    assert list(hanging.values())[:6] == list(wanted.values())
    lines = {one.code: one.people for one in web.far.lines}
    assert lines == {"01": 20, "X1": 10, "X2": 8, "X3": 3, "06": 1}
    assert len(web.far.waves) - 1 == 5
    assert {one.group for one in web.narrow} == {"aulne", "bouleau", "cedre", "erable", "frene"}
    assert web.hoped is None
    assert [one.rule for one in web.open] == [Rule.PRINT_OWED]

    artist, before = Client(), {one.introducer for one in web.thanks}
    come_in(artist, User.objects.get(username="ines"))
    artist.post("/introductions/thanked/20/")
    after = overview(today())
    assert before - {one.introducer for one in after.thanks} == {"20"}
    assert after.today.thanked == ("20",)

    Community.objects.update(hoped_for=50)
    found = {one.rule: [thread.code for thread in one.threads] for one in overview(today()).open}
    assert set(found) == set(Rule)
    assert not {"20", "01"} & set(found[Rule.NOT_ASKED])
