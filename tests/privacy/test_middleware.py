"""A locked home answers one page on every path; every answer carries its headers."""

import re
import sys

import pytest
from django.db import DatabaseError
from django.http import HttpResponse
from django.test import Client, RequestFactory
from django.urls import include
from django.urls import path as route

from relations.privacy import middleware, slots
from relations.privacy.crypt import Cost, SealBroken
from relations.privacy.keys import Halfway, Locked, keyring
from relations.privacy.ledger import LedgerBroken
from relations.privacy.middleware import HEADERS, HeadersMiddleware, LanguageMiddleware
from relations.privacy.models import Role, User
from relations.privacy.tables import OlderTables
from tests.audit import faults

MASTER = bytes(range(32))
PASSPHRASE = "six words that nobody guesses"
PATHS = ["/", "/in/", "/away/", "/static/site.css", "/people/7KX3/", "/favicon.ico", "/nowhere"]


def stumble(request):
    """The home is locked while the page is being made."""
    keyring.lock()
    keyring.subkey("field")


def fail(request):
    raise ValueError("something else")


urlpatterns = [
    route("stumble/", stumble),
    route("fail/", fail),
    route("", include("relations.privacy.urls")),
]


@pytest.fixture
def locked(tmp_path, settings, monkeypatch, client):
    """A real home, locked; the client keeps cookies and is checked for forged forms."""
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path
    # What is done at an opening looks into the database, and most of these tests have none.
    settings.RELATIONS_ON_OPENING = []
    kept = slots.new_key_file("real", {"passphrase": PASSPHRASE, "recovery": "0" * 28}, MASTER)
    slots.write_key_file(tmp_path / "keys.json", kept)
    keyring.lock()
    yield Client(enforce_csrf_checks=True)
    keyring.hold(MASTER)


def token(page):
    return re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page.content.decode())[1]


@pytest.mark.unlocked
@pytest.mark.parametrize("method", ["get", "head", "post", "put", "delete", "options"])
@pytest.mark.parametrize("path", PATHS)
def test_a_locked_home_answers_503_on_every_path_and_asks_no_database(locked, method, path):
    # No database mark on this test: one query would fail it.
    page = getattr(locked, method)(path)
    assert page.status_code == 503
    assert page.headers["Cache-Control"] == "no-store"
    assert set(page.cookies) <= {"csrftoken"}


@pytest.mark.unlocked
def test_the_unlocking_page_names_nothing_and_needs_nothing(locked):
    text = locked.get("/people/7KX3/").content.decode()
    for word in ("relations", "portrait", "7KX3", "src=", "href=", "<script", "style"):
        assert word not in text.lower()
    assert 'name="passphrase"' in text
    assert '<label for="passphrase">' in text


@pytest.mark.unlocked
def test_the_unlocking_page_speaks_the_browsers_language(locked):
    text = locked.get("/", headers={"accept-language": "ar"}).content.decode()
    assert '<html lang="ar" dir="rtl">' in text


@pytest.mark.unlocked
def test_the_passphrase_opens_the_home_and_leads_back(locked):
    page = try_it(locked, PASSPHRASE, "/people/7KX3/")
    assert (page.status_code, page.headers["Location"]) == (302, "/people/7KX3/")
    assert not keyring.locked


def try_it(client, said, path="/"):
    asked = client.get("/")
    return client.post(
        "/",
        f"csrfmiddlewaretoken={token(asked)}&passphrase={said}",
        content_type="application/x-www-form-urlencoded",
        PATH_INFO=path,  # as it stands: the client itself would read "//" as another site
    )


@pytest.mark.unlocked
def test_a_wrong_passphrase_is_answered_403_and_then_has_to_wait(locked):
    page = try_it(locked, "wrong")
    assert page.status_code == 403
    assert "This is not the passphrase" in page.content.decode()
    keyring._not_before += 20
    page = try_it(locked, PASSPHRASE)
    assert page.status_code == 403
    assert re.search(r"Wait 2\d seconds", page.content.decode())
    assert keyring.locked
    keyring._not_before = 0.0


