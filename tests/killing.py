"""Kills the real server at random moments while four people note rings, promises, prints and scans.

What was acknowledged must be there exactly once, what was not sent must not be there at all, and
what was on its way may be sent again, with the same token, and is then there exactly once.
"""

import contextlib
import http.client
import itertools
import json
import os
import random
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from io import BytesIO

from django.urls import reverse
from PIL import Image

from tests.apart import Apart
from tests.browsing import Browser
from tests.clone import ROOT
from tests.worked_in import PASSPHRASE, PASSWORD, code, is_silent, serial

WRITERS = ("ada", "bea", "cleo", "dora")
KINDS = ("ring", "promise", "print", "scan")
TO_START = 60  # seconds at most
FORM = tuple[str, bytes, str]  # address, body, kind of body


def picture(number: int) -> Image.Image:
    """Noise, different for each act, of up to half a megabyte."""
    chance = random.Random(number)
    side = chance.randrange(32, 400)
    return Image.frombytes("RGB", (side, side), chance.randbytes(side * side * 3))


def scan(number: int) -> bytes:
    """What act `number` sends as the scan of its paper."""
    made = BytesIO()
    picture(number).save(made, "PNG", compress_level=1)
    return made.getvalue()


# Makes the home that is served: keys that open fast, four who may all, whom the acts are about.
MAKE = """
from relations.privacy.models import User
from tests.killing import KINDS, WRITERS
from tests.worked_in import PASSWORD, make_home, make_papers, make_people
make_home()
for name in WRITERS:
    User.objects.create_user(name, PASSWORD, role="artist", called=name)
people = dict(enumerate(make_people(range(int(sys.argv[1])))))
make_papers({n: who for n, who in people.items() if KINDS[n % len(KINDS)] == "scan"})
"""
# Answers each line of act numbers with what is wrong: half an act, none, two, or a broken seal.
# With "all" as the line it looks at everything the home holds.
CHECK = """
import hashlib
from io import BytesIO
from PIL import Image
from django.db import connection
from relations.consent.models import Form
from relations.documents import filing
from relations.documents.models import Scan
from relations.meetings.models import Call
from relations.people.models import InSight, Participant
from relations.prints.models import Print, Promise, Step
from relations.privacy import damage
from relations.privacy.files import scans
from relations.privacy.home import home
from tests.killing import KINDS, picture
from tests.worked_in import code, serial

def ring(who, n):
    calls = Call.objects.filter(person=who)
    return [calls.filter(outcome="no_answer").count(), calls.filter(outcome="").count(),
            int(who.standing == "being_rung")]

def promise(who, n):
    return [Promise.objects.filter(person=who).count()]

def print_(who, n):
    steps = Step.objects.filter(print__person=who)
    return [Print.objects.filter(person=who).count(), steps.count()]

def scanned(who, n):
    form = Form.objects.get(sheet__serial=serial(n))
    rows = list(form.sheet.scans.all())
    whole = sum(same(filing.content(row), n) for row in rows)
    seen = InSight.objects.filter(person=who).count()
    return [len(rows), whole, int(form.state == "scanned"), seen]

def same(content, n):
    return Image.open(BytesIO(content)).tobytes() == picture(n).tobytes()

LOOK = {"ring": ring, "promise": promise, "print": print_, "scan": scanned}

def look(n):
    return LOOK[KINDS[n % 4]](Participant.objects.get(code=code(n)), n)

for line in sys.stdin:
    said = json.loads(line)
    faults = [f"{KINDS[n % 4]} {n}: {found}" for n in said["there"] if set(found := look(n)) != {1}]
    faults += [f"unsent {KINDS[n % 4]} {n}: {found}" for n in said["absent"]
               if set(found := look(n)) != {0}]
    parts = [path.name for path in home().root.rglob(".part*")]
    faults += parts
    if said["whole"]:
        faults += [str(fault) for fault in damage.faults()]
        rows = [Call.objects.exclude(outcome="").count(), Promise.objects.count(),
                Print.objects.count(), Scan.objects.count()]
        there = [sum(KINDS[n % 4] == kind for n in said["there"]) for kind in KINDS]
        faults += [f"rows {rows}, acts {there}"] * (rows != there)
    connection.close()
    print(json.dumps(faults), flush=True)
"""


