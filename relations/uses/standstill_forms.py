"""What may be typed when the keeper holds back every new use: one press, and why it is over."""

from typing import ClassVar
from uuid import UUID, uuid5

from crispy_forms.helper import FormHelper
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from relations.people.forms import NoteLine

from .forms import UsesForm
from .words import REFUSED


class StandstillForm(UsesForm):
    """A press of the page; they share its token, so each makes its own out of it."""

    refusals: ClassVar = {**REFUSED, "keeper_only": _("This is for the keeper.")}
    about: ClassVar = {"no_sentence": "sentence"}
    what = "lay"

    @property
    def token(self) -> UUID:
        return uuid5(super().token, self.what)


class LiftStandstillForm(StandstillForm):
    """New uses may be made again: what was settled."""

    press = _("New uses may be made again")
    what = "lift"
    sentence = NoteLine(
        label=_("What was settled"),
        required=True,
        help_text=_("Who decides about pictures now. No name of anybody who sat."),
    )

    @property
    def helper(self) -> FormHelper:
        """Sent to a page of its own."""
        helper = super().helper
        helper.form_action = reverse("uses:let_go_on")
        return helper
