"""Signing in and out, as a browser does it."""

import pytest
from django.test import Client, RequestFactory

from relations.privacy.models import AccessEntry, Role, User
from relations.privacy.views import csrf_failure

pytestmark = pytest.mark.django_db
PASSWORD = "a boat, a lamp, a wall"


@pytest.fixture
def user():
    return User.objects.create_user("loic", PASSWORD, role=Role.ASSISTANT, called="Loïc")


@pytest.fixture(autouse=True)
def first_page(settings):
    settings.LOGIN_REDIRECT_URL = "/"


def send(client, address="/in/", password=PASSWORD):
    return client.post(address, {"username": "loic", "password": password})


def test_the_sign_in_page_shows_its_form_to_anybody(client):
    page = client.get("/in/")
    assert page.status_code == 200
    assert b'name="password"' in page.content
    assert b"novalidate" in page.content


def test_signing_in_leads_on_and_is_logged(client, user):
    page = send(client)
    assert (page.status_code, page.headers["Location"]) == (302, "/")
    entry = AccessEntry.objects.get()
    assert (entry.verb, entry.by, entry.key) == ("signed_in", user.pk, user.pk)


def test_signing_in_gives_a_new_session(client, user):
    client.cookies["sessionid"] = "chosenbysomebodyelse00000000000"
    cookie = send(client).cookies["sessionid"]
    assert cookie.value != "chosenbysomebodyelse00000000000"
    assert cookie["httponly"]
    assert cookie["samesite"] == "Strict"


@pytest.mark.parametrize(
    ("wanted", "leads"),
    [
        ("/people/7KX3/?day=1", "/people/7KX3/?day=1"),
        ("https://elsewhere.example/", "/"),
        ("//elsewhere.example/", "/"),
        ("javascript:alert(1)", "/"),
        ("", "/"),
    ],
)
def test_signing_in_leads_only_to_this_site(client, user, wanted, leads):
    page = send(client, f"/in/?{RequestFactory().get('/', {'next': wanted}).META['QUERY_STRING']}")
    assert page.headers["Location"] == leads


def test_a_wrong_password_gives_422_and_the_form_again(client, user):
    page = send(client, password="wrong")
    assert page.status_code == 422
    assert b'value="loic"' in page.content
    assert b"wrong" not in page.content
    assert not AccessEntry.objects.exists()


def test_who_is_signed_in_is_led_past_the_form(client, user):
    client.force_login(user)
    assert client.get("/in/").headers["Location"] == "/"


def test_signing_out_empties_the_browser_and_ends_the_session(client, user):
    client.force_login(user)
    cookie = client.cookies["sessionid"].value
    page = client.post("/out/")
    assert (page.status_code, page.headers["Location"]) == (302, "/away/")
    assert page.headers["Clear-Site-Data"] == '"cache", "cookies"'
    assert AccessEntry.objects.get().verb == "signed_out"
    old = Client()
    old.cookies["sessionid"] = cookie
    assert old.get("/in/").status_code == 200


def test_a_stranger_who_hides_is_led_away_too(client):
    assert client.post("/out/").headers["Location"] == "/away/"
    assert not AccessEntry.objects.exists()


@pytest.mark.parametrize(
    ("method", "address"), [("get", "/out/"), ("put", "/in/"), ("post", "/away/")]
)
def test_another_method_is_refused(client, method, address):
    assert getattr(client, method)(address).status_code == 405


def test_the_page_after_hiding_says_nothing_of_the_site(client):
    text = client.get("/away/").content.decode().lower()
    for word in ("relations", "portrait", "sign in", "href", "src="):
        assert word not in text


def test_a_browser_that_asks_for_an_icon_gets_none(client):
    assert client.get("/favicon.ico").status_code == 204


def test_a_form_from_an_old_tab_is_told_calmly():
    page = Client(enforce_csrf_checks=True).post("/in/", {"username": "loic"})
    assert page.status_code == 403
    assert b"Nothing was changed" in page.content
    assert csrf_failure(RequestFactory().get("/"), reason="any").status_code == 403


def test_a_page_that_is_not_there_is_told_calmly(client):
    page = client.get("/nowhere/")
    assert page.status_code == 404
    assert b"There is nothing here" in page.content


def test_a_fault_of_ours_is_told_calmly():
    from django.views.defaults import server_error

    page = server_error(RequestFactory().get("/"))
    assert page.status_code == 500
    assert b"try again in a moment" in page.content
