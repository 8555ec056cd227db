"""Signing in and out, as a browser does it."""

import time
from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.sessions.models import Session
from django.test import Client, RequestFactory
from django.utils import timezone

from relations.privacy import codes, devices
from relations.privacy.hashers import SiteArgon2
from relations.privacy.models import AccessEntry, Role, User
from relations.privacy.views import csrf_failure
from tests.house.asking import CHANCE, watching

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


@pytest.fixture
def clock(monkeypatch):
    """Stands in the middle of a half minute; what it is given it goes on by."""
    middle = codes.step_at(time.time()) * codes.STEP_SECONDS + 15
    at = [datetime.fromtimestamp(middle, tz=UTC)]
    monkeypatch.setattr(timezone, "now", lambda: at[0])

    def go_on(**by):
        at[0] += timedelta(**by)

    return go_on


@pytest.fixture
def paper(user, clock):
    """The codes on paper of somebody who set a device up, one half minute ago."""
    device = devices.begin(user=user)
    made = devices.set_up(device=device, said=code_of(device))
    clock(seconds=codes.STEP_SECONDS)
    return made


def code_of(device):
    """What a device shows now."""
    return codes.hotp(device.secret, codes.step_at(timezone.now().timestamp()))


def give(client, said, address="/in/code/"):
    return client.post(address, {"code": said})


def is_in(client):
    return client.get("/in/").status_code == 302


def test_the_sign_in_page_shows_its_form_to_anybody(client):
    page = client.get("/in/")
    assert page.status_code == 200
    assert b'name="password"' in page.content
    assert b"novalidate" in page.content
    assert b'class="form"' in page.content  # else its fields are too small to touch


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
    assert AccessEntry.objects.get().verb == "wrong_try"


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


def test_fifth_wrong_password_is_held_off_calmly_and_the_right_one_too(client, user):
    assert [send(client, password="wrong").status_code for _ in range(4)] == [422] * 4
    for password in ("wrong", PASSWORD):
        page = send(client, password=password)
        assert page.status_code == 429
        assert 0 < int(page.headers["Retry-After"]) <= 15 * 60 + 1
        assert b"Please try again later" in page.content
    assert not is_in(client)
    assert send(Client(REMOTE_ADDR="192.0.2.9")).status_code == 302


def test_page_of_who_is_held_off_says_until_when(client, user, clock):
    until = timezone.localtime(timezone.now() + timedelta(minutes=15))
    for _ in range(5):
        page = send(client, password="wrong")
    assert f"{until:%H:%M}" in page.content.decode()
    assert int(page.headers["Retry-After"]) == 15 * 60 + 1


def test_signing_in_begins_the_count_of_wrong_passwords_anew(client, user):
    for _ in range(2):
        for _ in range(4):
            send(client, password="wrong")
        assert send(client).status_code == 302
        client.post("/out/")


def test_password_alone_opens_nothing_where_a_code_is_asked(client, user, paper):
    page = send(client, "/in/?next=/own/")
    assert page.headers["Location"] == "/in/code/?next=%2Fown%2F"
    assert not is_in(client)
    assert client.get("/own/").headers["Location"].startswith("/in/")
    page = client.get("/in/code/?next=/own/")
    assert page.status_code == 200
    assert b'autocomplete="one-time-code"' in page.content


def test_code_of_the_device_opens_once(client, user, paper):
    said = code_of(user.code_devices.get())
    send(client)
    page = give(client, said, "/in/code/?next=/own/")
    assert page.headers["Location"] == "/own/"
    assert is_in(client)
    assert AccessEntry.objects.last().verb == "signed_in"
    assert client.get("/in/code/").status_code == 302
    other = Client()
    send(other)
    assert give(other, said).status_code == 422
    assert not is_in(other)


def test_code_at_sign_in_counts_as_given_lately(client, user, paper):
    send(client)
    give(client, paper[0])
    assert client.session["coded_at"] == client.session["sure_at"]


