"""A body that is too large is read to its end and answered in words; nothing of it is kept."""

import pytest
from waitress.adjustments import Adjustments

from relations.privacy import bodies
from relations.privacy.bodies import Parser

LIMIT = 1000


def parser(**adjustments):
    return Parser(Adjustments(max_request_body_size=LIMIT, **adjustments))


def head(length, *more):
    lines = [b"POST /forms/file/ HTTP/1.1", b"Host: 127.0.0.1", *more]
    return b"\r\n".join([*lines, b"Content-Length: %d" % length, b"", b""])


def feed(reading, data, at_once=300):
    while data and not reading.completed:
        taken = reading.received(data[:at_once])
        data = data[taken:]
    return data


def test_body_within_the_limit_is_taken_as_it_is():
    reading = parser()
    rest = feed(reading, head(500) + b"x" * 500 + b"next")
    assert (reading.completed, reading.error, rest) == (True, None, b"next")
    assert len(reading.get_body_stream().read()) == 500


def test_body_beyond_it_is_read_to_its_end_and_forgotten():
    reading = parser()
    rest = feed(reading, head(5000) + b"x" * 4000)
    assert (reading.completed, rest) == (False, b"")
    assert feed(reading, b"x" * 1000 + b"next") == b"next"
    assert reading.completed
    assert reading.error.code == 413
    assert len(reading.get_body_stream().read()) == 0


def test_more_than_anybody_sends_is_answered_at_once(monkeypatch):
    monkeypatch.setattr(bodies, "FORGOTTEN_BYTES", 2000)
    reading = parser()
    feed(reading, head(2001))
    assert (reading.completed, reading.error.code) == (True, 413)


def test_chunks_beyond_it_are_refused_where_they_go_beyond():
    reading = parser()
    lines = [b"POST / HTTP/1.1", b"Host: x", b"Transfer-Encoding: chunked", b"", b""]
    feed(reading, b"\r\n".join(lines) + (b"1f4\r\n" + b"x" * 500 + b"\r\n") * 3)
    assert (reading.completed, reading.error.code) == (True, 413)


@pytest.mark.parametrize(
    ("asked", "language"),
    [("fr-FR,fr;q=0.9", "fr"), ("de, ar;q=0.5", "ar"), ("de", "en"), ("", "en")],
)
def test_answer_is_a_page_in_the_browsers_language_with_every_header(asked, language):
    reading = parser()
    feed(reading, head(5000, b"Accept-Language: " + asked.encode()) + b"x" * 5000)
    status, headers, page = reading.error.to_response()
    assert status.startswith("413 ")
    assert f'<html lang="{language}"'.encode() in page
    assert b"25" in page
    assert dict(headers)["Cache-Control"] == "no-store"
    assert "Content-Security-Policy" in dict(headers)
