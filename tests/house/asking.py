"""Ask every page as everybody in every way, and name each cell that is not as the table says."""

import hashlib
import re
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connection, transaction
from django.test import Client

from relations.people.models import InSight, Participant, Why
from relations.privacy.home import today
from relations.privacy.models import Role, User
from tests.at_the_door import come_in
from tests.house import headers
from tests.house.pages import (
    ALWAYS_WRITTEN,
    METHODS,
    PUBLIC,
    REFUSED,
    WHO,
    WRITTEN_ON_LOOKING,
    Page,
    wanted,
)

READS = re.compile(r"[\s(]*(SELECT|SAVEPOINT|RELEASE|ROLLBACK|BEGIN|COMMIT|PRAGMA|SET)\b", re.I)
WRITES = re.compile(r'\s*(?:INSERT\s+(?:OR \w+ )?INTO|UPDATE|DELETE\s+FROM)\s+"?(\w+)', re.I)
POINT = re.compile(r'(SAVEPOINT|RELEASE SAVEPOINT|ROLLBACK TO SAVEPOINT)\s+"?(\w+)', re.I)
# What more than one test asks: of the other ways only the answer itself is looked at.
LOOKED_AT_AGAIN = {"GET", "POST"}
LONGEST_OPENING = 80
# What differs from one answer to the next without anybody having written it.
CHANCE = re.compile(
    rb'(name="(csrfmiddlewaretoken|token)" (id="\w+" )?value=|value=|"token": )"[-\w]{32,64}"'
    # To which key a telephone seals: a pair of its own in every home; and by which clock.
    rb'|data-(at|to|key)="[^"]*"'
)


@dataclass
class Watch:
    """What one request asked of the database: its statements, and the tables it wrote to."""

    statements: list[str]

    def __call__(self, run: Callable[..., Any], sql: str, *rest: Any) -> Any:
        self.statements.append(sql)
        return run(sql, *rest)

    @property
    def written(self) -> set[str]:
        """The tables written to, those of every request left out; an unknown statement is one."""
        writing = (sql for sql in self.statements if not READS.match(sql))
        tables = {found[1] if (found := WRITES.match(sql)) else sql for sql in writing}
        return tables - ALWAYS_WRITTEN

    @property
    def stayed(self) -> frozenset[str]:
        """The tables of which something written still stood at the end, savepoints undone."""
        layers: list[tuple[str, set[str]]] = [("", set())]
        for sql in self.statements:
            if found := POINT.match(sql):
                layers = _moved(layers, found[1].upper(), found[2])
            elif not READS.match(sql):
                named = WRITES.match(sql)
                layers[-1][1].add(named[1] if named else sql)
        return frozenset(set().union(*(tables for _, tables in layers)) - ALWAYS_WRITTEN)

    @property
    def shape(self) -> list[str]:
        """The statements without values and without the names of savepoints."""
        return [re.sub(r'"s\d+_x\d+"', "savepoint", sql) for sql in self.statements]


def without_chance(text: str) -> str:
    """A page without its tokens, in which chance may spell any two or three letters."""
    return CHANCE.sub(b"", text.encode()).decode()


def _moved(layers: list[tuple[str, set[str]]], verb: str, name: str) -> list[tuple[str, set[str]]]:
    """What was written since each savepoint, once one more is set, released or gone back to."""
    if verb == "SAVEPOINT":
        return [*layers, (name, set())]
    at = next((at for at in range(len(layers) - 1, 0, -1) if layers[at][0] == name), None)
    if at is None:
        return layers
    if verb.startswith("ROLLBACK"):
        return [*layers[:at], (name, set())]
    since = set().union(*(tables for _, tables in layers[at:]))
    return [*layers[: at - 1], (layers[at - 1][0], layers[at - 1][1] | since)]


@contextmanager
def watching() -> Iterator[Watch]:
    """Hear every statement until the block ends."""
    watch = Watch([])
    with connection.execute_wrapper(watch):
        yield watch


@dataclass(frozen=True)
class Asked:
    """One answer, with the tables that were written to on the way to it."""

    answer: Any
    written: set[str]
    shape: tuple[str, ...] = ()
    stayed: frozenset[str] = frozenset()  # of them, those where it was not undone before the answer

    @property
    def outcome(self) -> str:
        """A status, or `in` where the answer leads to the sign-in page."""
        to_sign_in = self.answer.headers.get("Location", "").startswith("/in/")
        return "in" if self.answer.status_code == 302 and to_sign_in else str(self.status)

    @property
    def status(self) -> int:
        return int(self.answer.status_code)

    @property
    def plain(self) -> bytes:
        """What was sent, without tokens."""
        return CHANCE.sub(b"", self.answer.content)


