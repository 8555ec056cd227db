"""What is typed where the whole register leaves: why, the keeper's password, a new passphrase."""

from typing import Any, ClassVar

from crispy_forms.helper import FormHelper
from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from relations.people.forms import NoteLine
from relations.privacy import devices, tries
from relations.privacy.answering import who
from relations.privacy.forms import fitting, password_field
from relations.privacy.models import same_typing
from relations.privacy.once import was_sent

from .handing_forms import PathForm
from .taking_out_words import REFUSED as TAKING_REFUSED
from .words import REFUSED


class RegisterForm(PathForm):
    """A press of the page, sent to a page of its own at `path`."""

    refusals: ClassVar = {**REFUSED, **TAKING_REFUSED}

    @property
    def helper(self) -> FormHelper:
        helper = super().helper
        helper.form_action = self.path
        return helper


class AskForm(RegisterForm):
    """The artist asks."""

    press = _("Ask the keeper")
    about: ClassVar = {"no_reason": "reason"}
    reason = NoteLine(
        label=_("What it is for, and where it goes"),
        required=True,
        help_text=_("The keeper reads it. No name of anybody who sat."),
    )


class ConfirmForm(RegisterForm):
    """The keeper confirms: password and code are asked now, however lately they were given."""

    press = _("Confirm that it may leave")
    password = password_field(_("Your password"), "current-password")
    code = forms.CharField(
        label=_("Code"),
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "dir": "ltr"}),
    )

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request = request
        if not who(request).asks_code:
            del self.fields["code"]

    def clean(self) -> dict[str, Any]:
        """A wrong password or code counts as a try at signing in; HeldOff where none is open."""
        said: dict[str, Any] = super().clean() or {}
        user = who(self.request)
        if self.errors or was_sent(str(self.token), user):
            return said
        if fitting(self.request, user.username, said["password"]) != user:
            self.add_error("password", _("This is not your password. Try again."))
        elif "code" in said and not self._accepts(said["code"]):
            self.add_error(
                "code", _("This code does not fit, or was used before. Wait for the next one.")
            )
        return said

    def _accepts(self, code: str) -> bool:
        user = who(self.request)
        fits = tries.attempt(
            self.request, user.username, lambda: devices.accepts(user, code) or None
        )
        return fits is not None


class TakeForm(RegisterForm):
    """The artist takes the file: a passphrase that opens it and nothing else."""

    press = _("Take it out now")
    passphrase = password_field(
        _("Passphrase of the file"),
        "new-password",
        help_text=_(
            "15 characters or more, used for nothing else. It is kept nowhere here: without it "
            "nobody opens the file."
        ),
    )
    again = password_field(_("The same again"), "new-password")

    def __init__(self, *args: Any, request: HttpRequest, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request = request

    def clean_passphrase(self) -> str:
        """As long as a password that stands alone, none of the common ones, and not their own."""
        said = str(self.cleaned_data["passphrase"])
        validate_password(said)
        if who(self.request).check_password(said):
            raise ValidationError(
                _("This is your password. Choose another for the file."), code="own_password"
            )
        return said

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or {}
        first, second = said.get("passphrase"), said.get("again")
        if first and second and same_typing(first) != same_typing(second):
            self.add_error("again", _("The two are not the same."))
        return said
