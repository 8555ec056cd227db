"""The accounts, as artist and keeper open them."""

import re
import time
import uuid
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from relations.privacy import codes, devices
from relations.privacy.models import AccessEntry, User, WrongTries
from tests import cast
from tests.at_the_door import press
from tests.rows import make

pytestmark = pytest.mark.django_db
NEW = {
    "username": "maelle",
    "called": "Maëlle",
    "role": "assistant",
    "password": "three slow boats at noon",
}


@pytest.fixture(params=["artist", "keeper"])
def carer(request, client):
    """The artist or the keeper, who has just given the password."""
    client.force_login(getattr(cast, request.param)())
    session = client.session
    session["sure_at"] = timezone.now().timestamp()
    session.save()
    return client


@pytest.fixture
def loic():
    return cast.assistant()


def of(user, then=""):
    return f"/accounts/{user.pk}/{then}"


def is_in(client):
    return client.get("/own/").status_code == 200


def signed_in(user):
    client = Client()
    client.force_login(user)
    return client


def test_list_names_everybody_who_signs_in_and_how(carer, loic):
    gone = cast.second_assistant()
    User.objects.filter(pk=gone.pk).update(is_active=False)
    User.objects.filter(pk=loic.pk).update(asks_code=True)
    page = carer.get("/accounts/").content.decode()
    for words in ("Loïc", "Maëlle", "let go", "with password and code", "the password alone"):
        assert words in page


def test_somebody_is_added_and_signs_in(carer):
    assert carer.get("/accounts/new/").status_code == 200
    page = press(carer, "/accounts/new/", **NEW)
    user = User.objects.get(username="maelle")
    assert page.headers["Location"] == of(user)
    signing = {"username": "maelle", "password": NEW["password"]}
    assert Client().post("/in/", signing).headers["Location"] == "/"


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"password": "quatorze signe"}, "15 characters or more"),
        ({"password": "1q2w3e4r5t6y7u8i9o0p"}, "too common"),
        ({"username": "loic"}, "signs in with this name already"),
        ({"role": "artist"}, "valid choice"),
    ],
)
def test_what_cannot_be_added_is_said_and_nobody_is(carer, loic, wrong, says):
    before = User.objects.count()
    page = press(carer, "/accounts/new/", **NEW | wrong)
    assert page.status_code == 422
    assert says in page.content.decode()
    assert "boats" not in page.content.decode()
    assert User.objects.count() == before


def test_lost_telephone_signs_out_and_forgets(carer, loic):
    phone = signed_in(loic)
    loic.known_devices.create(digest=b"a", since=timezone.now())
    loic.code_devices.create(secret="A", made_at=timezone.now(), is_set_up=True)
    assert press(carer, of(loic, "lost/")).headers["Location"] == of(loic)
    assert not is_in(phone)
    assert not loic.known_devices.exists()
    assert not loic.code_devices.exists()


def code_given(page):
    """The one code on the page that gives it."""
    return re.search(r'<bdi dir="ltr">([0-9A-Z ]{14})</bdi>', page.content.decode()).group(1)


@pytest.mark.parametrize(
    ("carer", "whose"),
    [
        ("artist", cast.assistant),
        ("keeper", cast.assistant),
        ("artist", cast.keeper),
        ("keeper", cast.artist),
    ],
    indirect=["carer"],
)
def test_who_lost_telephone_and_paper_comes_in_by_one_code_and_sets_up_a_device(carer, whose):
    user = whose()
    user.set_password(NEW["password"])
    user.asks_code = True
    user.save()
    user.code_devices.create(secret="A", made_at=timezone.now(), is_set_up=True)
    (old,) = devices.new_paper(user, 1)
    given = code_given(press(carer, of(user, "lost-codes/")))
    phone = Client()
    phone.post("/in/", {"username": user.username, "password": NEW["password"]})
    assert phone.get("/own/").headers["Location"].startswith("/in/")  # the password alone
    assert phone.post("/in/code/", {"code": old}).status_code == 422
    assert phone.post("/in/code/", {"code": given}).status_code == 302
    assert phone.get("/").headers["Location"] == "/own/"
    assert b"First set up a device" in phone.get("/own/").content
    press(phone, "/own/codes/new/")
    secret = user.code_devices.get().secret
    now = codes.step_at(time.time())
    phone.post("/own/codes/", {"code": codes.hotp(secret, now)})
    assert phone.get("/").status_code == 200


def test_one_code_is_made_once_and_sessions_end(carer, loic):
    User.objects.filter(pk=loic.pk).update(asks_code=True)
    phone, token = signed_in(loic), uuid.uuid4()
    first, second = (press(carer, of(loic, "lost-codes/"), token) for _ in range(2))
    assert (first.status_code, second.headers["Location"]) == (200, of(loic))
    assert loic.paper_codes.count() == 1
    assert not is_in(phone)


def test_who_gives_no_codes_can_lose_none(carer, loic):
    assert "lost-codes" not in carer.get(of(loic)).content.decode()
    page = press(carer, of(loic, "lost-codes/"))
    assert page.status_code == 422
    assert "without codes" in page.content.decode()


def test_press_without_a_token_does_nothing(carer, loic):
    phone = signed_in(loic)
    page = carer.post(of(loic, "end/"))
    assert page.status_code == 422
    assert "send it again" in page.content.decode()
    assert is_in(phone)


