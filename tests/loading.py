"""Twenty assistants and the artist at work on a real server, as fast as it answers.

Each assistant notes rings, moves prints and files scans, each about somebody in their own sight;
the artist weighs a wall. Now and then a press is sent twice with its token: after the answer, or
at the same moment. A stranger asks for the empty page all the while, and what everything else
takes is told in times of that page.
"""

import http.client
import json
import math
import os
import random
import signal
import socket
import subprocess
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from statistics import mean, median

from django.urls import reverse
from PIL import Image

from relations.prints.queries import NO_PICTURE
from relations.privacy import codes
from tests.apart import Apart
from tests.browsing import Answer, Browser
from tests.clone import ROOT
from tests.killing import FORM
from tests.worked_in import PASSPHRASE, PASSWORD, code, is_silent, serial

SECRET = codes.new_secret()  # of the artist's device
ASSISTANTS, KINDS, WALL = 20, ("ring", "print", "scan"), 60
# Far faster than anybody presses; it bounds how many people the register must know.
SECONDS_AN_ACT = 1.0
TWICE, AT_ONCE, PRESS, PROBE = 5, 7, 5, 0.2
TO_START = 90  # seconds at most
WAITS, WORKS = 2.0, 4.0
WARMING = 0.1  # of the time

# Keys that open fast, twenty assistants, and for each act somebody in the sight of one of them.
MAKE = """
from datetime import date
from django.utils import timezone
from relations.people.models import InSight
from relations.pictures.models import Appearance, Picture, Sitting
from relations.prints.models import Print, fresh_code
from relations.privacy.home import today
from relations.privacy.models import CodeDevice, User
from relations.uses.models import PlannedPicture, PlannedUse
from tests.loading import ASSISTANTS, WALL, kind_of, whose
from tests.worked_in import HEARD, PASSWORD, make_home, make_papers, make_people
make_home()
artist = User.objects.create_user("ines", PASSWORD, role="artist", called="I", asks_code=True)
CodeDevice.objects.create(user=artist, secret=sys.argv[2], is_set_up=True, made_at=timezone.now())
users = [
    User.objects.create_user(f"a{n}", PASSWORD, role="assistant", called=f"A{n}")
    for n in range(ASSISTANTS)
]
acts = range(int(sys.argv[1]))
people = dict(enumerate(make_people(acts)))
why = {"ring": "ring", "print": "print", "scan": "form"}
InSight.objects.bulk_create(
    InSight(person=people[n], user=users[whose(n)], day=today(), why=why[kind_of(n)]) for n in acts
)
taken = set()
for n in acts:
    if kind_of(n) == "print":
        taken.add(fresh_code(taken))
prints = [n for n in acts if kind_of(n) == "print"]
Print.objects.bulk_create(
    Print(code=known, person=people[n], state="ordered", state_on=HEARD, owed_since=HEARD)
    for n, known in zip(prints, taken)
)
papers = [n for n in acts if kind_of(n) == "scan"]
make_papers({n: people[n] for n in papers})
plan = PlannedUse.objects.create(code="W1", use="exhibition", starts_on=date(2027, 3, 1))
for n in papers[:WALL]:
    sitting = Sitting.objects.create(code=f"S{n}", on=HEARD)
    sitting.sitters.add(people[n])
    frame = Picture.objects.create(code=f"P{n}", sitting=sitting, made_on=HEARD, others="none")
    Appearance.objects.create(picture=frame, person=people[n], recognisable="yes")
    PlannedPicture.objects.create(plan=plan, picture=frame)
"""
# What is in the register beside what was acknowledged, each of it counted.
CHECK = """
from collections import Counter
from django.db.models import Count
from relations.consent.models import Form
from relations.documents.models import Scan
from relations.meetings.models import Call
from relations.prints.models import Step
from relations.privacy import damage, log
from relations.uses.models import Weighing
from tests.loading import WALL, kind_of
from tests.worked_in import code, serial
said = json.loads(sys.stdin.readline())
there = {
    "ring": Counter(
        Call.objects.filter(outcome="no_answer").values_list("person__code", flat=True)
    ),
    "print": Counter(Step.objects.values_list("print__person__code", flat=True)),
    "scan": Counter(Scan.objects.values_list("sheet__serial", flat=True)),
}
wanted = {kind: Counter() for kind in there}
for n in said["acknowledged"]:
    kind = kind_of(n)
    wanted[kind][serial(n) if kind == "scan" else code(n)] += 1
faults = [f"{kind}: lost {dict(wanted[kind] - found)}" for kind, found in there.items()
          if wanted[kind] - found]
faults += [f"{kind}: too many {dict(found - wanted[kind])}" for kind, found in there.items()
           if found - wanted[kind]]
planned = Call.objects.filter(outcome="").values("person").annotate(n=Count("pk")).order_by()
faults += [f"planned twice: {row}" for row in planned if row["n"] != 1]
# The clock of lists and weighing stands still in a test: they are told apart by how many there are.
kept = Weighing.objects.count() / WALL
faults += [f"weighed {kept}, acknowledged {said['weighed']}"] * (kept != said["weighed"])
forms = Form.objects.filter(state="scanned").count()
faults += [f"forms scanned {forms}"] * (forms != len(wanted["scan"]))
faults += [str(fault) for fault in damage.faults()]
faults += [f"access log broken at {log.broken_at()}"] * (log.broken_at() is not None)
print(json.dumps(faults))
"""


