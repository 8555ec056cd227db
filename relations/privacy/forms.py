"""The sign-in form."""

from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Submit
from django import forms
from django.contrib.auth import authenticate
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from .models import User, same_typing


class SignInForm(forms.Form):
    """A name and a password; what is wrong with them is not said apart."""

    username = forms.CharField(
        label=_("Name"),
        max_length=60,
        widget=forms.TextInput(
            attrs={"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}
        ),
    )
    # Spaces at the ends belong to a password (NIST SP 800-63B: take it exactly as typed).
    password = forms.CharField(
        label=_("Password"),
        max_length=256,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request = request
        self.user: User | None = None
        self.helper = FormHelper()
        self.helper.template_pack = "plain"
        self.helper.attrs = {"novalidate": ""}
        self.helper.add_input(Submit("", _("Sign in")))

    def clean_username(self) -> str:
        return str(User.normalize_username(self.cleaned_data["username"]))

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or {}
        if {"username", "password"} <= said.keys():
            user = authenticate(
                self.request,
                username=said["username"],
                password=same_typing(said["password"]),
            )
            if not isinstance(user, User):
                raise ValidationError(
                    _("Name and password do not fit together. Check both and try again."),
                    code="no_entry",
                )
            self.user = user
        return said
