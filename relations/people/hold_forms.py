"""What may be typed to hold, to lift, and never to ring."""

from datetime import timedelta
from typing import Any, ClassVar

from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, DayField
from relations.privacy.holds import HOLD_DAYS
from relations.privacy.home import today

from .forms import NoteLine, PersonForm


class HoldForm(PersonForm):
    """One press: nothing moves until somebody has looked."""

    about: ClassVar = {"look_within_14_days": "next_look_on"}
    press = _("Hold")
    next_look_on = DayField(label=_("Look again on"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["next_look_on"].initial = today() + timedelta(days=HOLD_DAYS)


class HoldByCodeForm(HoldForm):
    """A hold by somebody who sees no people: a code they were told."""

    code = CodeField(label=_("Code of the person"))
    field_order = ("code", "next_look_on")


class LiftForm(PersonForm):
    """The sentence without which no hold is lifted."""

    about: ClassVar = {"no_sentence": "sentence"}
    press = _("Lift")
    sentence = NoteLine(label=_("What was found"), required=True)


class LiftByCodeForm(LiftForm):
    """Lifting by the keeper, who types the code they were told."""

    code = CodeField(label=_("Code of the person"))
    field_order = ("code", "sentence")


class NeverRingForm(PersonForm):
    """The second of two presses."""

    press = _("Never ring")
    look = "stopbtn"


class UndoForm(PersonForm):
    """A slip taken back within a day, by a typed code."""

    press = _("Undo")
    code = CodeField(label=_("Code of the person"))
