"""What may be said on the page of an alarm."""

from typing import ClassVar
from uuid import UUID, uuid5

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import PlainForm
from relations.privacy.answering import ActionForm

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
