"""The real server: buffers whole requests and answers in memory, never in a temporary file."""

import contextlib
import os
import signal
import sys
from typing import Any

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from django.urls import get_resolver
from waitress import create_server
from waitress.channel import HTTPChannel
from waitress.server import TcpWSGIServer

from . import workers
from .bodies import Parser
from .files import STORES
from .idle import IDLE_EXIT, idle
from .opening import guard_process

MIB = 1024 * 1024
# A little above the largest upload, so that its form, not the server, says that it is too large.
BODY_BYTES = settings.UPLOAD_BYTES + 7 * MIB
# Above the largest answer, a scan or a PDF: waitress would put more into a file in clear.
ANSWER_BYTES = 64 * MIB
# Each connection may hold one body in memory.
CONNECTIONS = 40


class Channel(HTTPChannel):  # type: ignore[misc] # waitress brings no types
    """A connection whose bodies are read by our own rules."""

    parser_class = Parser


def options() -> dict[str, Any]:
    """What waitress is started with, besides host and port."""
    chosen: dict[str, Any] = {
        "threads": 4,
        # A phone on a bad line sends a scan for minutes.
        "channel_timeout": 300,
        "connection_limit": CONNECTIONS,
        "max_request_body_size": BODY_BYTES,
        "inbuf_overflow": BODY_BYTES + MIB,
        "outbuf_overflow": ANSWER_BYTES,
        "ident": None,
        "clear_untrusted_proxy_headers": True,
    }
    if settings.SECURE_PROXY_SSL_HEADER:
        # Without the address, a stranger's wrong tries would hold everybody off.
        headers = {"x-forwarded-proto", "x-forwarded-for"}
        chosen |= {"trusted_proxy": "127.0.0.1", "trusted_proxy_headers": headers}
    return chosen


def serve(
    host: str = "127.0.0.1", port: int = 8000, idle_minutes: float | None = None, count: int = 1
) -> None:
    """Serve until interrupted; parts of files that a crash left behind are removed first.

    After `idle_minutes` open and unused the process ends with IDLE_EXIT; None: it never does. With
    a `count` above one so many workers serve, and end together.
    """
    guard_process()
    for store in STORES.values():
        store().sweep()
    where: dict[str, Any] = {"host": host, "port": port}
    site = get_wsgi_application()
    if count > 1:
        # Read once, before the workers part: they share what none of them changes.
        get_resolver().url_patterns  # noqa: B018 - it is reading them that reads every page
        where = {"sockets": [workers.listen(host, port)]}
        workers.part(count)
    TcpWSGIServer.channel_class = Channel
    server = create_server(site, **where, **options())
    if idle_minutes is not None:
        idle.watch(idle_minutes)
    try:
        server.run()
    finally:
        server.close()
    if idle.is_over:
        raise SystemExit(IDLE_EXIT)


def watch_over(*, locked: bool) -> bool:
    """Part into a watcher, which never returns, and a server; tell the server if to stay locked.

    The watcher has no key and never had one. When the server ends because nobody used the open
    home, it starts another, locked; when it ends for another reason, the watcher ends alike.
    """
    while True:
        sys.stdout.flush()
        server = os.fork()
        if not server:
            return locked
        code = _wait_for(server)
        if code != IDLE_EXIT:
            raise SystemExit(code)
        locked = True


def _wait_for(server: int) -> int:
    """How a server ended; who asks the watcher to end asks the server."""

    def pass_on(number: int, _: object) -> None:
        with contextlib.suppress(ProcessLookupError):
            os.kill(server, number)

    # Ctrl-C reaches both, from the same terminal.
    before = {
        signal.SIGTERM: signal.signal(signal.SIGTERM, pass_on),
        signal.SIGINT: signal.signal(signal.SIGINT, signal.SIG_IGN),
    }
    try:
        return os.waitstatus_to_exitcode(os.waitpid(server, 0)[1])
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
