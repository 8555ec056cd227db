"""The sign-in form."""

import pytest
from django.test import RequestFactory

from relations.privacy.forms import SignInForm
from relations.privacy.models import Role, User

pytestmark = pytest.mark.django_db
PASSWORD = " spaces at both ends "


@pytest.fixture
def user():
    return User.objects.create_user("loic", PASSWORD, role=Role.ASSISTANT, called="Loïc")


def form(**said):
    return SignInForm(said, request=RequestFactory().post("/in/"))


def test_the_right_name_and_password_find_the_user(user):
    filled = form(username="loic", password=PASSWORD)
    assert filled.is_valid()
    assert filled.user == user


def test_a_name_is_read_however_its_letters_were_typed(user):
    assert form(username=" \uff4coic ", password=PASSWORD).is_valid()


@pytest.mark.parametrize(
    "said",
    [
        {"username": "loic", "password": PASSWORD.strip()},
        {"username": "nobody", "password": PASSWORD},
        {"username": "LOIC", "password": PASSWORD},
    ],
)
def test_a_wrong_name_and_a_wrong_password_are_not_told_apart(user, said):
    filled = form(**said)
    assert not filled.is_valid()
    assert filled.user is None
    assert filled.errors.as_data()["__all__"][0].code == "no_entry"


def test_a_user_who_was_stopped_is_not_told_so(user):
    User.objects.update(is_active=False)
    assert form(username="loic", password=PASSWORD).non_field_errors()


def test_an_empty_form_says_which_field_is_empty():
    filled = form(username="", password="")
    assert list(filled.errors) == ["username", "password"]


def test_a_password_manager_may_fill_it_in():
    shown = SignInForm(request=RequestFactory().get("/in/"))
    assert 'autocomplete="current-password"' in str(shown["password"])
    assert 'autocomplete="username"' in str(shown["username"])
