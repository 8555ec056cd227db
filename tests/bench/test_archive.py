"""A life's work weighed at once: 50,000 pictures, beside one at a time and beside only reading.

Both databases stand side by side: this very measurement is run again on a PostgreSQL server.
"""

import gc
import json
import os
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pytest
from django.db import connection
from django.db.models import QuerySet

from relations.consent import queries, rules
from relations.consent.values import Plan, Use
from relations.consent.weighing import weigh_all
from relations.pictures.models import Picture
from tests import cast
from tests.bench import archive

ROOT = Path(__file__).resolve().parent.parent.parent
FASTER, TIMES_READ, QUERIES = 100, 3, 7
# One picture at a time would take minutes: so many are measured, spread over the whole.
SAMPLE, ROUNDS = 200, 2
WALL = Plan(Use.EXHIBITION, date(2027, 2, 5), frozenset({"FR"}), date(2027, 4, 18))
TOLD = "RELATIONS_FIGURES"


def all_at_once():
    """The whole register for one planned use, in one pass."""
    found = queries.load(Picture.objects.all(), cast.TODAY)
    return weigh_all(found.pictures, found.people, WALL, today=cast.TODAY)


def one_by_one(keys):
    """The pure rule, each picture with its own queries."""
    answers = []
    for key in keys:
        found = queries.load([key], cast.TODAY)
        answers.append(rules.weigh(found.pictures[0], found.people, WALL, today=cast.TODAY))
    return answers


def reads_of_a_pass(monkeypatch):
    """The statements of one pass, to be read again and nothing made of their rows."""
    asked = []
    fetch = QuerySet._fetch_all

    def heard(self):
        if self._result_cache is None:
            asked.append(self._chain())
        fetch(self)

    with monkeypatch.context() as patch:
        patch.setattr(QuerySet, "_fetch_all", heard)
        all_at_once()
    return asked


def only_read(asked):
    """The same rows through the same door, and nothing else."""
    return sum(len(list(one._chain())) for one in asked)


def seconds(act):
    gc.collect()
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


def measured(monkeypatch):
    """Seconds on the wall, since a server works there too: the least of each, in turn."""
    archive.enter(cast.artist(), everybody=archive.people())
    keys = list(Picture.objects.values_list("pk", flat=True)[:: archive.PICTURES // SAMPLE])
    asked = reads_of_a_pass(monkeypatch)
    gc.disable()
    try:
        taken = [
            (
                seconds(all_at_once),
                seconds(lambda: only_read(asked)),
                seconds(lambda: one_by_one(keys)),
            )
            for _ in range(ROUNDS)
        ]
    finally:
        gc.enable()
    whole, read, sample = map(min, zip(*taken, strict=True))
    answers = dict(zip(Picture.objects.values_list("pk", flat=True), all_at_once(), strict=True))
    assert [answers[key] for key in keys] == one_by_one(keys)
    return {
        "pictures": len(answers),
        "queries": len(asked),
        "whole": whole,
        "read": read,
        "alone": sample / len(keys) * archive.PICTURES,
    }


@pytest.mark.whole
@pytest.mark.django_db
def test_whole_register_is_weighed_in_one_pass(monkeypatch, figure):
    said = measured(monkeypatch)
    if file := os.environ.get(TOLD):
        Path(file).write_text(json.dumps(said), encoding="utf-8")
    tell(figure, said, connection.vendor)


@pytest.mark.whole
@pytest.mark.needs("postgres")
def test_whole_register_is_weighed_in_one_pass_on_a_server(tmp_path, figure):
    file = tmp_path / "figures.json"
    here = f"{Path(__file__).relative_to(ROOT)}::test_whole_register_is_weighed_in_one_pass"
    pytest_there = [sys.executable, "-m", "pytest", "-q", "-m", "bench", here]
    command = [sys.executable, "-m", "tests.postgres", "--", *pytest_there]
    settings = {key: said for key, said in os.environ.items() if key != "DJANGO_SETTINGS_MODULE"}
    done = subprocess.run(
        command, cwd=ROOT, env=settings | {TOLD: str(file)}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    tell(figure, json.loads(file.read_text(encoding="utf-8")), "postgresql")


def tell(figure, said, where):
    """The figures of one database, held to their bars."""
    faster, times_read = said["alone"] / said["whole"], said["whole"] / said["read"]
    figure(f"{where}: pictures weighed in one pass", said["pictures"])
    figure(f"{where}: seconds for all of them", said["whole"])
    figure(f"{where}: seconds one by one, from {SAMPLE} measured", said["alone"])
    figure(f"{where}: times faster than one by one", faster, bar=f">= {FASTER}")
    figure(f"{where}: times as long as only reading", times_read, bar=f"<= {TIMES_READ}")
    figure(f"{where}: queries of the pass", said["queries"], bar=f"<= {QUERIES}")
    assert said["pictures"] == archive.PICTURES
    assert faster >= FASTER
    assert times_read <= TIMES_READ
    assert said["queries"] <= QUERIES