class Asker:
    """Somebody at a browser; whatever they do is undone before they ask again."""

    def __init__(self, who: str, *, is_sure: bool = True, name: str = "the") -> None:
        self.who, self.client = who, Client()
        self.user: User | None = None
        if who != "stranger":
            self.user = _user(who, f"{name}-{who}")
            come_in(self.client, self.user, is_sure=is_sure)
        self._cookies = self.client.cookies.output()
        if who == "assistant":
            for person in Participant.objects.all():
                InSight.objects.create(person=person, user=self.user, day=today(), why=Why.RING)

    def ask(self, method: str, address: str, data: Mapping[str, Any] | None = None) -> Asked:
        """One request; `POST without token` is as a form of another site would send it."""
        verb, _space, forged = method.partition(" ")
        self.client.handler.enforce_csrf_checks = bool(forged)
        return self._undone(lambda: self._send(verb, address, data))

    def send(self, address: str, body: bytes, kind: str, **headers: str) -> Asked:
        """One POST of these very bytes, said to be of this kind."""
        self.client.handler.enforce_csrf_checks = False
        return self._undone(
            lambda: self.client.generic("POST", address, body, kind, headers=headers or None)
        )

    def _undone(self, send: Callable[[], Any]) -> Asked:
        with transaction.atomic(), watching() as watch:
            answer = send()
            transaction.set_rollback(True)
        self.client.cookies.clear()
        self.client.cookies.load(self._cookies.replace("Set-Cookie: ", ""))
        return Asked(answer, watch.written, tuple(watch.shape), watch.stayed)

    def _send(self, verb: str, address: str, data: Mapping[str, Any] | None) -> Any:
        if verb == "POST":  # a browser sends at least the press
            return self.client.post(address, {"press": ""} if data is None else data)
        if verb == "GET":
            return self.client.get(address, data)
        return self.client.generic(verb, address)


def _user(who: str, username: str) -> User:
    role = Role.ASSISTANT if who == "unseen" else Role(who)
    return User.objects.create_user(username, None, role=role, called=who)


def unlisted(pages: Iterable[Page], rows: Mapping[str, object]) -> list[str]:
    """The pages without a row, and the rows without a page."""
    names = {page.name for page in pages}
    return [
        *(f"{name}: the page has no row" for name in sorted(names - rows.keys())),
        *(f"{name}: the row has no page" for name in sorted(rows.keys() - names)),
    ]


def unguarded(pages: Iterable[Page]) -> list[str]:
    """The pages that ask nobody who they are, though they are not public, and the reverse."""
    return [
        f"{page.name}: {'has no roles' if page.name not in PUBLIC else 'is public, with roles'}"
        for page in pages
        if (getattr(page.view, "roles", None) is None) != (page.name in PUBLIC)
    ]


@dataclass(frozen=True)
class Heard:
    """What is kept of an answer: the plain bytes and the statements by their digests."""

    outcome: str
    plain: bytes
    shape: bytes
    forms: tuple[bytes, ...]
    language: str  # as its head says
    opens: bytes  # how its HTML begins; nothing of anything else

    @classmethod
    def of(cls, asked: Asked) -> "Heard":
        """The same of one answer; `forms` has the tag that begins each form it holds."""
        sent = b"" if asked.answer.streaming else asked.plain
        said = (sent, repr(asked.shape).encode())
        head = asked.answer.headers
        is_html = head.get("Content-Type", "").startswith("text/html")
        return cls(
            asked.outcome,
            *map(_digest, said),
            tuple(re.findall(rb"<form [^>]*>", sent)),
            head.get("Content-Language", ""),
            sent[:LONGEST_OPENING] if is_html else b"",
        )


def _digest(said: bytes) -> bytes:
    return hashlib.sha256(said).digest()


class Hearing:
    """Asks each page once as somebody in one way, and remembers what was heard."""

    def __init__(self, askers: Mapping[str, Asker], samples: dict[str, str]) -> None:
        self.askers, self.samples = askers, samples
        self.heard: dict[tuple[str, str, str], Heard] = {}

    def ask(self, who: str, method: str, page: Page) -> Asked:
        """Ask, and remember."""
        asked = self.askers[who].ask(method, page.address(self.samples))
        if method in LOOKED_AT_AGAIN:
            self.heard[page.name, who, method] = Heard.of(asked)
        return asked

    def __call__(self, who: str, method: str, page: Page) -> Heard:
        """What was heard, asked now if it has not been."""
        if (page.name, who, method) not in self.heard:
            self.ask(who, method, page)
        return self.heard[page.name, who, method]


def cell(hearing: Hearing, who: str, page: Page) -> str:
    """What a GET and a POST of the form left empty get, as one cell of the table."""
    return "/".join(hearing(who, method, page).outcome for method in ("GET", "POST"))


def faults(
    hearing: Hearing,
    page: Page,
    row: Mapping[str, str],
    asked_by: Container[tuple[str, str]] | None = None,
) -> Iterator[str]:
    """Every cell of a page that is not as the table says: page, who, method, and what is wrong.

    `asked_by`: the pairs of who and method that are asked; without it, every one.
    """
    before = files()
    for who in WHO:
        for method in METHODS:
            if asked_by is not None and (who, method) not in asked_by:
                continue
            asked = hearing.ask(who, method, page)
            may_write = who != "stranger" if asked.outcome == "in" else asked.outcome not in REFUSED
            for fault in _of_cell(asked, page, method, wanted(row[who], method), may_write):
                yield f"{page.name}, {who}, {method}: {fault}"
    if files() != before:
        yield f"{page.name}: wrote a file"


def _of_cell(asked: Asked, page: Page, method: str, said: str, may_write: bool) -> Iterator[str]:
    if asked.outcome != said:
        yield f"answered {asked.outcome}, the table says {said}"
    if method != "POST" or not may_write:
        spared = WRITTEN_ON_LOOKING.get(page.name, frozenset()) if asked.outcome == "200" else ()
        for table in sorted(asked.written.difference(spared)):
            yield f"wrote to {table}"
    if method == "HEAD" and asked.answer.content:
        yield "sent a body"
    yield from headers.faults(asked.answer.headers)
    yield from headers.cookie_faults(asked.answer.cookies)


def files() -> set[tuple[str, int]]:
    """The files of the home, with their sizes."""
    home = Path(settings.RELATIONS_HOME)
    return {(str(path), path.stat().st_size) for path in home.rglob("*") if path.is_file()}
