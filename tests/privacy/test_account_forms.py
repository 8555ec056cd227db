"""The forms of the accounts: what they take, and what they say of a password."""

import uuid

import pytest

from relations.privacy.account_forms import NewAccountForm, PasswordForm, PressForm, RoleForm
from relations.privacy.models import User

PASSWORD = " three slow boats at noon "
TOKEN = {"token": str(uuid.uuid4())}


def test_password_is_taken_as_it_is_typed():
    form = PasswordForm({"password": PASSWORD, **TOKEN}, user=None)
    assert form.is_valid()
    assert form.cleaned_data["password"] == PASSWORD


@pytest.mark.parametrize(
    ("user", "says"), [(None, "15 "), (User(), "15 "), (User(asks_code=True), "8 ")]
)
def test_form_says_how_long_the_password_must_be(user, says):
    assert str(PasswordForm(user=user).fields["password"].help_text).startswith(says)


def test_password_manager_may_make_one():
    assert 'autocomplete="new-password"' in str(PasswordForm(user=None)["password"])


@pytest.mark.django_db
def test_name_is_kept_as_it_will_be_looked_for():
    said = {"username": " \uff4coic ", "called": "Loïc", "role": "assistant"}
    form = NewAccountForm(said | {"password": PASSWORD, **TOKEN})
    assert form.is_valid()
    assert form.cleaned_data["username"] == "loic"


@pytest.mark.parametrize("role", ["artist", "keeper", ""])
def test_no_role_above_is_offered(role):
    assert "role" in RoleForm({"role": role, **TOKEN}).errors


def test_form_without_its_token_is_sent_again():
    assert "token" in RoleForm({"role": "assistant"}).errors
    assert RoleForm({"role": "assistant", **TOKEN}).is_valid()


def test_presses_of_one_page_have_each_their_own_token():
    forms = [PressForm(TOKEN, path=path) for path in ("/a/", "/b/", "/a/")]
    assert all(form.is_valid() for form in forms)
    first, second, again = (form.token for form in forms)
    assert first == again != second