@pytest.mark.unlocked
def test_a_home_without_keys_opens_with_nothing(locked, settings, tmp_path):
    settings.RELATIONS_HOME = tmp_path / "nowhere"
    assert try_it(locked, PASSPHRASE).status_code == 403
    assert keyring.locked


@pytest.mark.unlocked
def test_a_form_from_elsewhere_opens_nothing(locked):
    locked.get("/")
    page = locked.post(
        "/", f"passphrase={PASSPHRASE}", content_type="application/x-www-form-urlencoded"
    )
    assert page.status_code == 403
    assert "too old" in page.content.decode()
    assert keyring.locked


@pytest.mark.unlocked
def test_the_way_back_never_leads_to_another_site(locked):
    page = try_it(locked, PASSPHRASE, "//elsewhere.example/")
    assert page.status_code == 302
    assert page.headers["Location"].startswith("/%2F")


@pytest.mark.unlocked
@pytest.mark.urls("tests.privacy.test_middleware")
@pytest.mark.django_db
def test_a_home_locked_while_a_page_is_made_answers_as_a_locked_one(locked, client):
    keyring.hold(MASTER)
    page = client.get("/stumble/")
    assert page.status_code == 503
    assert 'name="passphrase"' in page.content.decode()


@pytest.mark.urls("tests.privacy.test_middleware")
@pytest.mark.django_db
def test_another_fault_is_not_taken_for_a_locked_home(client):
    with pytest.raises(ValueError, match="something else"):
        client.get("/fail/")
    assert issubclass(Locked, RuntimeError)


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/in/", "/away/", "/static/site.css", "/nowhere", "/favicon.ico"])
def test_every_answer_carries_the_headers(client, path):
    page = client.get(path)
    for name, value in HEADERS.items():
        if name == "Cache-Control" and path.startswith("/static/"):
            continue
        assert page.headers[name] == value, name
    page.close()


@pytest.mark.unlocked
def test_the_unlocking_page_carries_them_too(locked):
    page = locked.get("/")
    assert {name: page.headers[name] for name in HEADERS} == HEADERS


