"""Adding somebody who signs in, another role, a new password."""

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from .access import HELPED
from .forms import helper, password_field
from .models import User

ROLES = [(role.value, role.label) for role in HELPED]


class AccountForm(forms.Form):
    """A form of the accounts with the words on its button."""

    press: str | Promise = _("Keep")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = helper(self.press)


class NewAccountForm(AccountForm):
    """Somebody new, with a first password that is told to them by word of mouth."""

    press = _("Add")
    username = forms.CharField(
        label=_("Name to sign in with"),
        max_length=60,
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "autocapitalize": "none", "spellcheck": "false"}
        ),
    )
    called = forms.CharField(
        label=_("What the others say to them"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "off", "dir": "auto"}),
    )
    role = forms.ChoiceField(label=_("Role"), choices=ROLES, widget=forms.RadioSelect)
    password = password_field(
        _("First password"),
        "new-password",
        help_text=_("15 characters or more. Any words will do."),
    )

    def clean_username(self) -> str:
        name = str(User.normalize_username(self.cleaned_data["username"]))
        if User.objects.filter(username=name).exists():
            raise ValidationError(_("Somebody signs in with this name already."), code="taken")
        return name

    def clean_password(self) -> str:
        return good(self.cleaned_data["password"], None)


class PasswordForm(AccountForm):
    """A new password for `user`, or a first one again where their codes are forgotten too."""

    password = password_field(_("New password"), "new-password")

    def __init__(self, *args: Any, user: User | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user
        self.fields["password"].help_text = (
            _("8 characters or more, since you sign in with a code too.")
            if user and user.asks_code
            else _("15 characters or more. Any words will do.")
        )

    def clean_password(self) -> str:
        return good(self.cleaned_data["password"], self.user)


class RoleForm(AccountForm):
    """Another role."""

    role = forms.ChoiceField(label=_("Role"), choices=ROLES, widget=forms.RadioSelect)


def good(password: str, user: User | None) -> str:
    """The password, where it is long enough and not one of the common ones."""
    validate_password(password, user)
    return password