@pytest.mark.parametrize(
    ("then", "verb"),
    [
        ("end/", "sessions_ended"),
        ("lost/", "phone_lost"),
        ("free/", "freed"),
        ("let-go/", "let_go"),
        ("role/", "role_changed"),
        ("password/", "password_given"),
    ],
)
def test_what_is_sent_twice_is_done_once(carer, loic, then, verb):
    token, said = uuid.uuid4(), {"role": "wording_reader", "password": NEW["password"]}
    for _ in range(2):
        assert press(carer, of(loic, then), token, **said).headers["Location"] == of(loic)
    assert AccessEntry.objects.filter(verb=verb).count() == 1


def test_two_presses_of_one_page_are_two(carer, loic):
    token = uuid.uuid4()
    for then in ("end/", "lost/"):
        press(carer, of(loic, then), token)
    assert AccessEntry.objects.filter(verb="phone_lost").exists()


def test_somebody_added_twice_by_one_press_is_added_once(carer):
    token = uuid.uuid4()
    first, second = (press(carer, "/accounts/new/", token, **NEW) for _ in range(2))
    assert first.headers["Location"] == second.headers["Location"]


def test_what_was_typed_stays_but_for_the_password(carer, loic):
    page = press(carer, "/accounts/new/", **NEW | {"username": "loic"}).content.decode()
    assert 'value="loic"' in page
    assert 'value="Maëlle"' in page
    assert NEW["password"] not in page


def test_what_one_did_the_other_is_told_until_it_was_seen(loic):
    artist, keeper = signed_in(cast.artist()), signed_in(cast.keeper())
    press(artist, of(loic, "lost/"))
    assert "lost the telephone" not in artist.get("/").content.decode()
    page = keeper.get("/").content.decode()
    assert "lost the telephone" in page
    up_to = re.search(r'name="up_to" value="(\d+)"', page).group(1)
    assert keeper.post("/accounts/seen/", {"up_to": "1 more"}).headers["Location"] == "/"
    assert "lost the telephone" in keeper.get("/").content.decode()
    keeper.post("/accounts/seen/", {"up_to": up_to})
    assert "lost the telephone" not in keeper.get("/").content.decode()
    press(artist, of(loic, "lost/"))
    assert "lost the telephone" in keeper.get("/").content.decode()


def test_sessions_of_one_end(carer, loic):
    phone = signed_in(loic)
    press(carer, of(loic, "end/"))
    assert not is_in(phone)
    assert is_in(carer)


def test_sessions_of_everybody_end_with_ones_own(carer, loic):
    phone = signed_in(loic)
    assert carer.post("/accounts/end/").headers["Location"] == "/in/"
    assert not is_in(phone)
    assert not is_in(carer)


def test_another_role_is_at_once(carer, loic):
    phone = signed_in(loic)
    assert b"checked" in carer.get(of(loic, "role/")).content
    assert press(carer, of(loic, "role/"), role="keeper").status_code == 422
    assert is_in(phone)
    press(carer, of(loic, "role/"), role="wording_reader")
    assert not is_in(phone)
    assert User.objects.get(pk=loic.pk).role == "wording_reader"


def test_new_first_password_has_fifteen_characters_even_where_a_code_was_asked(carer, loic):
    User.objects.filter(pk=loic.pk).update(asks_code=True)
    assert carer.get(of(loic, "password/")).status_code == 200
    assert press(carer, of(loic, "password/"), password="huit qua").status_code == 422
    press(carer, of(loic, "password/"), password=NEW["password"])
    found = User.objects.get(pk=loic.pk)
    assert found.check_password(NEW["password"])
    assert not found.asks_code


def test_somebody_is_let_go_and_let_in_again(carer, loic):
    phone = signed_in(loic)
    press(carer, of(loic, "let-go/"))
    assert not is_in(phone)
    assert "may not sign in" in carer.get(of(loic)).content.decode()
    press(carer, of(loic, "let-in/"))
    assert User.objects.get(pk=loic.pk).is_active


def test_somebody_held_off_is_shown_and_freed(carer, loic):
    make(WrongTries, user=loic, count=5, held_until=timezone.now() + timedelta(minutes=9))
    assert "Held off until" in carer.get("/accounts/").content.decode()
    assert "Let them try again now" in carer.get(of(loic)).content.decode()
    press(carer, of(loic, "free/"))
    assert "Held off until" not in carer.get(of(loic)).content.decode()


@pytest.mark.parametrize("above", [cast.artist, cast.keeper])
def test_neither_artist_nor_keeper_is_changed_here(carer, above):
    user = above()
    for then in ("let-go/", "let-in/"):
        page = press(carer, of(user, then))
        assert page.status_code == 422
        assert "Nothing was changed" in page.content.decode()
    for then in ("role/", "password/"):
        assert carer.get(of(user, then)).status_code == 404
    assert "New first password" not in carer.get(of(user)).content.decode()
    assert User.objects.get(pk=user.pk).is_active


@pytest.mark.parametrize("then", ["role/", "password/", "let-go/", "let-in/", "lost-codes/"])
def test_what_changes_an_account_asks_the_password_again(client, loic, then):
    client.force_login(cast.artist())
    page = press(client, of(loic, then), role="wording_reader")
    assert page.status_code == 403
    assert b"sure-password" in page.content
    assert User.objects.get(pk=loic.pk).role == "assistant"


def test_password_that_waits_for_ones_own_stands_on_no_page(client, loic):
    client.force_login(cast.artist())
    page = press(client, of(loic, "password/"), password=NEW["password"])
    assert page.status_code == 403
    assert NEW["password"] not in page.content.decode()


@pytest.mark.parametrize("then", ["lost/", "end/", "free/"])
def test_what_must_be_quick_asks_no_password(client, loic, then):
    client.force_login(cast.artist())
    assert press(client, of(loic, then)).headers["Location"] == of(loic)