@dataclass
class Writer:
    """One of the four: what was acknowledged to them, and what they sent without an answer."""

    browser: Browser
    acknowledged: dict[int, FORM] = field(default_factory=dict)
    unanswered: dict[int, FORM] = field(default_factory=dict)
    never_sent: list[int] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def act(self, number: int) -> bool:
        """Open a page, fill it in and send it; False once nobody answers any more."""
        try:
            form = self._filled(number)
        except (OSError, http.client.HTTPException):
            self.never_sent.append(number)
            return False
        self.unanswered[number] = form
        return self.send(number)

    def send(self, number: int) -> bool:
        """Send what waits for an answer, as it was sent before."""
        form = self.unanswered[number]
        try:
            answer = self.browser.ask(*form)
        except (OSError, http.client.HTTPException):
            return False
        if answer.status == 302 and "/in/" not in answer.address:
            self.acknowledged[number] = self.unanswered.pop(number)
        else:
            said = re.sub(r"(?:<[^>]*>|\s)+", " ", answer.text.partition("<main")[2])
            self.refused.append(f"{KINDS[number % 4]} {number}: {answer.status} {said}")
        return True

    def _filled(self, number: int) -> FORM:
        return FILLED[KINDS[number % 4]](self.browser, number)


def _ring(browser: Browser, number: int) -> FORM:
    path = reverse("meetings:ring", args=[code(number)])
    return (path, *browser.filled(path, outcome="no_answer"))


def _promise(browser: Browser, number: int) -> FORM:
    path = reverse("prints:new_promise")
    said = {"kind": "invitation", "on": "2026-11-20", "others_may_see": ""}
    return (path, *browser.filled(path, code=code(number), **said))


def _print(browser: Browser, number: int) -> FORM:
    path = reverse("prints:without_picture")
    return (path, *browser.filled(path, code=code(number), on="2026-11-20"))


def _scan(browser: Browser, number: int) -> FORM:
    path = reverse("consent:file")
    said = {"serial": serial(number), "code": ""}
    return (path, *browser.filled_with_file(path, "scan", scan(number), "image/png", **said))


FILLED: dict[str, Callable[[Browser, int], FORM]] = {
    "ring": _ring,
    "promise": _promise,
    "print": _print,
    "scan": _scan,
}


# Has everything imported, holds no key, and parts into a server each time it is asked to: what is
# measured is `serve` itself, and not Python's reading of modules.
PARTING = """
import os, sys
import django
django.setup()
from django.core.management import call_command
from django.urls import get_resolver
get_resolver().url_patterns
for line in sys.stdin:
    if line == "gone\\n":
        os.wait()
        continue
    server = os.fork()
    if not server:
        os.setsid()
        sys.stdin = open(os.devnull)
        sys.stdout = sys.stderr = open(os.devnull, "w")
        call_command("serve", locked=True, port=int(line))
        os._exit(0)
    print(server, flush=True)
"""


@dataclass
class Site:
    """The real server of a home, as `manage.py serve --locked` starts it."""

    apart: Apart
    port: int
    more: dict[str, str] = field(default_factory=dict)  # of its environment
    starter: subprocess.Popen | None = None
    pid: int = 0

    def start(self) -> None:
        """Start it locked and open it by its page."""
        self.starter = self.starter or subprocess.Popen(
            [sys.executable, "-c", PARTING],
            cwd=ROOT,
            env=self.apart.environment(**self.more),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        self.pid = int(self._say(f"{self.port}\n", answers=True))
        until = time.monotonic() + TO_START
        while is_silent(self.port):
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.01)
        opened = Browser(self.port, follows=False).send("/", passphrase=PASSPHRASE)
        assert opened.status == 302, opened.text

    def _say(self, line: str, *, answers: bool = False) -> str:
        assert self.starter
        assert self.starter.stdin
        assert self.starter.stdout
        self.starter.stdin.write(line)
        self.starter.stdin.flush()
        return self.starter.stdout.readline() if answers else ""

    def kill(self) -> None:
        """SIGKILL, to the server and to who watches over it: one group, nobody else's."""
        os.killpg(self.pid, signal.SIGKILL)
        self._say("gone\n")
        while not is_silent(self.port):
            time.sleep(0.005)

    def end(self) -> None:
        """Kill it for good, also one that never began to answer."""
        if self.starter and self.pid:
            with contextlib.suppress(ProcessLookupError):
                self.kill()
        if self.starter:
            self.starter.communicate()


