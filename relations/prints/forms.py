"""What may be typed on the pages of prints: one step with what belongs to it, and promises."""

from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, DayField, PlainForm, YesNoField
from relations.people.access import somebody
from relations.people.forms import NoteLine, PastDayField
from relations.people.models import Participant
from relations.privacy.answering import ActionForm
from relations.privacy.home import today
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import Print, PromiseKind
from .rules import PrintState
from .words import PROMISES, REFUSED, STEPS

S = PrintState
WAY = ("is_safe", "size", "is_sealed", "into_whose_hand", "word_at_the_door")
# What is asked with a step, beside its day.
ASKS: dict[PrintState, tuple[str, ...]] = {
    S.ASKED_HOW: (*WAY, "not_at_the_lab"),
    S.OUT_ON_A_ROUND: ("is_safe", "into_whose_hand", "word_at_the_door"),
    S.POSTED: ("tracked", "plain_cover", "post_asked_for"),
    S.KEPT_FOR_THEM: ("box",),
    S.OWED: ("sat_again",),
    S.FAULTY: ("reason",),
    S.LOST: ("reason",),
}


def asks(old: PrintState, new: PrintState) -> tuple[str, ...]:
    """The fields of a step beside its day; a step that has none is one press."""
    if (old, new) == (S.HANDED_ON, S.ACKNOWLEDGED):
        return ("word_from_sitter",)
    return ASKS.get(new, ())


class PrintsForm(ActionForm, PlainForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSED
    about: ClassVar = {
        "safe_way": "is_safe",
        "tracked": "tracked",
        "plain_cover": "plain_cover",
        "asked_for": "post_asked_for",
        "word": "word_from_sitter",
        "sat_again": "sat_again",
        "day_in_future": "on",
        "before_the_last_step": "on",
        "due_before": "due_on",
        "kept_before": "on",
    }


class StepForm(PrintsForm):
    """One step of a print, with the state from which the page was opened."""

    was = forms.CharField(max_length=20, widget=forms.HiddenInput)
    is_safe = YesNoField(label=_("Is a print safe to have there?"))
    size = NoteLine(label=_("Size"), max_length=20)
    is_sealed = forms.BooleanField(label=_("Sealed"), required=False)
    into_whose_hand = NoteLine(label=_("Into whose hand"))
    word_at_the_door = NoteLine(label=_("Word at the door"))
    not_at_the_lab = forms.BooleanField(
        label=_("Not at the lab: print it elsewhere"), required=False
    )
    box = NoteLine(label=_("Box"), max_length=8)
    tracked = forms.BooleanField(label=_("The post follows it on its way"), required=False)
    plain_cover = forms.BooleanField(label=_("In a plain cover"), required=False)
    post_asked_for = forms.BooleanField(label=_("They asked for the post"), required=False)
    word_from_sitter = forms.BooleanField(label=_("Word came from the sitter"), required=False)
    sat_again = forms.BooleanField(label=_("They have sat again"), required=False)
    reason = NoteLine(label=_("What happened to the print"))
    on = DayField(label=_("On which day"), help_text=_("The day it happened, not of the typing."))

    def __init__(self, *args: Any, print: Print, to: PrintState, **kwargs: Any) -> None:
        initial = {name: getattr(print, name) for name in (*WAY, "not_at_the_lab", "box")}
        initial["is_safe"] = {True: "yes", False: "no", None: "not_said"}[print.is_safe]
        initial |= {"was": print.state, "on": today()}
        super().__init__(*args, initial=initial, **kwargs)
        self.print, self.to, self.press = print, to, STEPS[to]
        self.asked = asks(PrintState(print.state), to)
        for name in set(self.fields) - {*self.asked, "was", "on", "token"}:
            del self.fields[name]

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        return uuid5(super().token, self.to)

    def said(self) -> dict[str, Any]:
        """What goes with the step, as the action takes it."""
        return {name: self.cleaned_data[name] for name in (*self.asked, "on", "was")}

    def refuse(self, refused: Refused) -> None:
        """Say why, and show the page as from where the print is now, with all as typed."""
        super().refuse(refused)
        self.data = {**{name: self.data[name] for name in self.data}, "was": self.print.state}


class PersonOfPrint(PrintsForm):
    """A form about somebody in sight, by code."""

    code = CodeField(label=_("Code of the person"))

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user

    def clean_code(self) -> Participant:
        """The person; absent and out of sight are the same."""
        found = somebody(self.user, self.cleaned_data["code"])
        if found is None:
            raise ValidationError(_("Look at this code again."), code="nobody")
        return found


class WithoutPictureForm(PersonOfPrint):
    """Somebody sat and no picture is there."""

    press = _("Owe it all the same")
    on = PastDayField(label=_("Since"), initial=today)


class PromiseForm(PersonOfPrint):
    """What else somebody was promised."""

    press = _("Note the promise")
    kind = forms.ChoiceField(
        label=_("What"), choices=[(kind.value, PROMISES[kind]) for kind in PromiseKind]
    )
    on = PastDayField(label=_("Promised on"), initial=today)
    due_on = DayField(label=_("Due by"), required=False)
    others_may_see = YesNoField(label=_("May others see them there?"))


class KeptForm(PrintsForm):
    """A promise was kept."""

    press = _("Kept")

    def __init__(self, *args: Any, key: UUID, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.key = key

    @property
    def token(self) -> UUID:
        """The presses of one list share its token, so each makes its own out of it."""
        return uuid5(super().token, str(self.key))
