"""What may be typed on the pages of prints: one step with what belongs to it, and promises."""

import re
from datetime import date
from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, DayField, Group, PlainForm, YesNoField
from relations.people.access import somebody
from relations.people.forms import NoteLine, PastDayField
from relations.people.models import Participant
from relations.privacy.answering import ActionForm
from relations.privacy.home import today
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import lab, queries
from .models import Print, Promise, PromiseKind
from .promises import Otherwise
from .rules import ASKS_WHY, PrintState, answer_first
from .words import ANSWERS, OTHERWISE, PROMISES, REFUSED, STEPS

S = PrintState
WAY = ("is_safe", "size", "is_sealed", "into_whose_hand", "when_to_come", "word_at_the_door")
# What is asked with a step, beside its day.
ASKS: dict[PrintState, tuple[str, ...]] = {
    S.ASKED_HOW: (*WAY, "not_at_the_lab", "answer", "box"),
    S.OUT_ON_A_ROUND: ("is_safe", "into_whose_hand", "word_at_the_door"),
    S.POSTED: ("tracked", "plain_cover", "post_asked_for"),
    S.KEPT_FOR_THEM: ("box",),
    S.OWED: ("sat_again",),
    **dict.fromkeys(ASKS_WHY, ("reason",)),
}
CURRENCY = re.compile(r"[A-Z]{3}")


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
        "no_sum": "amount",
        "currency": "currency",
        "others_may_see": "others_may_see",
        **dict.fromkeys(("kept_before", "ended_before"), "on"),
        "artist_only": "how",
        "why": "why",
    }


class StepForm(PrintsForm):
    """One step of a print, with the state from which the page was opened."""

    was = forms.CharField(max_length=20, widget=forms.HiddenInput)
    is_safe = YesNoField(label=_("Is a print safe to have there?"))
    size = NoteLine(label=_("Size"), max_length=20)
    is_sealed = forms.BooleanField(label=_("Sealed"), required=False)
    into_whose_hand = NoteLine(label=_("Into whose hand"))
    when_to_come = NoteLine(
        label=_("When may we come?"), help_text=_("Days and hours, as they say them.")
    )
    word_at_the_door = NoteLine(label=_("Word at the door"))
    not_at_the_lab = forms.BooleanField(
        label=_("Not at the lab: print it elsewhere"), required=False
    )
    answer = forms.ChoiceField(
        label=_("What do they want?"),
        choices=list(ANSWERS.items()),
        widget=forms.RadioSelect,
        help_text=_("Nothing is assumed: where they were not sure, keep it for them."),
    )
    box = NoteLine(label=_("Box"), max_length=8, help_text=_("Where it is kept, if it is."))
    tracked = forms.BooleanField(label=_("The post follows it on its way"), required=False)
    plain_cover = forms.BooleanField(label=_("In a plain cover"), required=False)
    post_asked_for = forms.BooleanField(label=_("They asked for the post"), required=False)
    word_from_sitter = forms.BooleanField(label=_("Word came from the sitter"), required=False)
    sat_again = forms.BooleanField(label=_("They have sat again"), required=False)
    reason = NoteLine(
        label=_("What happened to the print"),
        required=True,
        help_text=_("To the print or its file, never to them."),
    )
    on = DayField(label=_("On which day"), help_text=_("The day it happened, not of the typing."))

    def __init__(self, *args: Any, print: Print, to: PrintState, **kwargs: Any) -> None:
        initial = {name: getattr(print, name) for name in (*WAY, "not_at_the_lab", "box")}
        held = print.not_at_the_lab or queries.is_left_alone(print.person)
        state = PrintState(print.state)
        initial["answer"] = answer_first(print.is_safe, is_held_close=held, state=state)
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


class AmountField(forms.Field):
    """An amount of money above zero, read as `lab.read_price` does; None where it is empty."""

    widget = forms.TextInput(attrs={"inputmode": "decimal", "class": "short", "dir": "ltr"})

    def to_python(self, value: Any) -> Any:
        text = str(value or "").strip()
        try:
            return lab.read_price(text, least=lab.CENT) if text else None
        except lab.PriceError as error:
            raise ValidationError(REFUSED[error.code], code=error.code) from error


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
    amount = AmountField(label=_("How much"), required=False)
    currency = forms.CharField(
        label=_("Currency"),
        max_length=3,
        required=False,
        help_text=_("Three letters, such as EUR."),
        widget=forms.TextInput(attrs={"class": "short", "dir": "ltr"}),
    )

    def groups(self) -> list[Group | str]:
        """Who and what, then what belongs to an invitation or a sum alone."""
        invited = Group(_("For an invitation"), "others_may_see")
        money = Group(_("For a sum"), "amount", "currency")
        return ["code", "kind", "on", "due_on", invited, money]

    def clean_currency(self) -> str:
        """Three letters, in any case (ISO 4217)."""
        typed = str(self.cleaned_data["currency"]).upper()
        if typed and not CURRENCY.fullmatch(typed):
            raise ValidationError(_("A currency has three letters, such as EUR."), code="currency")
        return typed


class KeptForm(PrintsForm):
    """A promise was kept: today, or on the day that is said."""

    press = _("Kept")
    others_may_see = YesNoField(label=_("May others see them there?"))
    on = PastDayField(label=_("On which day"), required=False, initial=today)

    def __init__(self, *args: Any, promise: Promise, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.key = promise.pk
        if promise.kind != PromiseKind.INVITATION or promise.others_may_see is not None:
            del self.fields["others_may_see"]

    @property
    def said(self) -> dict[str, Any]:
        """What `actions.keep_promise` takes; a press that says no day is of today."""
        on: date = self.cleaned_data["on"] or today()
        return {"on": on, "others_may_see": self.cleaned_data.get("others_may_see")}

    @property
    def token(self) -> UUID:
        """The presses of one list share its token, so each makes its own out of it."""
        return uuid5(super().token, str(self.key))


class EndPromiseForm(PrintsForm):
    """A promise ends without being kept."""

    press = _("Note how it ended")
    how = forms.ChoiceField(
        label=_("How it ended"), choices=list(OTHERWISE.items()), widget=forms.RadioSelect
    )
    why = NoteLine(
        label=_("Why"), help_text=_("Needed where we could not keep it; they owe us no reason.")
    )
    on = PastDayField(label=_("On which day"), initial=today)

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not user.is_artist:
            # That it could not be kept is for the artist to say.
            let_off = Otherwise.LET_OFF
            self.fields["how"] = forms.ChoiceField(
                label=_("How it ended"),
                choices=[(let_off.value, OTHERWISE[let_off])],
                initial=let_off.value,
                widget=forms.RadioSelect,
                help_text=_("That we could not keep it is for the artist to say."),
            )
            self.fields["why"].help_text = ""
            self.order_fields(["how", "why", "on"])
