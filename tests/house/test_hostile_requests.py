"""Requests that no browser sends: addresses, methods, hosts and bodies; each is answered calmly.

OWASP ASVS 5.0: 4.1.4 (methods), 4.1.3 (headers of a proxy), 13.4 and 15.3, from memory.
"""

import pytest
from django.test import Client

from relations.privacy.models import Role, User
from tests.house import headers
from tests.house.asking import Asker, files

pytestmark = [pytest.mark.django_db, pytest.mark.once]
ODD = (
    *("%00", "%0d%0aSet-Cookie:%20x=1", "%2e%2e/", "%2e%2e%2fin/", ";a=b", "%ff"),
    *(
        "%c0%af",
        "%5c",
        "%F0%9F%99%82",
        "%252e%252e",
        "07/x",
        "07/%20",
        "new/x",
        "x" * 8000,
        "%7b%7d",
    ),
)
HOSTS = (
    *("elsewhere.example", "127.0.0.1:80@elsewhere.example", "localhost, elsewhere.example"),
    *("elsewhere.example#testserver", "[::1", "a" * 5000, "\u0661.example", "<b>"),
)
METHODS = ("PROPFIND", "CONNECT", "TRACK", "DEBUG", "G" * 500, "PURGE")
FORWARDED = {
    "X-Forwarded-Host": "elsewhere.example",
    "X-Forwarded-Proto": "https",
    "X-Forwarded-Port": "443",
    "X-Forwarded-Prefix": "//elsewhere.example",
    "Forwarded": "host=elsewhere.example;proto=https",
    "X-HTTP-Method-Override": "DELETE",
    "X-Original-URL": "/people/",
    "X-Rewrite-URL": "/people/",
    "X-Script-Name": "/elsewhere",
}


def calm(answer, *statuses: int) -> None:
    assert answer.status_code in statuses
    assert list(headers.faults(answer.headers)) == []
    to = answer.headers.get("Location", "/")
    assert to.startswith("/") and not to.startswith(("//", "/\\")), to
    assert "\n" not in to


@pytest.fixture
def artist() -> Asker:
    return Asker("artist")


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: odd[:20])
def test_odd_address_is_no_page_and_leads_nowhere_else(odd, artist):
    for start in ("/", "/people/", "/forms/", "/static/"):
        calm(artist.ask("GET", f"{start}{odd}").answer, 301, 404)
        calm(Client().get(f"{start}{odd}"), 301, 302, 404)


@pytest.mark.parametrize("path", ["//elsewhere.example/people", "/\\elsewhere.example", "///", ""])
def test_address_that_begins_like_another_host_stays_here(path):
    calm(Client().get("/", PATH_INFO=path), 200, 301, 302, 404)


@pytest.mark.parametrize("method", METHODS, ids=lambda method: method[:9])
def test_unknown_method_is_answered_alike_everywhere(method, artist):
    asked = [artist.ask(method, path) for path in ("/people/", "/people/07/", "/no/such/")]
    for one in asked:
        calm(one.answer, 405)
        assert (one.written, one.answer.content) == (set(), b"")
    assert len({one.answer.headers["Allow"] for one in asked}) == 1


@pytest.mark.parametrize("host", HOSTS, ids=lambda host: host[:20])
def test_other_host_is_refused_and_not_said_again(host, artist):
    answer = artist.client.get("/people/", headers={"host": host})
    calm(answer, 400)
    assert host.encode() not in answer.content
    assert b"<title>" in answer.content


def test_what_a_proxy_would_say_is_not_believed_where_there_is_none(artist):
    plain = artist.client.get("/people")
    said = artist.client.get("/people", headers=FORWARDED)
    assert (said.status_code, said.headers["Location"]) == (301, plain.headers["Location"])
    answer = Client().get("/people/", headers=FORWARDED)
    calm(answer, 302)
    assert not answer.wsgi_request.is_secure()
    assert b"elsewhere" not in Client().get("/in/", headers=FORWARDED).content


def test_wrong_tries_are_counted_whoever_they_say_to_be(client):
    User.objects.create_user("loic", "a long enough password", role=Role.ASSISTANT, called="Loïc")
    said = {"username": "loic", "password": "wrong"}
    answers = [
        client.post("/in/", said, headers={"X-Forwarded-For": f"192.0.2.{at}"}) for at in range(7)
    ]
    assert answers[-1].status_code == 429