def test_session_from_before_a_code_is_not_the_one_after_it(client, user, paper):
    before = send(client).cookies["sessionid"].value
    after = give(client, paper[0]).cookies["sessionid"].value
    assert before != after
    old = Client()
    old.cookies["sessionid"] = before
    assert not is_in(old)


def test_code_on_paper_opens_once(client, user, paper):
    send(client)
    assert give(client, codes.in_groups(paper[0])).status_code == 302
    other = Client()
    send(other)
    assert give(other, paper[0]).status_code == 422


def test_code_without_the_password_leads_to_the_sign_in_page(client, user, paper):
    assert give(client, paper[0]).headers["Location"] == "/in/"
    assert not is_in(client)


def test_code_given_after_ten_minutes_leads_to_the_sign_in_page(client, user, paper, clock):
    send(client)
    clock(minutes=10)
    assert give(client, paper[0]).headers["Location"] == "/in/"


def test_wrong_codes_count_as_tries(client, user, paper):
    send(client)
    assert [give(client, "000 000").status_code for _ in range(4)] == [422] * 4
    assert give(client, "000 000").status_code == 429
    assert give(client, paper[0]).status_code == 429
    assert send(Client()).status_code == 429


def test_right_password_between_wrong_codes_does_not_begin_the_count_anew(client, user, paper):
    for _ in range(4):
        send(client)
        give(client, "000 000")
    assert give(client, "000 000").status_code == 429


def test_assistant_gives_a_code_on_a_new_device_only(client, user, paper):
    send(client)
    cookie = give(client, paper[0]).cookies["device"]
    assert cookie["httponly"]
    assert (cookie["samesite"], cookie["path"]) == ("Strict", "/in/")
    assert cookie["max-age"] == 180 * 24 * 3600
    page = client.post("/out/")
    assert page.headers["Clear-Site-Data"] == '"cache"'  # the device stays known
    assert page.cookies["sessionid"].value == page.cookies["csrftoken"].value == ""
    assert send(client).headers["Location"] == "/"
    assert send(Client()).headers["Location"].startswith("/in/code/")


def test_device_is_new_again_after_a_loss_or_half_a_year(client, user, paper, clock):
    for number, end in enumerate([lambda: devices.forget(user), lambda: clock(days=181)]):
        send(client)
        give(client, paper[number])
        client.post("/out/")
        end()
        assert send(client).headers["Location"].startswith("/in/code/")


def test_cookie_of_a_device_is_of_no_use_to_somebody_else_nor_when_changed(client, user, paper):
    send(client)
    cookie = give(client, paper[0]).cookies["device"].value
    for other in (f"x{cookie}", cookie.split(":")[0], "", cookie + "x"):
        changed = Client()
        changed.cookies["device"] = other
        assert send(changed).headers["Location"].startswith("/in/code/")
    second = User.objects.create_user("maelle", PASSWORD, role=Role.ASSISTANT, called="Maëlle")
    User.objects.filter(pk=second.pk).update(asks_code=True)
    borrowed = Client()
    borrowed.cookies["device"] = cookie
    page = borrowed.post("/in/", {"username": "maelle", "password": PASSWORD})
    assert page.headers["Location"].startswith("/in/code/")


@pytest.mark.parametrize("role", [Role.ARTIST, Role.KEEPER])
def test_artist_and_keeper_give_a_code_at_every_sign_in(client, user, paper, role):
    User.objects.update(role=role)
    for number in range(2):
        assert send(client).headers["Location"].startswith("/in/code/")
        page = give(client, paper[number])
        assert page.status_code == 302
        assert "device" not in page.cookies
        client.post("/out/")


def test_password_typed_again_is_remembered_and_leads_back(client, user):
    client.force_login(user)
    assert client.get("/sure/").status_code == 200
    before = client.cookies["sessionid"].value
    page = client.post("/sure/?next=/own/password/", {"password": PASSWORD})
    # ASVS 5.0, 7.2.4: a new key to the session, and the one before opens nothing.
    assert client.cookies["sessionid"].value != before
    assert not Session.objects.filter(session_key=before).exists()
    assert page.headers["Location"] == "/own/password/"
    assert client.get("/own/password/").status_code == 200
    assert AccessEntry.objects.get().verb == "made_sure"


