"""Every answer carries its headers, and its cookies what guards them, whatever its status is.

Every page by every method is looked at in `test_pages.py`; here stand the answers that no page of
the table gives, and the home behind TLS. OWASP ASVS 5.0: 3.3.1 to 3.3.4, 3.4.1 to 3.4.6, 14.3.2.
"""

import json
import os
import subprocess
import sys
from http.cookies import SimpleCookie

import pytest
from django.test import Client
from django.urls import include, path

from relations.privacy.keys import keyring
from relations.privacy.models import Role, User
from tests.at_the_door import come_in
from tests.house import headers
from tests.house.rooms import ROOT

pytestmark = pytest.mark.django_db


def fail(request):
    raise ValueError("planted")


urlpatterns = [path("fail/", fail), path("", include("relations.urls"))]


@pytest.fixture
def artist():
    client = Client(raise_request_exception=False)
    come_in(client, User.objects.create_user("ines", None, role=Role.ARTIST, called="Ines"))
    return client


def wrong_tries(client):
    said = {"username": "nobody", "password": "wrong"}
    return [client.post("/in/", said) for _ in range(6)][-1]


ANSWERS = {
    200: lambda client: client.get("/people/"),
    302: lambda client: Client().get("/people/"),
    301: lambda client: client.get("/people"),
    204: lambda client: client.get("/favicon.ico"),
    400: lambda client: client.get("/people/", headers={"host": "elsewhere.example"}),
    403: lambda client: Client(enforce_csrf_checks=True).post("/in/"),
    404: lambda client: client.get("/no/such/page/"),
    405: lambda client: client.delete("/people/"),
    422: lambda client: client.post("/people/new/"),
    429: lambda client: wrong_tries(Client()),
    500: lambda client: client.get("/fail/"),
}


@pytest.mark.urls("tests.house.test_headers")
@pytest.mark.parametrize("status", ANSWERS)
def test_answer_of_every_status_carries_the_headers(status, artist):
    answer = ANSWERS[status](artist)
    assert answer.status_code == status
    assert list(headers.faults(answer.headers)) == []
    assert list(headers.cookie_faults(answer.cookies)) == []


@pytest.mark.parametrize("method", ["get", "post", "put", "options"])
def test_locked_home_carries_the_headers(method):
    keyring.lock()
    answer = getattr(Client(), method)("/people/")
    assert answer.status_code == 503
    assert list(headers.faults(answer.headers)) == []
    assert list(headers.cookie_faults(answer.cookies)) == []


@pytest.mark.parametrize("name", ["site.css", "hide.js", "icon.svg"])
def test_static_file_carries_the_headers_and_may_be_kept(name):
    answer = Client().get(f"/static/{name}")
    assert (answer.status_code, bool(b"".join(answer))) == (200, True)
    answer.close()
    assert list(headers.faults(answer.headers, is_static=True)) == []


def test_sign_in_sets_cookies_that_are_guarded():
    User.objects.create_user("loic", "a long enough password", role=Role.ASSISTANT, called="Loïc")
    said = {"username": "loic", "password": "a long enough password"}
    answer = Client().post("/in/", said)
    assert "sessionid" in answer.cookies
    assert list(headers.cookie_faults(answer.cookies)) == []


BEHIND_TLS = """
import json, sys
from unittest import mock
import django
django.setup()
from django.conf import settings
from django.http import HttpResponse
from django.test import Client
from relations.privacy import devices
from relations.privacy.keys import keyring

keyring.hold(bytes(32))
client = Client()
plain, page = client.get("/in/"), client.get("/in/", secure=True)
keyring.lock()
locked = client.get("/in/", secure=True)
session = HttpResponse()
session.set_cookie(
    settings.SESSION_COOKIE_NAME, "x", path=settings.SESSION_COOKIE_PATH,
    domain=settings.SESSION_COOKIE_DOMAIN, secure=settings.SESSION_COOKIE_SECURE,
    httponly=settings.SESSION_COOKIE_HTTPONLY, samesite=settings.SESSION_COOKIE_SAMESITE,
)
with mock.patch.object(devices.KnownDevice.objects, "create"):
    devices.remember(session, mock.MagicMock(is_one_of=lambda *roles: False))
json.dump([
    [one.status_code, dict(one.headers), one.cookies.output(header="").splitlines()]
    for one in (plain, page, locked, session)
], sys.stdout)
"""


@pytest.fixture(scope="module")
def behind_tls(tmp_path_factory):
    """A plain request, a page, the locked page and all cookies of a home told that TLS is there."""
    home = tmp_path_factory.mktemp("tls")
    told = {"RELATIONS_TLS": "yes", "RELATIONS_HOSTS": "testserver", "RELATIONS_HOME": str(home)}
    told["DJANGO_SETTINGS_MODULE"] = "relations.settings"
    asked = subprocess.run(
        [sys.executable, "-c", BEHIND_TLS],
        env=os.environ | told, cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return json.loads(asked.stdout)


def test_behind_tls_a_plain_line_leads_to_a_sealed_one(behind_tls):
    status, said, _cookies = behind_tls[0]
    assert (status, said["Location"]) == (301, "https://testserver/in/")
    assert list(headers.faults(said)) == []


@pytest.mark.parametrize("at", [1, 2], ids=["page", "locked"])
def test_behind_tls_browsers_are_told_to_come_by_tls_for_a_year(behind_tls, at):
    status, said, _cookies = behind_tls[at]
    assert status == (200, 503)[at - 1]
    parts = said["Strict-Transport-Security"].split(";")
    found = dict(part.strip().partition("=")[::2] for part in parts)
    assert int(found["max-age"]) >= headers.YEAR
    assert "includeSubDomains" in found
    assert list(headers.faults(said)) == []


def test_behind_tls_every_cookie_is_sealed_and_bound_to_its_host(behind_tls):
    names = set()
    for _status, _said, lines in behind_tls:
        for line in lines:
            cookies = SimpleCookie(line.strip())
            names |= cookies.keys()
            assert list(headers.cookie_faults(cookies, is_tls=True)) == []
    assert names == {"__Host-sessionid", "__Host-csrftoken", "__Secure-device"}


def test_missing_header_and_open_cookie_are_found():
    """Else the tests above could not fail."""
    assert len(list(headers.faults({}))) == len(headers.EVERY) + 2
    cookie = SimpleCookie("sessionid=x; Path=/")
    assert len(list(headers.cookie_faults(cookie))) == 2
    assert len(list(headers.cookie_faults(cookie, is_tls=True))) == 4
    assert list(headers.cookie_faults(SimpleCookie("other=x"))) == ["cookie other is in no table"]
