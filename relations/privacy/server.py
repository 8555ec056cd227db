"""The real server: buffers whole requests and answers in memory, never in a temporary file."""

from typing import Any

from django.conf import settings
from django.core.wsgi import get_wsgi_application
from waitress import create_server

from .files import light_copies, scans
from .opening import guard_process

MIB = 1024 * 1024
# A little above the largest upload, so that its form, not the server, says that it is too large.
BODY_BYTES = settings.UPLOAD_BYTES + 7 * MIB
# Above the largest answer, a scan or a PDF: waitress would put more into a file in clear.
ANSWER_BYTES = 64 * MIB
# Each connection may hold one body in memory.
CONNECTIONS = 40


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
        chosen |= {"trusted_proxy": "127.0.0.1", "trusted_proxy_headers": {"x-forwarded-proto"}}
    return chosen


def serve(host: str = "127.0.0.1", port: int = 8000) -> None:
    """Serve until interrupted; parts of files that a crash left behind are removed first."""
    guard_process()
    for storage in (scans(), light_copies()):
        storage.sweep()
    server = create_server(get_wsgi_application(), host=host, port=port, **options())
    try:
        server.run()
    finally:
        server.close()
