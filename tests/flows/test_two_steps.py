"""Several press the same step of a print at the same second: it is stored once."""

import json

import pytest

pytestmark = pytest.mark.django_db
AT_ONCE = 4
PRINTS = 5
OWED = """
import datetime
from tests.rows import make
from relations.people.models import Participant
from relations.prints.models import Print
from relations.privacy.models import User
day = datetime.date(2026, 11, 20)
person = make(Participant, code="S2", standing="taking_part")
for _ in range(5):
    make(Print, person=person, state="collected", state_on=day, owed_since=day)
make(User, username="steps")
"""
STEPS = """
import datetime
from relations.prints.actions import step
from relations.prints.models import Print
from relations.privacy.models import User
from relations.privacy.refused import Refused
at = datetime.datetime(2026, 11, 23, 21, 10, tzinfo=datetime.UTC)
by = User.objects.get(username="steps")
rows = list(Print.objects.filter(person__code="S2").order_by("pk"))
print("ready", flush=True)
sys.stdin.readline()
told = []
for row in rows:
    try:
        step(print=row, to="checked", was="collected", on=at.date(), by=by, at=at)
        told.append("stored")
    except Refused as refused:
        told += refused.codes
print(json.dumps(told))
"""
COUNTED = """
from relations.prints.models import Step
found = Step.objects.filter(print__person__code="S2", became="checked")
print(json.dumps([found.count(), found.values("print").distinct().count()]))
"""


def test_the_same_step_at_the_same_second_is_one_step(apart):
    apart.run(OWED)
    hands = [apart.start(STEPS) for _ in range(AT_ONCE)]
    for one in hands:
        assert one.stdout
        assert one.stdout.readline() == "ready\n", one.communicate()[1]
    for one in hands:
        assert one.stdin
        one.stdin.write("go\n")
        one.stdin.flush()
    told = [one.communicate() for one in hands]
    assert [fault for _, fault in told] == [""] * AT_ONCE
    every = [json.loads(said) for said, _ in told]
    for answers in zip(*every, strict=True):
        assert sorted(answers) == ["moved_meanwhile"] * (AT_ONCE - 1) + ["stored"]
    assert json.loads(apart.run(COUNTED)) == [PRINTS, PRINTS]
