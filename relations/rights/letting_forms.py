"""What is typed to let go of something, or to keep it for 90 days more: a tick, or a sentence."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import BesideForm
from relations.people.forms import NoteLine

from .forms import RightsForm


class LetGoForm(RightsForm, BesideForm):
    """The last press; a tick says that it was read."""

    press = _("Let it go for good")
    look = "stopbtn"
    was_read = forms.BooleanField(
        label=_("I have read what goes and what stays. Nothing brings it back."),
        error_messages={"required": _("Read it, then tick it.")},
    )


class PostponeForm(RightsForm, BesideForm):
    """Once, by 90 days, with a sentence."""

    press = _("Postpone by 90 days")
    look = ""
    about: ClassVar = {"no_sentence": "sentence"}
    sentence = NoteLine(
        label=_("Why it must stay until then"),
        required=True,
        help_text=_("One sentence without a name. It can be postponed this once."),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        # Two forms stand on one page.
        super().__init__(*args, auto_id="later_%s", **kwargs)