def test_wrong_password_typed_again_counts_as_a_try(client, user):
    client.force_login(user)
    wrong = [client.post("/sure/", {"password": "wrong"}).status_code for _ in range(5)]
    assert wrong == [422] * 4 + [429]
    assert client.post("/sure/", {"password": PASSWORD}).status_code == 429
    assert "sure_at" not in client.session
    assert client.get("/own/").status_code == 200


def test_password_of_somebody_else_makes_nobody_sure(client, user):
    other = User.objects.create_user("ines", "q" * 15, role=Role.ARTIST, called="Ines")
    client.force_login(other)
    assert client.post("/sure/", {"password": PASSWORD}).status_code == 422


def test_who_just_signed_in_is_not_asked_again_for_ten_minutes(client, user, clock):
    send(client)
    assert client.get("/own/password/").status_code == 200
    clock(minutes=10)
    assert client.get("/own/password/").headers["Location"].startswith("/sure/")


def test_unknown_name_wrong_password_and_somebody_let_go_are_the_same_work(monkeypatch):
    """One hash each, and the same statements in the same order: no clock tells them apart."""
    User.objects.create_user("ines", PASSWORD, role=Role.ARTIST, called="Ines")
    for name in ("gone", "left"):
        User.objects.create_user(name, PASSWORD, role=Role.ASSISTANT, called=name, is_active=False)
    work_of_a_try("first", "not the one", monkeypatch)  # the first line of a log begins the log
    wrong = work_of_a_try("ines", "not the one", monkeypatch)
    assert wrong[0] == 1
    assert work_of_a_try("nobody", "not the one", monkeypatch) == wrong
    assert work_of_a_try("gone", "not the one", monkeypatch) == wrong
    assert work_of_a_try("left", PASSWORD, monkeypatch) == wrong


def work_of_a_try(username, password, monkeypatch):
    """How many hashes a try in vain takes, which statements, and what is answered."""
    hashed = []
    with monkeypatch.context() as patch, watching() as watch:
        for name in ("encode", "verify"):
            patch.setattr(SiteArgon2, name, counting(getattr(SiteArgon2, name), hashed))
        answer = Client().post("/in/", {"username": username, "password": password})
    said = CHANCE.sub(b"", answer.content).replace(username.encode(), b"")
    return len(hashed), watch.shape, answer.status_code, said


def counting(work, hashed):
    def counted(self, *said):
        hashed.append(work)
        return work(self, *said)

    return counted


def test_stranger_chooses_the_language_and_comes_back_to_the_way_they_wanted(client):
    page = client.get("/in/?next=/people/").content.decode()
    assert 'action="/in/language/?next=%2Fpeople%2F"' in page
    answer = client.post("/in/language/?next=/people/", {"language": "fr"})
    assert answer.headers["Location"] == "/in/?next=%2Fpeople%2F"
    cookie = answer.cookies["language"]
    assert (cookie["httponly"], cookie["samesite"], cookie["max-age"]) == (True, "Strict", "")
    for address in ("/in/", "/away/"):
        said = client.get(address, headers={"accept-language": "en"})
        assert said.headers["Content-Language"] == "fr", address


def test_language_that_is_not_there_is_said_and_none_is_kept(client):
    answer = client.post("/in/language/", {"language": "xx"})
    assert (answer.status_code, "language" in answer.cookies) == (422, False)
    assert b'class="err"' in answer.content
    assert b'name="password"' in answer.content


def test_sign_in_form_beside_a_refused_language_is_sent_to_where_one_signs_in(client):
    page = client.post("/in/language/?next=/people/", {"language": "xx"})
    assert page.status_code == 422
    assert b'action="/in/?next=%2Fpeople%2F"' in page.content
