"""One's own password and codes, as a browser goes through them."""

import re
import time
import uuid
from datetime import UTC, datetime

import pytest
from django.conf import settings
from django.test import Client
from django.utils import timezone

from relations.privacy import codes, devices
from relations.privacy.middleware import CONTENT_SECURITY_POLICY
from relations.privacy.models import Role, User
from tests.at_the_door import press

pytestmark = pytest.mark.django_db
PASSWORD = "a boat, a lamp, a wall"


@pytest.fixture(autouse=True)
def still(monkeypatch):
    """The middle of a half minute, so that no code ends while it is typed."""
    at = datetime.fromtimestamp(codes.step_at(time.time()) * codes.STEP_SECONDS + 15, tz=UTC)
    monkeypatch.setattr(timezone, "now", lambda: at)


@pytest.fixture
def user():
    return User.objects.create_user("loic", PASSWORD, role=Role.ASSISTANT, called="Loïc")


@pytest.fixture
def own(user, client):
    """The browser of somebody who just signed in."""
    client.post("/in/", {"username": "loic", "password": PASSWORD})
    return client


def first_code(user):
    device = user.code_devices.get(is_set_up=False)
    return codes.hotp(device.secret, codes.step_at(timezone.now().timestamp()))


def set_up(own, user):
    press(own, "/own/codes/new/")
    return own.post("/own/codes/", {"code": first_code(user)})


def test_page_says_how_one_signs_in(own, user):
    assert b"with the password alone" in own.get("/own/").content
    assert b"/accounts/" not in own.get("/own/").content
    set_up(own, user)
    page = own.get("/own/").content.decode()
    assert "10 codes are left on paper" in page
    assert "A device shows the codes" in page


def test_language_of_the_pages_is_chosen_once_for_all_that_follow(own, user):
    page = own.get("/own/").content.decode()
    assert re.findall(r'name="language" value="(\w+)" lang', page) == [
        code for code, _name in settings.LANGUAGES
    ]
    assert press(own, "/own/language/", language="fr").status_code == 302
    user.refresh_from_db()
    assert user.language == "fr"
    answer = own.get("/own/")
    assert answer.headers["Content-Language"] == "fr"
    assert press(own, "/own/language/", language="xx").status_code == 422


def test_figures_and_a_second_calendar_are_chosen_beside_the_language(own, user):
    assert (user.figures, user.calendar) == ("usual", "gregorian")
    said = {"language": "en", "figures": "own", "calendar": "bikram_sambat"}
    assert press(own, "/own/language/", **said).status_code == 302
    page = own.get("/own/").content.decode()
    assert re.search(r"As you read them now: 12,345 · [^<]* 20\d\d \(.*BS.?\)", page)
    assert re.findall(r'value="(\w+)"[^>]* checked', page) == ["own", "bikram_sambat"]
    # A press on a language leaves them as they are.
    press(own, "/own/language/", language="fr")
    user.refresh_from_db()
    assert (user.language, user.figures, user.calendar) == ("fr", "own", "bikram_sambat")
    assert press(own, "/own/language/", language="fr", calendar="lunar").status_code == 422


def test_secret_is_shown_as_words_and_as_a_square_until_it_is_taken(own, user):
    assert press(own, "/own/codes/new/").headers["Location"] == "/own/codes/"
    page = own.get("/own/codes/")
    assert codes.in_groups(user.code_devices.get().secret) in page.content.decode()
    address = re.search(r'<img src="([^"]*)"', page.content.decode()).group(1)
    picture = own.get(address)
    assert picture.headers["Content-Type"] == "image/svg+xml"
    assert picture.headers["Cache-Control"] == "no-store"
    assert b"<svg" in picture.content
    assert "img-src 'self'" in CONTENT_SECURITY_POLICY
    own.post("/own/codes/", {"code": first_code(user)})
    assert own.get(address).status_code == 404
    assert own.get("/own/codes/").headers["Location"] == "/own/"


def test_square_says_what_a_device_takes(own, user, monkeypatch):
    said = []
    made = codes.device_address
    monkeypatch.setattr(codes, "device_address", lambda *a: said.append(made(*a)) or said[-1])
    press(own, "/own/codes/new/")
    own.get("/own/codes/picture.svg")
    secret = user.code_devices.get().secret
    assert said == [f"otpauth://totp/Portraits%3Aloic?secret={secret}&issuer=Portraits"]


