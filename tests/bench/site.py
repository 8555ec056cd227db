"""The site asked without a line and without a screen: what one page costs, and what is sent."""

import gzip
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.wsgi import get_wsgi_application
from django.db import connection
from django.test import RequestFactory

from relations.privacy.ending import CODED_AT, SURE_AT
from relations.privacy.models import User


@dataclass(frozen=True)
class Page:
    """What came back over the line, as a browser is sent it."""

    status: int
    headers: dict[str, str]
    sent: bytes

    @property
    def body(self) -> bytes:
        is_pressed = self.headers.get("Content-Encoding") == "gzip"
        return gzip.decompress(self.sent) if is_pressed else self.sent


class Site:
    """The whole application, from its first middleware on, asked by one signed-in user or none.

    Not the test client: that one copies every context, which would be measured too.
    """

    def __init__(self, user: User | None = None, *, language: str = "en") -> None:
        self.answer = get_wsgi_application()
        self.asking = RequestFactory(HTTP_ACCEPT_LANGUAGE=language)
        self.cookies = f"sessionid={_session(user)}" if user else ""

    def ask(self, path: str) -> Page:
        """GET a page, compressed where the site does so."""
        request = self.asking.get(path, HTTP_HOST="127.0.0.1", HTTP_ACCEPT_ENCODING="gzip")
        said: list[Any] = []
        environ = request.environ | {"HTTP_COOKIE": self.cookies}
        body = self.answer(environ, lambda status, headers: said.extend((status, headers)))
        try:
            return Page(int(said[0].split()[0]), dict(said[1]), b"".join(body))
        finally:
            body.close()


def _session(user: User) -> str:
    session = SessionStore()
    session[SESSION_KEY] = str(user.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session[SURE_AT] = session[CODED_AT] = time.time()  # as of somebody who has just come in
    session.save()
    return str(session.session_key)


@contextmanager
def statements() -> Iterator[Counter[str]]:
    """The statements the database is asked until the block ends, without their values, counted."""
    asked: Counter[str] = Counter()

    def hear(execute: Any, sql: str, *rest: Any) -> Any:
        asked[sql] += 1
        return execute(sql, *rest)

    with connection.execute_wrapper(hear):
        yield asked
