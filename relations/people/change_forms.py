"""What may be typed when a life changes: a new name, a move abroad."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import NameField
from relations.privacy.home import today

from .forms import PastDayField, PersonForm
from .known_forms import script_choices


class NewNameForm(PersonForm):
    """The new name, and what to call them from now on."""

    about: ClassVar = {"same_name": "text"}
    press = _("This is their name now")

    text = NameField(label=_("New name"))
    script = forms.ChoiceField(label=_("Script"), required=False)
    call_name = NameField(label=_("What to call them"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["script"].choices = script_choices()  # type: ignore[attr-defined]


class MovedForm(PersonForm):
    """Since when they live in another country; not in which."""

    about: ClassVar = {"in_the_future": "since"}
    press = _("They moved abroad")

    since = PastDayField(label=_("Since"), initial=today)


class AskedAgainForm(PersonForm):
    """They were asked in which countries they may be shown."""

    press = _("Asked again")