def whose(number: int) -> int:
    """Which assistant does act `number`."""
    return number % ASSISTANTS


def kind_of(number: int) -> str:
    """What act `number` is: each assistant does one after the other, and not all the same."""
    return KINDS[(number // ASSISTANTS + whose(number)) % len(KINDS)]


def scan(number: int) -> bytes:
    """A scan that no other act sends: noise, of up to a few hundred kilobytes."""
    chance, made = random.Random(number), BytesIO()
    side = chance.randrange(32, 300)
    picture = Image.frombytes("RGB", (side, side), chance.randbytes(side * side * 3))
    picture.save(made, "PNG", compress_level=1)
    return made.getvalue()


@dataclass
class Served:
    """The processes of one server, found by their group."""

    process: subprocess.Popen
    port: int

    def memory(self) -> float:
        """What all of them hold, in MiB; what several share is counted once."""
        lines = [line for text in self._told("smaps_rollup") for line in text.splitlines()]
        return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:")) / 1024

    def work(self) -> float:
        """The seconds of a processor that all of them have used by now."""
        parts = [text.rpartition(")")[2].split() for text in self._told("stat")]
        return sum(int(said[11]) + int(said[12]) for said in parts) / os.sysconf("SC_CLK_TCK")

    def _told(self, name: str) -> Iterator[str]:
        for path in Path("/proc").glob("[0-9]*"):
            with suppress(OSError):
                if os.getpgid(int(path.name)) == self.process.pid:
                    yield (path / name).read_text()


@contextmanager
def served(apart: Apart, workers: int) -> Iterator[Served]:
    """`serve` as somebody starts it who types the passphrase, with so many workers."""
    port = free_port()
    more = ["--workers", str(workers)] if workers > 1 else []
    process = subprocess.Popen(
        [sys.executable, "-m", "django", "serve", "--port", str(port), *more],
        cwd=ROOT,
        env=apart.environment(PYTHONPATH=str(ROOT)),
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        text=True,
        start_new_session=True,
    )
    assert process.stdin
    process.stdin.write(f"{PASSPHRASE}\n")
    process.stdin.close()
    try:
        until = time.monotonic() + TO_START
        while is_silent(port):
            assert process.poll() is None, "the server ended"
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.1)
        yield Served(process, port)
    finally:
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGTERM)
        process.wait(30)


