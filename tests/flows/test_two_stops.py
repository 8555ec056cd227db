"""Two who hear the same stop at the same second: it is kept once, and each thing is listed once."""

import json

import pytest

pytestmark = pytest.mark.django_db
AT_ONCE = 4
SHOWN = """
import datetime
from tests.rows import make
from relations.people.models import Participant
from relations.pictures.models import Appearance, Picture
from relations.uses.models import Shown
day = datetime.date(2026, 10, 1)
person = make(Participant, code="S1", standing="taking_part")
picture = make(Picture, code="KS1")
make(Appearance, picture=picture, person=person)
for code, use in (("U1", "web"), ("U2", "exhibition")):
    make(Shown, code=code, use=use, starts_on=day).pictures.add(picture)
from relations.privacy.models import User
make(User, username="hears")
"""
STOPS = """
import datetime
from django.db import DatabaseError, transaction
from relations.consent.actions import take_back
from relations.people.models import Participant
from relations.privacy.models import User
from relations.uses.actions import open_undo
at = datetime.datetime(2026, 11, 23, 21, 10, tzinfo=datetime.UTC)
by = User.objects.get(username="hears")
print("ready", flush=True)
sys.stdin.readline()
faults = []
for turn in range(5):
    try:
        with transaction.atomic():
            person = Participant.objects.get(code="S1")
            said_on = at.date() - datetime.timedelta(days=turn)
            take_back(person=person, scope="all", said_on=said_on, by=by, at=at)
            open_undo(person=person, by=by, at=at)
    except DatabaseError as error:
        faults.append(str(error).splitlines()[0])
print(json.dumps(faults))
"""
COUNTED = """
from collections import Counter
from relations.consent.models import TakenBack
from relations.people.models import Participant
from relations.uses.models import UndoLine
print(json.dumps({
    "noes": TakenBack.objects.count(),
    "lines": sorted(UndoLine.objects.values_list("code", flat=True)),
    "standing": Participant.objects.get(code="S1").standing,
}))
"""


def test_stops_at_the_same_second_are_one_stop(apart):
    apart.run(SHOWN)
    hearing = [apart.start(STOPS) for _ in range(AT_ONCE)]
    for one in hearing:
        assert one.stdout
        assert one.stdout.readline() == "ready\n", one.communicate()[1]
    for one in hearing:
        assert one.stdin
        one.stdin.write("go\n")
        one.stdin.flush()
    told = [one.communicate() for one in hearing]
    assert [(json.loads(said), fault) for said, fault in told] == [([], "")] * AT_ONCE
    # Five days on which it was said, each once, and a list that did not grow with them.
    assert json.loads(apart.run(COUNTED)) == {
        "noes": 5,
        "lines": ["copies_by_others", "copies_by_others", "cover", "take_down"],
        "standing": "stepped_back",
    }
