"""What a line of the access log costs beside any other row, and what it costs to check them all.

On the disk, in the embedded register: a home of its own, opened by a process of its own.
"""

import json

import pytest

from tests.clone import ROOT, Clone

APPEND_BAR = 1.5
CHECK_BAR = 5
LINES = 100_000

OPENED = """
import json, time, uuid
import django
django.setup()
from django.db import transaction
from django.utils import timezone
from relations.privacy import log, tables
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry, LogHead, Role, User
from tests.bench.timing import drain, side_by_side, turn_by_turn
keyring.hold(bytes(range(32)))
tables.make_all()
assert home().database.read_bytes()[:16] != b"SQLite format 3\\0"
"""

# The plain row is the very row of the log, saved as any row is, without number, hash and head.
APPEND = """
user = User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
numbers = iter(range(10**9, 2 * 10**9))
def line():
    log.note(user, "read", "people.phone", uuid.uuid4())
def plain():
    with transaction.atomic():
        AccessEntry(
            seq=next(numbers), at=timezone.now(), by=user.pk, verb="read", kind="people.phone",
            key=uuid.uuid4(), mac=bytes(32),
        ).save(force_insert=True)
worked = turn_by_turn(line, plain, times=250, clock=time.process_time)
waited = turn_by_turn(line, plain, times=250)
AccessEntry.objects.filter(seq__gte=10**9).delete()
assert log.verify() is None and log.head()[0] == 502
print(json.dumps([waited.seconds, waited.ratio, worked.seconds, worked.ratio]))
"""

# The chain is made in one go, by the log's own hash; checking it is the public check.
CHECK = """
from uuid import UUID
lines, mac, at = [], b"", timezone.now()
for seq in range(1, LINES + 1):
    entry = AccessEntry(
        seq=seq, at=at, by=UUID(int=seq % 4), verb="read", kind="people.phone", key=UUID(int=seq)
    )
    mac = entry.mac = log._mac(mac, entry)
    lines.append(entry)
with transaction.atomic():
    AccessEntry.objects.bulk_create(lines, batch_size=2000)
    LogHead.objects.create(only=True, seq=LINES, mac=mac)
del lines
bare = AccessEntry.objects.order_by("seq").values_list()
def check():
    assert log.broken_at() is None
pair = side_by_side(check, lambda: drain(bare.iterator(chunk_size=2000)), rounds=2)
AccessEntry.objects.filter(seq=LINES // 2).update(verb="reed")
assert log.broken_at() == LINES // 2
print(json.dumps([pair.seconds, pair.ratio]))
"""


def said_by(script, folder):
    return json.loads(Clone(ROOT).read(OPENED + script, RELATIONS_HOME=str(folder)))


def test_line_of_the_access_log_costs_little_more_than_a_plain_row(tmp_path, figure) -> None:
    waited, on_the_wall, worked, of_work = said_by(APPEND, tmp_path)
    figure("a line of the access log on the disk", waited * 1000, unit="ms")
    figure("a line of the log beside a plain row, on the wall", on_the_wall, bar=f"<= {APPEND_BAR}")
    figure("a line of the access log, its work", worked * 1000, unit="ms", guide="0.2")
    figure("a line of the log beside a plain row, its work", of_work, bar=f"<= {APPEND_BAR}")
    assert on_the_wall <= APPEND_BAR
    assert of_work <= APPEND_BAR


@pytest.mark.whole
def test_hundred_thousand_lines_are_checked_in_little_more_than_reading_them(
    tmp_path, figure
) -> None:
    seconds, ratio = said_by(CHECK.replace("LINES", str(LINES)), tmp_path)
    figure("to check 100,000 lines of the log", seconds, unit="s", guide="1")
    figure("to check 100,000 lines beside reading their rows", ratio, bar=f"<= {CHECK_BAR}")
    assert ratio <= CHECK_BAR
