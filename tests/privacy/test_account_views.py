"""The accounts, as artist and keeper open them."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from relations.privacy.models import User, WrongTries
from tests import cast
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
    page = carer.post("/accounts/new/", NEW)
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
    page = carer.post("/accounts/new/", NEW | wrong)
    assert page.status_code == 422
    assert says in page.content.decode()
    assert "boats" not in page.content.decode()
    assert User.objects.count() == before


def test_lost_telephone_signs_out_and_forgets(carer, loic):
    phone = signed_in(loic)
    loic.known_devices.create(digest=b"a", since=timezone.now())
    loic.code_devices.create(secret="A", made_at=timezone.now(), is_set_up=True)
    assert carer.post(of(loic, "lost/")).headers["Location"] == of(loic)
    assert not is_in(phone)
    assert not loic.known_devices.exists()
    assert not loic.code_devices.exists()


def test_sessions_of_one_end(carer, loic):
    phone = signed_in(loic)
    carer.post(of(loic, "end/"))
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
    assert carer.post(of(loic, "role/"), {"role": "keeper"}).status_code == 422
    assert is_in(phone)
    carer.post(of(loic, "role/"), {"role": "wording_reader"})
    assert not is_in(phone)
    assert User.objects.get(pk=loic.pk).role == "wording_reader"


def test_new_first_password_has_fifteen_characters_even_where_a_code_was_asked(carer, loic):
    User.objects.filter(pk=loic.pk).update(asks_code=True)
    assert carer.get(of(loic, "password/")).status_code == 200
    assert carer.post(of(loic, "password/"), {"password": "huit qua"}).status_code == 422
    carer.post(of(loic, "password/"), {"password": NEW["password"]})
    found = User.objects.get(pk=loic.pk)
    assert found.check_password(NEW["password"])
    assert not found.asks_code


def test_somebody_is_let_go_and_let_in_again(carer, loic):
    phone = signed_in(loic)
    carer.post(of(loic, "let-go/"))
    assert not is_in(phone)
    assert "may not sign in" in carer.get(of(loic)).content.decode()
    carer.post(of(loic, "let-in/"))
    assert User.objects.get(pk=loic.pk).is_active


def test_somebody_held_off_is_shown_and_freed(carer, loic):
    make(WrongTries, user=loic, count=5, held_until=timezone.now() + timedelta(minutes=9))
    assert "Held off until" in carer.get("/accounts/").content.decode()
    assert "Let them try again now" in carer.get(of(loic)).content.decode()
    carer.post(of(loic, "free/"))
    assert "Held off until" not in carer.get(of(loic)).content.decode()


@pytest.mark.parametrize("above", [cast.artist, cast.keeper])
def test_neither_artist_nor_keeper_is_changed_here(carer, above):
    user = above()
    for then in ("let-go/", "let-in/"):
        page = carer.post(of(user, then))
        assert page.status_code == 422
        assert "Nothing was changed" in page.content.decode()
    for then in ("role/", "password/"):
        assert carer.get(of(user, then)).status_code == 404
    assert "New first password" not in carer.get(of(user)).content.decode()
    assert User.objects.get(pk=user.pk).is_active


@pytest.mark.parametrize("then", ["role/", "password/", "let-go/", "let-in/"])
def test_what_changes_an_account_asks_the_password_again(client, loic, then):
    client.force_login(cast.artist())
    page = client.post(of(loic, then), {"role": "wording_reader", "password": NEW["password"]})
    assert page.headers["Location"].startswith("/sure/")
    assert User.objects.get(pk=loic.pk).role == "assistant"


@pytest.mark.parametrize("then", ["lost/", "end/", "free/"])
def test_what_must_be_quick_asks_no_password(client, loic, then):
    client.force_login(cast.artist())
    assert client.post(of(loic, then)).headers["Location"] == of(loic)
