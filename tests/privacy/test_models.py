"""Users and their roles; what is kept of them shows neither name nor password."""

import uuid

import pytest
from django.contrib.auth import authenticate
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from relations.privacy.models import Mending, Role, User, same_typing

pytestmark = pytest.mark.django_db
PASSWORD = "caf\u00e9 au bord de l'eau"


@pytest.fixture
def user():
    return User.objects.create_user("loic", PASSWORD, role=Role.ASSISTANT, called="Loïc")


def test_a_user_signs_in_however_the_keyboard_writes_an_accent(user):
    decomposed = "cafe\u0301 au bord de l'eau"
    assert decomposed != PASSWORD
    assert user.check_password(PASSWORD)
    assert user.check_password(decomposed)
    assert not user.check_password("caf au bord de l'eau")
    assert authenticate(username="loic", password=decomposed) == user


@pytest.mark.costly
def test_the_password_is_kept_as_argon2id_only(user):
    assert user.password.startswith("argon2$argon2id$v=19$m=47104,t=2,p=1$")
    assert "caf" not in user.password


def test_a_user_without_a_password_cannot_sign_in():
    user = User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
    assert not user.has_usable_password()
    assert authenticate(username="mara", password="") is None
    assert same_typing(None) is None


def test_a_user_who_was_stopped_cannot_sign_in(user):
    user.is_active = False
    user.save()
    assert authenticate(username="loic", password=PASSWORD) is None
    assert not User.objects.in_role(Role.ASSISTANT).exists()


def test_users_are_found_by_role(user):
    assert list(User.objects.in_role(Role.ASSISTANT, Role.KEEPER)) == [user]
    assert not User.objects.in_role(Role.ARTIST).exists()
    assert user.is_one_of(Role.ASSISTANT)
    assert not user.is_artist


@pytest.mark.parametrize("wrong", [{"role": "owner"}, {"username": ""}, {"username": "loic"}])
def test_an_unknown_role_or_a_taken_name_is_refused(user, wrong):
    with pytest.raises(ValidationError):
        User.objects.create_user(
            **{"username": "awa", "password": None, "role": Role.KEEPER, "called": "A", **wrong}
        )


def test_the_database_refuses_a_role_nobody_knows(user):
    with pytest.raises(IntegrityError):
        User.objects.filter(pk=user.pk).update(role="owner")


def test_a_user_is_shown_by_key_never_by_name(user):
    assert str(user) == str(user.pk)


def test_an_old_value_of_a_mended_row_comes_back(user):
    kept = Mending.objects.create(
        kind="people.participant",
        key=uuid.UUID(int=1),
        at=user.joined_at,
        by=user,
        old={"call_name": "Awaa", "born": None},
        why="misheard",
    )
    again = Mending.objects.get(pk=kept.pk)
    assert again.old == {"call_name": "Awaa", "born": None}
    assert again.why == "misheard"
