"""The forms of the accounts: what they take, and what they say of a password."""

import pytest

from relations.privacy.account_forms import NewAccountForm, PasswordForm, RoleForm
from relations.privacy.models import User

PASSWORD = " three slow boats at noon "


def test_password_is_taken_as_it_is_typed():
    form = PasswordForm({"password": PASSWORD}, user=None)
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
    form = NewAccountForm(said | {"password": PASSWORD})
    assert form.is_valid()
    assert form.cleaned_data["username"] == "loic"


@pytest.mark.parametrize("role", ["artist", "keeper", ""])
def test_no_role_above_is_offered(role):
    assert not RoleForm({"role": role}).is_valid()
