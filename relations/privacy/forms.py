"""Signing in: a name and a password, a code, the password once more."""

from collections.abc import Callable
from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Submit
from django import forms
from django.contrib.auth import authenticate
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from . import tries
from .models import User, same_typing


def helper(press: str | Promise) -> FormHelper:
    """How a form of this room is drawn, with the words on its button."""
    made = FormHelper()
    made.template_pack = "plain"
    made.form_class = "form"
    made.attrs = {"novalidate": ""}
    made.add_input(Submit("", press))
    return made


def password_field(label: Any, autocomplete: str, **rest: Any) -> forms.CharField:
    """A password, taken exactly as typed or pasted: spaces at its ends belong to it."""
    # The length guards the hasher; NIST SP 800-63B asks for 64 or more.
    return forms.CharField(
        label=label,
        max_length=256,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": autocomplete}),
        **rest,
    )


class EntryForm(forms.Form):
    """A name and a password; what is wrong with them is not said apart.

    To check it raises HeldOff where no try is open.
    """

    username = forms.CharField(
        label=_("Name"),
        max_length=60,
        widget=forms.TextInput(
            attrs={"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}
        ),
    )
    password = password_field(_("Password"), "current-password")

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request = request
        self.user: User | None = None

    def clean_username(self) -> str:
        return str(User.normalize_username(self.cleaned_data["username"]))

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or {}
        # Nothing is tried while something else is still to be said.
        if not self.errors:
            self.user = fitting(self.request, said["username"], said["password"])
            if self.user is None:
                raise ValidationError(
                    _("Name and password do not fit together. Check both and try again."),
                    code="no_entry",
                )
        return said


class SignInForm(EntryForm):
    """What lets somebody in."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = helper(_("Sign in"))


def fitting(request: HttpRequest, username: str, password: str) -> User | None:
    """The user whom name and password fit; a wrong one counts as a try."""

    def look() -> User | None:
        found = authenticate(request, username=username, password=same_typing(password))
        return found if isinstance(found, User) else None

    return tries.attempt(request, username, look)


class CodeForm(forms.Form):
    """A code that a device shows, or one from the paper; `accepts` says whether it fits."""

    code = forms.CharField(
        label=_("Code"),
        max_length=40,
        widget=forms.TextInput(
            attrs={
                "autocomplete": "one-time-code",
                "autocapitalize": "characters",
                "spellcheck": "false",
                "dir": "ltr",
            }
        ),
    )

    def __init__(self, *args: Any, accepts: Callable[[str], bool], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.accepts = accepts
        self.helper = helper(_("Go on"))

    def clean_code(self) -> str:
        said = str(self.cleaned_data["code"])
        if not self.accepts(said):
            raise ValidationError(
                _("This code does not fit, or was used before. Wait for the next one."),
                code="no_code",
            )
        return said


class SureForm(forms.Form):
    """The password of whoever is signed in, once more."""

    password = password_field(_("Your password"), "current-password")

    def __init__(self, *args: Any, request: HttpRequest, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.user = request, user
        self.helper = helper(_("Go on"))

    def clean_password(self) -> str:
        said = str(self.cleaned_data["password"])
        if fitting(self.request, self.user.username, said) != self.user:
            raise ValidationError(_("This is not your password. Try again."), code="no_entry")
        return said