def free_port() -> int:
    """A port at which nobody listens."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return int(listener.getsockname()[1])


@dataclass
class Load:
    """One run: what was asked, how long each took, what was acknowledged and what went wrong."""

    server: Served
    seconds: float
    took: dict[str, list[float]] = field(default_factory=dict)
    acknowledged: list[int] = field(default_factory=list)
    weighed: int = 0
    again: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    memory: list[float] = field(default_factory=list)
    empty_a_second: float = 0.0
    # Seconds of a processor that the server used, for an empty page and for an answer under load.
    empty_work: float = 0.0
    work: float = 0.0
    answers: int = 0
    warm_at: float = math.inf
    ended: threading.Event = field(default_factory=threading.Event)
    mutex: threading.Lock = field(default_factory=threading.Lock)

    def run(self) -> None:
        """Sign everybody in, ask for the empty page alone, then let all of them work."""
        hands = [self._signed_in(f"a{n}") for n in range(ASSISTANTS)]
        artist = self._signed_in("ines")
        self._ask_for_nothing(max(3.0, self.seconds / 30))
        work = [lambda n=n, hand=hand: self._assistant(n, hand) for n, hand in enumerate(hands)]
        work += [lambda: self._artist(artist), self._stranger, self._look_at_memory]
        threads = [threading.Thread(target=self._safely, args=[one]) for one in work]
        self.warm_at, before = time.monotonic() + self.seconds * WARMING, self.server.work()
        for thread in threads:
            thread.start()
        time.sleep(self.seconds)
        self.ended.set()
        for thread in threads:
            thread.join()
        self.work = (self.server.work() - before) / self.answers

    def _safely(self, act: Callable[[], None]) -> None:
        while not self.ended.is_set():
            try:
                act()
            except (OSError, http.client.HTTPException) as error:
                self.faults.append(f"no answer: {error!r}")

    def _signed_in(self, name: str) -> Browser:
        browser = Browser(self.server.port, follows=False)
        came = browser.send(reverse("privacy:sign_in"), username=name, password=PASSWORD)
        if came.status == 302 and name == "ines":
            shown = codes.hotp(SECRET, codes.step_at(time.time()))
            came = browser.send(came.address, code=shown)
        assert came.status == 302, came.text
        return browser

    def _ask_for_nothing(self, seconds: float) -> None:
        """How many empty pages a second as many strangers get who ask for nothing else."""
        count, until, before = Counter[int](), time.monotonic() + seconds, self.server.work()

        def ask(who: int) -> None:
            browser = Browser(self.server.port, follows=False)
            while time.monotonic() < until:
                self._expect(browser.ask(reverse("privacy:away")), 200, "empty")
                count[who] += 1

        threads = [threading.Thread(target=ask, args=[n]) for n in range(ASSISTANTS)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.empty_a_second = count.total() / seconds
        self.empty_work = (self.server.work() - before) / count.total()

    def _expect(self, answer: Answer, status: int, about: str) -> bool:
        if answer.status != status:
            self.faults.append(f"{about}: {answer.status} {answer.address}")
        return answer.status == status

    def _timed(self, kind: str, ask: Callable[[], Answer]) -> Answer:
        began = time.monotonic()
        answer = ask()
        self._keep(kind, began)
        return answer

    def _keep(self, kind: str, began: float) -> None:
        """What is asked first pays for reading templates and catalogues: it is not counted."""
        with self.mutex:
            self.answers += 1
            if began >= self.warm_at:
                self.took.setdefault(kind, []).append(time.monotonic() - began)

    def _assistant(self, who: int, browser: Browser) -> None:
        """One act after the other, at most one a second."""
        for turn in range(int(self.seconds / SECONDS_AN_ACT)):
            number, began = who + turn * ASSISTANTS, time.monotonic()
            if self.ended.is_set():
                return
            kind = kind_of(number)
            path, body, sort = self._filled(browser, number)
            first = self._press(browser, kind, (path, body, sort), turn)
            if first is not None:
                self.acknowledged.append(number)
                led = self._timed("page led to", lambda to=first.address: browser.ask(to))
                self._expect(led, 200, f"after {kind} {number}")
            self.ended.wait(max(0.0, SECONDS_AN_ACT - (time.monotonic() - began)))
        self.ended.wait()

    def _press(self, browser: Browser, kind: str, form: FORM, turn: int) -> Answer | None:
        """Send a form, sometimes twice; the answer where all of them are the one expected."""
        answers: list[Answer] = []

        def send() -> None:
            answers.append(self._timed(kind, lambda: browser.ask(*form)))

        second = threading.Thread(target=self._safely_once, args=[send])
        is_at_once, is_twice = turn % AT_ONCE == 2, turn % TWICE == 1
        if is_at_once:
            second.start()
        send()
        if is_at_once:
            second.join()
            self.again["at once"] += 1
        elif is_twice:
            send()
            self.again["after"] += 1
        stands = [self._expect(one, 302, f"{kind} {form[0]}") for one in answers]
        addresses = {one.address for one in answers}
        if len(addresses) > 1:
            self.faults.append(f"{kind}: one token led to {sorted(addresses)}")
        return answers[0] if all(stands) else None

    def _safely_once(self, act: Callable[[], None]) -> None:
        try:
            act()
        except (OSError, http.client.HTTPException) as error:
            self.faults.append(f"no answer: {error!r}")

    def _filled(self, browser: Browser, number: int) -> FORM:
        """Open the page of an act, as its own kind, and fill it in."""
        kind = kind_of(number)
        if kind == "ring":
            path = reverse("meetings:ring", args=[code(number)])
            return (path, *self._opened(kind, lambda: browser.filled(path, outcome="no_answer")))
        if kind == "print":
            path = reverse("prints:step", args=[code(number), NO_PICTURE, "at_the_lab"])
            return (path, *self._opened(kind, lambda: browser.filled(path, on="2026-11-20")))
        path, content = reverse("consent:file"), scan(number)
        said = {"serial": serial(number), "code": ""}

        def fill() -> tuple[bytes, str]:
            return browser.filled_with_file(path, "scan", content, "image/png", **said)

        return (path, *self._opened(kind, fill))

    def _opened(self, kind: str, fill: Callable[[], tuple[bytes, str]]) -> tuple[bytes, str]:
        began = time.monotonic()
        filled = fill()
        self._keep(f"page of a {kind}", began)
        return filled

    def _artist(self, browser: Browser) -> None:
        """Looks at a wall of sixty, and now and then keeps what it weighs."""
        path, turn, sure_at = reverse("uses:weigh", args=["W1"]), 0, time.monotonic()
        while not self.ended.is_set():
            turn += 1
            look = self._timed("page of a wall", lambda: browser.ask(path))
            self._expect(look, 200, "the wall")
            if turn % PRESS:
                continue
            if time.monotonic() - sure_at > 300:
                sure = browser.send(reverse("privacy:sure"), password=PASSWORD)
                self._expect(sure, 302, "the password again")
                sure_at = time.monotonic()
            if self._press(browser, "weighing", (path, *browser.filled(path)), turn // PRESS):
                self.weighed += 1

    def _stranger(self) -> None:
        browser = Browser(self.server.port, follows=False)
        while not self.ended.is_set():
            page = self._timed("empty page", lambda: browser.ask(reverse("privacy:away")))
            self._expect(page, 200, "empty")
            self.ended.wait(PROBE)

    def _look_at_memory(self) -> None:
        while not self.ended.wait(self.seconds / 120):
            self.memory.append(self.server.memory())

    def check(self, apart: Apart) -> None:
        """Count what the register holds beside what was acknowledged."""
        process = apart.start(CHECK)
        said = {"acknowledged": self.acknowledged, "weighed": self.weighed}
        told, fault = process.communicate(json.dumps(said) + "\n")
        assert process.returncode == 0, fault
        self.faults += json.loads(told)

    @property
    def requests(self) -> int:
        """How many answers were measured."""
        return sum(len(times) for times in self.took.values())

    @property
    def a_second(self) -> float:
        """Answers a second under load."""
        return self.requests / (self.seconds * (1 - WARMING))

    @property
    def throughput(self) -> float:
        """Answers a second under load, in empty pages a second of the same server."""
        return self.a_second / self.empty_a_second

    @property
    def cost(self) -> float:
        """What an answer costs the server's processors, in empty pages: true on a busy machine."""
        return self.work / self.empty_work

    def slow(self) -> list[str]:
        """The kinds of which one in twenty takes longer than everybody waits, and its own work.

        Twice the wait of the empty page beside it, and the work of four answers: a wall of sixty
        is the dearest, and costs about that.
        """
        most = WAITS * _p95(self.took["empty page"]) + WORKS * self.work
        return [kind for kind, times in self.took.items() if _p95(times) > most]

    def p95(self, kind: str) -> float:
        """In times of the empty page's own, under the same load."""
        return _p95(self.took[kind]) / _p95(self.took["empty page"])

    @property
    def growth(self) -> float:
        """Memory of the last quarter beside that of the second, when everything is warm."""
        quarter = max(1, len(self.memory) // 4)
        return mean(self.memory[-quarter:]) / mean(self.memory[quarter : 2 * quarter])

    def __str__(self) -> str:
        kinds = Counter(kind_of(number) for number in self.acknowledged)
        told = ", ".join(f"{kinds[kind]} {kind}s" for kind in KINDS)
        lines = [
            f"{self.seconds:.0f} s: {told}, {self.weighed} weighings acknowledged; sent again "
            f"{self.again['after']}, at the same moment {self.again['at once']}",
            f"{'':16}{'answers':>8}{'median ms':>11}{'p95 ms':>9}{'p95 : empty':>13}",
        ]
        for kind, times in sorted(self.took.items()):
            lines.append(
                f"{kind:16}{len(times):8}{median(times) * 1000:11.0f}{_p95(times) * 1000:9.0f}"
                f"{self.p95(kind):13.1f}"
            )
        lines += [
            f"{self.a_second:.1f} answers a second, {self.empty_a_second:.0f} of "
            f"the empty page alone: ratio {self.throughput:.3f}",
            f"{self.work * 1000:.1f} ms of a processor an answer, {self.empty_work * 1000:.1f} ms "
            f"an empty page: ratio {self.cost:.1f}",
            f"memory {self.memory[0]:.0f} MiB at first, {max(self.memory):.0f} at most, last "
            f"quarter : second {self.growth:.2f}; faults {len(self.faults)}",
        ]
        return "\n".join(lines)


def _p95(times: list[float]) -> float:
    return sorted(times)[int(len(times) * 0.95)]
