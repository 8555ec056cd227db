"""What papers cost a process that lives long, and one that has only just begun."""

import json
import os
import resource
import subprocess
import sys

import pytest

from tests.bench.test_paper import PARAGRAPH, bare_page
from tests.bench.timing import best
from tests.house.rooms import ROOT

RENDERS, GROWTH_BAR_MB, COLD_BAR = 200, 5, 60

# Forms under ever new serials, from two pairs; each tenth sheet is laid out whole, as a new one is.
GROWING = f"""
import json, os
import django
django.setup()
from relations.consent import paper
from relations.documents import qr, serials
from relations.documents.render import render
from tests.consent.test_paper import KEY, form

def megabytes():
    with open("/proc/self/statm") as file:
        return int(file.read().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 2**20

def work(numbers):
    for number in numbers:
        first, second = (("fr", "ar"), ("en", "ne"))[number % 2]
        serial = f"{{number}}-{{serials.check(str(number))}}"
        payload = lambda page: qr.payload("F", serial, page, "A7", key=KEY)
        one = form(first, second, serial=serial, payload=payload)
        if number % 10:
            paper.pdf(one)
        else:
            render(paper.html(one), lang=first, title=serial, css=paper.style())

work(range(70_000, 70_030))
before = megabytes()
work(range(70_030, 70_030 + {RENDERS}))
print(json.dumps([before, megabytes()]))
"""
# The room of papers alone, as it was measured when the bar was set (paper.md 5).
COLD = """
from relations.documents.render import render
assert render("<html lang=en>{}</html>", lang="en", title="x")[:5] == b"%PDF-"
"""
COLD_SITE = "import django; django.setup()" + COLD
COLD_FORM = """
import django
django.setup()
from relations.consent import paper
from tests.consent.test_paper import form
assert paper.pdf(form("fr", "ar"))[:5] == b"%PDF-"
"""


def run(code: str) -> str:
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        timeout=900,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout


def seconds_of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


@pytest.mark.whole
def test_memory_does_not_grow_with_papers(figure):
    before, after = json.loads(run(GROWING))
    figure("growth over 200 forms", after - before, unit="MB", bar="<= 5")
    figure("memory of a process that makes forms", after, unit="MB", guide="140")
    assert after - before <= GROWTH_BAR_MB


def seconds(code: str, rounds: int = 5) -> float:
    """The least processor seconds of a process of its own, after one that warms the disk."""
    run(code)
    used = []
    for _ in range(rounds):
        start = seconds_of_children()
        run(code)
        used.append(seconds_of_children() - start)
    return min(used)


@pytest.mark.whole
def test_cold_process_has_its_first_paper_soon(figure):
    bare = best(bare_page, rounds=20)
    ratio = seconds(COLD.format(PARAGRAPH)) / bare
    figure("cold process to its first paper, bare pages", ratio, bar=f"<= {COLD_BAR}")
    site = seconds(COLD_SITE.format(PARAGRAPH)) / bare
    figure("cold process of the site to its first paper, bare pages", site, guide="60")
    form = seconds(COLD_FORM, rounds=3) / bare
    figure("cold process to its first form of two wordings, bare pages", form, guide="130")
    assert ratio <= COLD_BAR
