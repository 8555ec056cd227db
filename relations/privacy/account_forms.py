"""Adding somebody who signs in, another role, a new password; and each press on an account."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any, ClassVar
from uuid import UUID, uuid4, uuid5

from django import forms
from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import to_locale

from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures

from .access import HELPED
from .answering import ActionForm
from .forms import helper, password_field
from .models import User
from .words import CALENDARS

ROLES = [(role.value, role.label) for role in HELPED]
FIGURES = {
    Figures.USUAL: _("as is usual in the language"),
    Figures.OWN: _("those of the script: ٠١٢, ०१२"),
    Figures.EUROPEAN: _("European: 012"),
}
REFUSED: Mapping[str, str | Promise] = {
    "no_codes": _("They sign in without codes, so none can be lost. Nothing was changed."),
    "no_device": _("Set up a device first: the codes on paper come with it."),
    "not_this_role": _("This cannot be done for an artist or a keeper here. Nothing was changed."),
    "taken": _("Somebody signs in with this name already."),
    "the_same": _("This is the password you have now. Choose another."),
}


class AccountForm(ActionForm):
    """A form of the accounts with the words on its button; one token, so it is acted on once."""

    refusals = REFUSED
    about: ClassVar = {"taken": "username", "the_same": "password"}
    press: str | Promise = _("Keep")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        incomplete = _("This page was incomplete. Please send it again.")
        self.fields["token"] = forms.UUIDField(
            initial=uuid4,
            widget=forms.HiddenInput,
            error_messages={"required": incomplete, "invalid": incomplete},
        )
        self.helper = helper(self.press)

    @property
    def token(self) -> UUID:
        """The token of this valid form: the same one if it is sent twice."""
        return UUID(str(self.cleaned_data["token"]))


class PressForm(AccountForm):
    """A press on a page that has several; they share its token, so each makes its own out of it."""

    def __init__(self, *args: Any, path: str = "", **kwargs: Any) -> None:
        kwargs.setdefault("auto_id", False)
        super().__init__(*args, **kwargs)
        self.path = path

    @property
    def token(self) -> UUID:
        return uuid5(super().token, self.path)


BUILT = "*/LC_MESSAGES/django.mo"


class SpeakingForm(forms.Form):
    """The language of the screens, of those that have a catalogue; English needs none."""

    language = forms.ChoiceField(label=_("Language"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["language"].choices = screen_languages()  # type: ignore[attr-defined]


class MannerForm(SpeakingForm, PressForm):
    """How the site speaks to its user; a press on a language alone leaves the rest as it is."""

    figures = forms.ChoiceField(
        label=_("Figures"),
        choices=[(code.value, FIGURES[code]) for code in Figures],
        widget=forms.RadioSelect,
        required=False,
    )
    calendar = forms.ChoiceField(
        label=_("A second calendar"),
        help_text=_("In brackets, wherever a day is said whole."),
        choices=[(code.value, CALENDARS[code]) for code in Calendar],
        widget=forms.RadioSelect,
        required=False,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, auto_id="manner_%s", **kwargs)
        for name in ("figures", "calendar"):
            # One of them is always ticked on the page: neither is called optional there.
            self.fields[name].answers_itself = True  # type: ignore[attr-defined]


def screen_languages() -> list[tuple[str, str]]:
    """The languages of the screens whose words are built, each under its own name."""
    built = {path.parts[-3] for root in settings.LOCALE_PATHS for path in Path(root).glob(BUILT)}
    return [
        (code, name)
        for code, name in settings.LANGUAGES
        if code == "en" or to_locale(code) in built
    ]


class SeenForm(forms.Form):
    """Up to which line of the access log somebody has seen what became of the accounts."""

    up_to = forms.IntegerField(min_value=0)


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
        return str(User.normalize_username(self.cleaned_data["username"]))

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
