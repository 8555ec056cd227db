"""Several workers: one socket, one passphrase, and one end for all of them."""

import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time

import pytest

from relations.privacy import idle, workers

PASSPHRASE = "six words that nobody guesses"
# Reads Django once, and parts into a site each time it is asked to; then says how that ended. A
# worker tells whoever comes who it is, whether it holds the key and since when the home is used;
# it does what it is asked, and takes in nobody else meanwhile.
SITES = """
import json, os, sys
import django
from django.conf import settings
django.setup()
settings.RELATIONS_ON_OPENING = []
from relations.privacy import opening, slots, workers
from relations.privacy.crypt import Cost
from relations.privacy.idle import idle
from relations.privacy.keys import keyring
slots.COSTS = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))

def site(home, count, how):
    settings.RELATIONS_HOME = home
    opening.make_home("real", {"passphrase": sys.argv[1], "recovery": "0" * 28})
    if how == "locked":
        keyring.lock()
    listening = workers.listen("127.0.0.1", 0)
    print(os.getpid(), listening.getsockname()[1], flush=True)
    workers.part(int(count))
    while True:
        line, _ = listening.accept()
        answer(line, line.recv(100).decode())

def answer(line, asked):
    if asked == "open":
        keyring.unlock(sys.argv[1])
        opening.let_in()
        workers.opened(sys.argv[1])
    if asked == "touch":
        idle.touch()
    key = "" if keyring.locked else keyring.subkey("field").hex()
    told = {"pid": os.getpid(), "key": key, "open": keyring.is_open, "seen": idle._shared[0]}
    line.sendall(json.dumps(told).encode())
    line.shutdown(1)
    if asked.isdecimal():
        os._exit(int(asked))
    line.recv(1)  # until whoever asked goes

while asked := sys.stdin.readline().split():
    made = os.fork()
    if not made:
        sys.stdin = open(os.devnull)
        site(*asked)
    sys.stdin.readline()
    print(os.waitstatus_to_exitcode(os.waitpid(made, 0)[1]), flush=True)
"""


class Site:
    """Such a site, and the way to its workers."""

    def __init__(self, sites, home, count, how="open"):
        self.sites, self.lines, self.ended = sites, [], None
        self.watcher, self.port = map(int, self._say(f"{home} {count} {how}").split())

    def _say(self, line):
        self.sites.stdin.write(f"{line}\n")
        self.sites.stdin.flush()
        return self.sites.stdout.readline()

    def ask(self, said="who"):
        """Ask whichever worker is free, and keep it."""
        line = socket.create_connection(("127.0.0.1", self.port), timeout=60)
        self.lines.append(line)
        line.sendall(said.encode())
        return json.loads(line.makefile().read())

    def leave(self):
        """Let those go that were kept."""
        while self.lines:
            self.lines.pop().close()

    def code(self):
        """With what it ends."""
        if self.ended is None:
            self.ended = int(self._say("ended"))
        return self.ended

    def end(self):
        self.leave()
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.watcher, signal.SIGKILL)
        self.code()


@pytest.fixture(scope="module")
def sites():
    with subprocess.Popen(
        [sys.executable, "-c", SITES, PASSPHRASE],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        yield process
        process.stdin.close()


@pytest.fixture
def begun(sites, tmp_path):
    made = []

    def begin(*args):
        made.append(Site(sites, tmp_path / "home", *args))
        return made[-1]

    yield begin
    for site in made:
        site.end()


def is_gone(pid):
    """Whether a process ends within a while; one that nobody has buried yet is gone too."""
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            with open(f"/proc/{pid}/stat") as stat:
                if stat.read().rpartition(")")[2].split()[0] == "Z":
                    return True
        except OSError:
            return True
        time.sleep(0.02)
    return False


def test_each_worker_has_the_key_and_one_that_is_killed_ends_all(begun):
    site = begun(3)
    told = [site.ask() for _ in range(3)]
    pids = {one["pid"] for one in told}
    assert len(pids) == 3
    assert site.watcher not in pids
    assert len({one["key"] for one in told}) == 1
    assert all(one["open"] for one in told)
    os.kill(told[0]["pid"], signal.SIGKILL)
    assert site.code() == -signal.SIGKILL % 256
    assert all(is_gone(pid) for pid in pids)


def test_a_home_opened_in_the_one_locked_worker_gets_all_of_them(begun):
    site = begun(2, "locked")
    assert site.ask()["key"] == ""
    site.leave()
    first = site.ask("open")
    # The first is kept, so that this is another one: it was made with the key.
    second = site.ask()
    assert second["pid"] != first["pid"]
    assert second["key"] == first["key"] != ""
    assert second["open"]


def test_workers_count_the_idle_time_together_and_an_idle_one_ends_all(begun):
    site = begun(2)
    before = site.ask()
    touched = site.ask("touch")
    site.leave()
    after = [site.ask(), site.ask()]
    assert {one["pid"] for one in after} == {before["pid"], touched["pid"]}
    assert {one["seen"] for one in after} == {touched["seen"]}
    assert touched["seen"] > before["seen"]
    site.leave()
    site.ask(str(idle.IDLE_EXIT))
    assert site.code() == idle.IDLE_EXIT
    assert all(is_gone(one["pid"]) for one in after)


def test_a_worker_that_ends_without_a_fault_is_a_failure(begun):
    site = begun(2)
    site.ask("0")
    assert site.code() == workers.FAILED


def test_no_worker_outlives_the_one_that_watches(begun):
    site = begun(2)
    pids = [site.ask()["pid"] for _ in range(2)]
    os.kill(site.watcher, signal.SIGKILL)
    assert all(is_gone(pid) for pid in pids)


@pytest.mark.parametrize(
    ("number", "code"), [(signal.SIGTERM, -signal.SIGTERM % 256), (signal.SIGINT, 0)]
)
def test_who_ends_the_watching_process_ends_the_workers(begun, number, code):
    site = begun(2)
    pids = [site.ask()["pid"] for _ in range(2)]
    os.kill(site.watcher, number)
    assert site.code() == code
    assert all(is_gone(pid) for pid in pids)


def test_where_nobody_watches_an_opening_is_told_to_nobody():
    assert workers._to_watcher is None
    workers.opened(PASSPHRASE)


def test_an_address_of_either_kind_is_listened_at():
    with workers.listen("127.0.0.1", 0) as four:
        assert four.family == socket.AF_INET
    if socket.has_dualstack_ipv6():
        with workers.listen("::1", 0) as six:
            assert six.family == socket.AF_INET6