@pytest.mark.parametrize(
    "query",
    [f"page={'9' * 5000}", "page=-1", "page=%00", "page=1e9", "&".join(["a=1"] * 900), "=&=&%%%"],
    ids=lambda query: query[:12],
)
def test_odd_query_is_no_fault(query, artist):
    for path in ("/people/", "/pictures/", "/forms/", "/uses/plans/", "/meetings/"):
        calm(artist.ask("GET", f"{path}?{query}").answer, 200)


def test_query_without_measure_is_refused(artist):
    answer = artist.ask("GET", "/people/?" + "&".join(["a=1"] * 1001)).answer
    calm(answer, 400)
    assert b"far too large" in answer.content


def part(head: bytes, body: bytes = b"x") -> bytes:
    return b"--B\r\n" + head + b"\r\n\r\n" + body + b"\r\n"


FIELD, FILE = b"Content-Disposition: form-data; name=", b'"scan"; filename='
MULTIPART = "multipart/form-data; boundary=B"
BODIES = {
    "no boundary": ("multipart/form-data", part(FIELD + b"a")),
    "boundary without measure": (f"multipart/form-data; boundary={'B' * 5000}", b""),
    "boundary that is no text": ("multipart/form-data; boundary=\udc80", b""),
    "another boundary": ("multipart/form-data; boundary=C", part(FIELD + b"a")),
    "cut in a head": (MULTIPART, b"--B\r\nContent-Dispo"),
    "cut in a file": (MULTIPART, part(FIELD + FILE + b'"a.png"', b"\x89PNG")[:-4]),
    "nested": (MULTIPART, part(FIELD + b"a\r\nContent-Type: multipart/mixed; boundary=B")),
    "ten thousand parts": (MULTIPART, part(FIELD + b'"a"') * 10_000 + b"--B--"),
    "ten thousand files": (MULTIPART, part(FIELD + FILE + b'"a"') * 10_000 + b"--B--"),
    "a head without measure": (MULTIPART, part(FIELD + b'"a"\r\nX: ' + b"x" * 100_000) + b"--B--"),
    "packed otherwise": (
        MULTIPART, part(FIELD + b'"a"\r\nContent-Transfer-Encoding: base64', b"!!!!!") + b"--B--"
    ),
    "a field without a name": (MULTIPART, part(b"Content-Disposition: form-data") + b"--B--"),
    "JSON": ("application/json", b'{"serial": [1, {"a": null}]}'),
    "XML": ("application/xml", b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'),
    "no kind": ("", b"a=b"),
    "a letter set nobody knows": ("application/x-www-form-urlencoded; charset=no-such", b"a=b"),
    "UTF-16": ("application/x-www-form-urlencoded; charset=utf-16", b"\xff\xfea\0=\0b\0"),
    "a thousand and one fields": ("application/x-www-form-urlencoded", b"a=1&" * 1001),
    "three megabytes of words": ("application/x-www-form-urlencoded", b"a=" + b"x" * 3_000_000),
    "nothing": ("application/x-www-form-urlencoded", b""),
}  # fmt: skip


@pytest.mark.parametrize("kind", BODIES)
def test_broken_body_is_refused_and_nothing_of_it_is_kept(kind, artist):
    said, body = BODIES[kind]
    before = files()
    for path in ("/forms/file/", "/people/new/"):
        asked = artist.send(path, body, said)
        calm(asked.answer, 400, 403, 413, 415, 422)
        assert (asked.stayed, files()) == (frozenset(), before)


@pytest.mark.parametrize("kind", ["application/json", "text/plain", MULTIPART])
@pytest.mark.parametrize(
    "body",
    [
        *(b"", b"[]", b"{}", b"null", b'"x"', b"[" * 100_000, b"[" * 5000, b"1" * 5000),
        *(b"\xff\xfe", b'{"a":NaN}', b'{"key": "x", "sealed": {}}'),
        b'{"key": "00000000-0000-4000-8000-000000000000", "sealed": {"to": [[["deep"]]]}}',
    ],
    ids=lambda body: str(body[:16]),
)
def test_sealed_entries_that_are_none_are_refused(body, kind, artist):
    asked = artist.send("/outbox/send/", body, kind)
    calm(asked.answer, 400, 403, 413, 415, 422)
    assert not asked.stayed