@dataclass
class Killing:
    """Rounds of writing, killing, starting and looking; `crash` also ends a database server."""

    site: Site
    seed: int
    crash: Callable[[], None] = lambda: None
    is_patient: bool = False  # every other time it waits until each of the four was answered
    faults: list[str] = field(default_factory=list)
    resent: int = 0
    again: int = 0
    writers: list[Writer] = field(default_factory=list)
    numbers: Iterator[int] = field(default_factory=itertools.count)

    def run(self, kills: int) -> None:
        """Kill so often, and look after each time; at the end look at everything there is."""
        chance = random.Random(self.seed)
        self.site.start()
        self.writers = [self._signed_in(name) for name in WRITERS]
        checker = self.site.apart.start(CHECK)
        try:
            for _ in range(kills):
                before = self._there()
                self._write_until_killed(chance)
                self.crash()
                self.site.start()
                self._send_again(chance)
                self._look(checker, self._there() - before, whole=False)
            self._look(checker, self._there(), whole=True)
        finally:
            self.site.end()
            _, fault = checker.communicate()
            assert not fault, fault

    def _signed_in(self, name: str) -> Writer:
        browser = Browser(self.site.port, follows=False)
        came = browser.send(reverse("privacy:sign_in"), username=name, password=PASSWORD)
        assert came.status == 302, came.text
        return Writer(browser)

    def _there(self) -> set[int]:
        return {number for writer in self.writers for number in list(writer.acknowledged)}

    def _write_until_killed(self, chance: random.Random) -> None:
        ended = threading.Event()

        def write(writer: Writer) -> None:
            while not ended.is_set() and writer.act(next(self.numbers)):
                pass

        threads = [threading.Thread(target=write, args=[one]) for one in self.writers]
        acknowledged = len(self._there())
        for thread in threads:
            thread.start()
        if self.is_patient and chance.random() < 0.5:
            # A server that has just begun is slow at the longest page; only once each of the four
            # was answered, it is also killed while it works as it does all day.
            until = time.monotonic() + TO_START
            while len(self._there()) < acknowledged + len(KINDS) and time.monotonic() < until:
                time.sleep(0.01)
        time.sleep(chance.uniform(0.05, 1.5))
        self.site.kill()
        ended.set()
        for thread in threads:
            thread.join()

    def _send_again(self, chance: random.Random) -> None:
        """What had no answer, and one thing that had: neither may be there twice."""
        for writer in self.writers:
            for number in list(writer.unanswered):
                self.resent += 1
                writer.send(number)
            if writer.acknowledged:
                number = chance.choice(list(writer.acknowledged))
                self.again += 1
                writer.unanswered[number] = writer.acknowledged[number]
                writer.send(number)
            self.faults += writer.refused
            writer.refused = []

    def _look(self, checker: subprocess.Popen, there: set[int], *, whole: bool) -> None:
        absent = [number for writer in self.writers for number in writer.never_sent]
        asked = {"there": sorted(there), "absent": absent if whole else absent[-4:]}
        assert checker.stdin
        assert checker.stdout
        checker.stdin.write(json.dumps({**asked, "whole": whole}) + "\n")
        checker.stdin.flush()
        said = checker.stdout.readline()
        assert said, "the checker ended"
        self.faults += json.loads(said)

    def __str__(self) -> str:
        kinds = [KINDS[number % 4] for number in self._there()]
        told = ", ".join(f"{kinds.count(kind)} {kind}s" for kind in KINDS)
        return f"seed {self.seed}: {told}; {self.resent} unanswered sent again, {self.again} twice"