def test_nothing_but_the_sites_own_files_may_run_or_show():
    policy = dict(part.split(" ", 1) for part in HEADERS["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert set(policy.values()) == {"'none'", "'self'"}
    for kind in ("frame-ancestors", "base-uri", "object-src", "font-src"):
        assert policy[kind] == "'none'"
    # `no-referrer` makes Chromium send `Origin: null`, and Django refuse every form.
    assert HEADERS["Referrer-Policy"] == "same-origin"
    assert "bluetooth" not in HEADERS["Permissions-Policy"]
    assert "geolocation=()" in HEADERS["Permissions-Policy"]


def test_a_header_that_a_page_set_itself_stands():
    page = HttpResponse(headers={"Cache-Control": "max-age=60"})
    answer = HeadersMiddleware(lambda request: page)(RequestFactory().get("/"))
    assert answer.headers["Cache-Control"] == "max-age=60"


def language_of(user, accepted):
    from django.utils.translation import get_language

    request = RequestFactory().get("/", headers={"accept-language": accepted})
    request.user = user
    heard = []

    def page(request):
        heard.append(get_language())
        return HttpResponse()

    answer = LanguageMiddleware(page)(request)
    return heard[0], answer.headers["Content-Language"]


def test_a_user_reads_the_language_they_chose():
    assert language_of(User(role=Role.ARTIST, language="ne"), "fr") == ("ne", "ne")


def test_a_stranger_reads_the_browsers_language():
    assert language_of(None, "fr-CA,fr;q=0.9") == ("fr", "fr")


@pytest.fixture
def touched(monkeypatch):
    times = []
    monkeypatch.setattr(middleware.idle, "touch", lambda: times.append(1))
    return times


@pytest.mark.django_db
def test_only_somebody_signed_in_keeps_the_home_open(client, touched):
    for path in ("/in/", "/away/", "/nowhere", "/"):
        client.get(path)
    b"".join(client.get("/static/site.css"))
    assert touched == []
    client.force_login(User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara"))
    client.get("/away/")
    assert touched == [1]
    b"".join(client.get("/static/site.css"))
    assert touched == [1]


@pytest.mark.unlocked
def test_the_idle_time_begins_when_the_home_is_opened(locked, touched):
    try_it(locked, PASSPHRASE)
    assert (keyring.locked, touched) == (False, [1])


@pytest.mark.unlocked
@pytest.mark.parametrize("fault", [Halfway("begun"), SealBroken("cut")])
def test_keys_that_are_not_whole_open_nothing_and_say_what_helps(locked, monkeypatch, fault):
    def unlock(secret):
        raise fault

    monkeypatch.setattr(keyring, "unlock", unlock)
    page = try_it(locked, PASSPHRASE)
    assert page.status_code == 403
    assert "manage.py rekey" in page.content.decode()
    assert keyring.locked


def refuse():
    raise LedgerBroken(*REFUSED)


REFUSED = (3, "missing")


@pytest.mark.unlocked
@pytest.mark.parametrize(
    ("kind", "said"),
    [("missing", b"is missing: its end was cut off"), ("changed", b"is not as it was written")],
)
def test_a_ledger_that_does_not_stand_keeps_the_home_locked_and_says_why(
    locked, settings, monkeypatch, kind, said
):
    settings.RELATIONS_ON_OPENING = [f"{__name__}.refuse"]
    monkeypatch.setattr(sys.modules[__name__], "REFUSED", (3, kind))
    page = try_it(locked, PASSPHRASE)
    assert page.status_code == 503
    assert b"Line 3 of the list of what was erased" in page.content
    assert said in page.content
    assert b"Nobody is let in" in page.content
    assert keyring.locked
    assert not faults(page.content.decode())
    assert locked.get("/").status_code == 503


def find_older_tables():
    raise OlderTables


@pytest.mark.unlocked
def test_older_tables_keep_the_home_locked_and_the_page_says_what_helps(locked, settings):
    settings.RELATIONS_ON_OPENING = [f"{__name__}.find_older_tables"]
    page = try_it(locked, PASSPHRASE)
    assert page.status_code == 503
    assert b"manage.py update" in page.content
    assert keyring.locked


def stumble_over_database():
    raise DatabaseError("x")


@pytest.mark.unlocked
def test_a_database_that_does_not_answer_keeps_the_home_locked(locked, settings):
    settings.RELATIONS_ON_OPENING = [f"{__name__}.stumble_over_database"]
    page = try_it(locked, PASSPHRASE)
    assert page.status_code == 503
    assert b"the database does not answer as it should" in page.content
    assert keyring.locked


SEEN = []


def look_from_outside():
    """Another request comes in while the home is being opened."""
    SEEN.append(Client().get("/in/").status_code)


@pytest.mark.unlocked
def test_nobody_is_let_in_while_the_home_is_being_opened(locked, settings):
    settings.RELATIONS_ON_OPENING = [f"{__name__}.look_from_outside"]
    # No database mark on this test: had the page been let through, its session would fail it.
    assert try_it(locked, PASSPHRASE).status_code == 302
    assert SEEN == [503]
    assert keyring.is_open


@pytest.mark.unlocked
def test_who_types_the_passphrase_while_another_opens_the_home_is_led_on(locked, monkeypatch):

    class Opened:
        def __enter__(self):
            keyring.hold(MASTER)

        def __exit__(self, *_):
            pass

    monkeypatch.setattr(middleware, "doors", Opened())
    generation = keyring.generation
    assert try_it(locked, PASSPHRASE).status_code == 302
    assert keyring.generation == generation + 1


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/in/", "/people/7KX3/", "/nowhere/", "/static/site.css"])
@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "BREW"])
def test_what_no_page_takes_is_405_whether_or_not_there_is_a_page(client, method, path):
    page = client.generic(method, path)
    assert (page.status_code, page.content) == (405, b"")
    assert page.headers["Allow"] == "GET, HEAD, POST"