def test_ten_paper_codes_are_shown_once_and_open(own, user):
    page = set_up(own, user)
    paper = re.findall(r'<bdi dir="ltr">([0-9A-Z ]{14})</bdi>', page.content.decode())
    assert len(set(paper)) == 10
    assert paper[0] not in own.get("/own/").content.decode()
    other = Client()
    other.post("/in/", {"username": "loic", "password": PASSWORD})
    assert other.post("/in/code/", {"code": paper[7]}).headers["Location"] == "/"


def test_codes_on_paper_are_made_anew_once(own, user):
    assert b"Ten new codes" not in own.get("/own/").content
    assert press(own, "/own/codes/paper/").status_code == 422
    set_up(own, user)
    assert b"Ten new codes" in own.get("/own/").content
    token = uuid.uuid4()
    first, second = (press(own, "/own/codes/paper/", token) for _ in range(2))
    paper = re.findall(r'<bdi dir="ltr">([0-9A-Z ]{14})</bdi>', first.content.decode())
    assert len(set(paper)) == user.paper_codes.count() == 10
    assert second.headers["Location"] == "/own/"
    assert devices.accepts(user, paper[3])


def test_device_is_begun_once(own, user):
    token = uuid.uuid4()
    secrets = []
    for _ in range(2):
        press(own, "/own/codes/new/", token)
        secrets.append(user.code_devices.get().secret)
    assert secrets[0] == secrets[1]


def test_secret_is_taken_in_on_the_same_device(own, user):
    press(own, "/own/codes/new/")
    secret = user.code_devices.get().secret
    page = own.get("/own/codes/").content.decode()
    assert f'href="otpauth://totp/Portraits%3Aloic?secret={secret}&amp;issuer=' in page


def test_password_given_by_another_is_changed_before_anything_else(own, user):
    User.objects.update(must_choose_password=True, must_set_up_codes=True)
    assert own.get("/").headers["Location"] == "/own/password/"
    assert b"Choose your own password" in own.get("/own/password/").content
    page = press(own, "/own/password/", password=PASSWORD)
    assert (page.status_code, b"Choose another" in page.content) == (422, True)
    press(own, "/own/password/", password="three slow boats at noon")
    assert own.get("/").headers["Location"] == "/own/"
    set_up(own, user)
    assert own.get("/").status_code == 200


def test_wrong_first_code_sets_nothing_up(own, user):
    press(own, "/own/codes/new/")
    wrong = "000000" if first_code(user) != "000000" else "111111"
    page = own.post("/own/codes/", {"code": wrong})
    assert page.status_code == 422
    assert codes.in_groups(user.code_devices.get().secret) in page.content.decode()
    assert not User.objects.get().asks_code


def test_new_password_signs_the_other_devices_out(own, user):
    other = Client()
    other.force_login(user)
    assert own.get("/own/password/").status_code == 200
    page = press(own, "/own/password/", password="three slow boats at noon")
    assert page.headers["Location"] == "/own/"
    assert own.get("/own/").status_code == 200
    assert other.get("/own/").status_code == 302
    assert User.objects.get().check_password("three slow boats at noon")


def test_password_may_be_shorter_beside_a_code_only(own, user):
    short = {"password": "huit qua"}
    assert press(own, "/own/password/", **short).status_code == 422
    set_up(own, user)
    assert b"8 characters or more" in own.get("/own/password/").content
    assert press(own, "/own/password/", **short).status_code == 302


@pytest.mark.parametrize("role", [Role.ARTIST, Role.KEEPER])
def test_artist_and_keeper_find_the_accounts_from_here(own, user, role):
    User.objects.update(role=role)
    main = own.get("/own/").content.decode().partition("<main")[2]
    assert "/accounts/" in main


@pytest.mark.parametrize("address", ["/own/password/", "/own/codes/", "/own/codes/picture.svg"])
def test_password_is_asked_again_first(client, user, address):
    client.force_login(user)
    assert client.get(address).headers["Location"] == f"/sure/?next={address}"
