"""Three real workers on PostgreSQL are one site: what one of them does, the others know."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from django.urls import reverse

from relations.privacy import codes
from tests import postgres
from tests.apart import Apart
from tests.browsing import Browser
from tests.clone import ROOT
from tests.loading import MAKE, SECRET, free_port
from tests.worked_in import PASSPHRASE, PASSWORD, is_silent

pytestmark = [pytest.mark.long, pytest.mark.needs("postgres"), pytest.mark.once]
WORKERS = 3
# More than often enough that each of three is asked.
OFTEN = 15
NAME = "Zéphyrine"
CALLS = """
from relations.meetings.models import Call
print(Call.objects.filter(outcome="no_answer").count())
"""


@pytest.fixture
def site(tmp_path):
    """`serve --locked --workers 3`, and its port."""
    with postgres.running(postgres.DURABLE) as server:
        apart, port = Apart(tmp_path, server.new_database("shared")), free_port()
        apart.run(MAKE, "60", SECRET)
        said = ["serve", "--locked", "--workers", str(WORKERS), "--port", str(port)]
        process = subprocess.Popen(
            [sys.executable, "-m", "django", *said],
            cwd=ROOT,
            env=apart.environment(PYTHONPATH=str(ROOT)),
            stdout=subprocess.DEVNULL,
            start_new_session=True,
        )
        wait_for(lambda: not is_silent(port))
        yield process, port, apart
        process.terminate()
        process.wait(30)


def wait_for(what):
    until = time.monotonic() + 90
    while not what():
        assert time.monotonic() < until
        time.sleep(0.1)


def workers_of(process):
    """The processes that answer: children of the one that watches, which itself is a child."""
    parents = {}
    for path in Path("/proc").glob("[0-9]*"):
        try:
            said = (path / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if said[0] != "Z":
            parents[int(path.name)] = int(said[1])
    watching = [pid for pid, parent in parents.items() if parent == process.pid]
    return [pid for pid, parent in parents.items() if parent in watching]


def sign_in(port, name):
    browser = Browser(port, follows=False)
    came = browser.send(reverse("privacy:sign_in"), username=name, password=PASSWORD)
    if came.status == 302 and name == "ines":
        came = browser.send(came.address, code=codes.hotp(SECRET, codes.step_at(time.time())))
    return browser, came.status


def test_three_workers_are_one_site(site):
    process, port, apart = site
    # Locked, one of them answers, and nothing but the unlocking page.
    assert len(workers_of(process)) == 1
    assert Browser(port).ask("/").status == 503
    assert Browser(port, follows=False).send("/", passphrase=PASSPHRASE).status == 302
    wait_for(lambda: len(workers_of(process)) == WORKERS)

    artist, _ = sign_in(port, "ines")
    hand, status = sign_in(port, "a0")
    assert status == 302
    # Each opens the names for itself, and sees at once what another of them wrote.
    assert [found(artist) for _ in range(OFTEN)] == [False] * OFTEN
    mended = artist.send(reverse("people:mend", args=["K0"]), call_name=NAME, heard_on="2026-11-01")
    assert mended.status == 302, mended.text
    assert [found(artist) for _ in range(OFTEN)] == [True] * OFTEN

    # Wrong tries are counted together: after five the right password is not looked at either.
    for _ in range(5):
        Browser(port).send(reverse("privacy:sign_in"), username="a3", password="wrong")
    assert {sign_in(port, "a3")[1] for _ in range(OFTEN)} == {429}

    # A token is good for one press, whichever of them it reaches.
    path = reverse("meetings:ring", args=["K0"])
    body = hand.filled(path, outcome="no_answer")
    assert {hand.ask(path, *body).status for _ in range(OFTEN)} == {302}
    assert apart.run(CALLS) == "1\n"

    # An alarm that one of them takes ends every session in all.
    assert {hand.ask(reverse("today:today")).status for _ in range(OFTEN)} == {200}
    raised = Browser(port).send(
        reverse("rights:lost"), username="a1", password=PASSWORD, what="phone"
    )
    assert raised.status == 200, raised.text
    assert {hand.ask(reverse("today:today")).status for _ in range(OFTEN)} == {302}

    # One that is killed ends them all, and whoever started the site hears of it.
    os.kill(workers_of(process)[0], signal.SIGKILL)
    assert process.wait(30) != 0
    wait_for(lambda: is_silent(port))


def found(artist):
    """Whether the artist's search finds the name."""
    page = artist.send(reverse("people:list"), typed=NAME)
    assert page.status == 200
    told, says, _ = page.text.partition("<main")[2].partition("twenty at most")
    assert says or "Found" in told, told
    return f">{NAME}<" in told
