"""Ten minutes of work on a real server: no error, nothing lost, nothing twice, memory flat."""

import os
import sys

import pytest
from django.db import connection

from tests.apart import home_apart
from tests.loading import ASSISTANTS, MAKE, SECONDS_AN_ACT, SECRET, Load, served

pytestmark = [pytest.mark.django_db, pytest.mark.long]
# RELATIONS_LOAD_SECONDS=20 for a try.
SECONDS = float(os.environ.get("RELATIONS_LOAD_SECONDS", "600"))
# On PostgreSQL; the embedded register is served by one process.
WORKERS = 2


def test_ten_minutes_of_work_lose_nothing_and_store_nothing_twice(tmp_path, capsys):
    apart = home_apart(tmp_path, "")
    apart.run(MAKE, str(int(SECONDS / SECONDS_AN_ACT) * ASSISTANTS), SECRET)
    workers = 1 if connection.vendor == "sqlite" else WORKERS
    with served(apart, workers) as server:
        load = Load(server, SECONDS)
        load.run()
    load.check(apart)
    with capsys.disabled():
        sys.stdout.write(f"\n{connection.vendor}, {workers} processes, {load}\n")
    assert load.faults == []
    assert load.again["after"] > 0
    assert load.again["at once"] > 0
