"""Eight processes that each read a person, insert a call and update the person, many times over.

One table of figures for the gate's test and for the bench: with the settings of the site, and
beside them with what Django would do by itself.
"""

import json
import time
from dataclasses import dataclass

from tests.apart import Apart

PROCESSES, TURNS = 8, 150
# argv: how often, "site" or "default". Django's own settings: a deferred transaction, five seconds
# of waiting, no journal beside the file; and on a server no row held between reading and writing.
WRITING = """
import datetime
from django.db import DatabaseError, connection, transaction
from relations.meetings.models import Call
from relations.people.models import Participant
from relations.privacy.cipher import base

turns, is_site = int(sys.argv[1]), sys.argv[2] == "site"
day = datetime.date(2026, 11, 23)
if not is_site and connection.vendor == "sqlite":
    base.PRAGMAS = ()
    connection.settings_dict["OPTIONS"] = {"transaction_mode": "DEFERRED", "timeout": 5}
faults = []
people = Participant.objects.select_for_update() if is_site else Participant.objects
connection.ensure_connection()
print("ready", flush=True)
sys.stdin.readline()
for turn in range(turns):
    try:
        with transaction.atomic():
            person = people.get(code="W1")
            Call.objects.create(person=person, due_on=day)
            person.may_say = str(int(person.may_say) + 1)
            person.save(update_fields=["may_say"])
    except DatabaseError as error:
        faults.append(str(error).splitlines()[0])
print(json.dumps(faults))
"""
# Set by one alone, and kept by the file: two that set it at once are in each other's way.
JOURNAL = """
from django.db import connection
if sys.argv[1] == "default" and connection.vendor == "sqlite":
    connection.cursor().execute("PRAGMA journal_mode = DELETE")
"""
PERSON = """
import datetime
from relations.meetings.models import Call
from relations.people.models import Participant
day = datetime.date(2026, 11, 23)
Call.objects.all().delete()
Participant.objects.filter(code="W1").delete()
Participant.objects.create(code="W1", heard_on=day, standing_since=day, may_say="0")
"""
COUNTED = """
from relations.meetings.models import Call
from relations.people.models import Participant
print(Call.objects.count(), Participant.objects.get(code="W1").may_say)
"""


@dataclass(frozen=True)
class Figures:
    """What came of it: refusals in the database's words, rows there, how far the count came."""

    faults: list[str]
    calls: int
    counted: int
    seconds: float

    @property
    def locked(self) -> int:
        """How many were refused with "database is locked"."""
        return sum("locked" in fault for fault in self.faults)


def write(apart: Apart, settings: str) -> Figures:
    """Let all write at once, under the settings of the "site" or of Django's "default"."""
    apart.run(PERSON)
    apart.run(JOURNAL, settings)
    writers = [apart.start(WRITING, str(TURNS), settings) for _ in range(PROCESSES)]
    for writer in writers:
        assert writer.stdout
        assert writer.stdout.readline() == "ready\n", writer.communicate()[1]
    began = time.monotonic()
    for writer in writers:
        assert writer.stdin
        writer.stdin.write("go\n")
        writer.stdin.flush()
    told = [writer.communicate() for writer in writers]
    seconds = time.monotonic() - began
    assert [fault for _, fault in told] == [""] * PROCESSES
    faults = [fault for said, _ in told for fault in json.loads(said)]
    calls, counted = apart.run(COUNTED).split()
    return Figures(faults, int(calls), int(counted), seconds)
