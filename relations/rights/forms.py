"""What may be said on the pages of an alarm."""

from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import PlainForm
from relations.people.forms import NoteLine, PastDayField
from relations.privacy.answering import ActionForm
from relations.privacy.forms import EntryForm

from .words import PRESSES, REFUSED


class RightsForm(ActionForm, PlainForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSED


class AlarmForm(RightsForm):
    """What was lost: one press."""

    press = _("Raise the alarm")
    what = forms.ChoiceField(label=_("What was lost or taken?"), choices=list(PRESSES.items()))

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        return uuid5(super().token, self.data["what"])


class LostForm(EntryForm, PlainForm):
    """The same from any browser: name, password, what was lost. It lets nobody in."""

    press = _("Raise the alarm")
    look = "stopbtn"
    field_order = ("what", "username", "password")
    what = forms.ChoiceField(
        label=_("What was lost or taken?"),
        choices=list(PRESSES.items()),
        widget=forms.RadioSelect,
    )

    @property
    def token(self) -> UUID:
        """Sent twice it is one alarm; sent again with another thing it is another."""
        return uuid5(super().token, self.cleaned_data["what"])


class TellForm(RightsForm):
    """Somebody whom the alarm may touch was told."""

    press = _("Told them")


class AuthorityForm(RightsForm):
    """On which day the authority was told, or why it need not be."""

    press = _("Note it")
    told_on = PastDayField(label=_("The authority was told on"), required=False)
    why_not = NoteLine(
        label=_("Or: it need not be told, because"),
        help_text=_("What makes harm unlikely, in one sentence. No names."),
    )
    about: ClassVar = {"before_it_was_known": "told_on"}

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        if not self.errors and bool(said["told_on"]) == bool(said["why_not"]):
            self.add_error(None, self.words("told_or_why"))
        return said


class CloseForm(RightsForm):
    """An alarm is over."""

    press = _("Close it")

    def __init__(self, *args: object, key: UUID, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.key = key

    @property
    def token(self) -> UUID:
        """The presses of one list share its token, so each makes its own out of it."""
        return uuid5(super().token, str(self.key))
