"""What may be typed about a request: as it was heard, each step of it, and what leaves."""

from collections.abc import Callable
from typing import Any, ClassVar
from uuid import UUID, uuid5

from crispy_forms.helper import FormHelper
from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from relations.consent.models import Wording
from relations.consent.sheet_forms import PaperForm
from relations.languages.forms import CodeField, NameField
from relations.people.forms import PastDayField
from relations.people.models import Participant
from relations.people.search import by_code
from relations.privacy.home import today

from . import requests
from .forms import RightsForm
from .models import Request
from .words import ASKED_WAYS, OUTCOMES, REQUESTS, SURE


class RequestForm(RightsForm):
    """A request as it was heard: who, what, how, and on which day."""

    press = _("Note it")
    code = CodeField(label=_("Code of the person"))
    kind = forms.ChoiceField(
        label=_("What do they ask?"), choices=list(REQUESTS.items()), widget=forms.RadioSelect
    )
    way = forms.ChoiceField(
        label=_("How did they ask?"),
        choices=list(ASKED_WAYS.items()),
        widget=forms.RadioSelect,
        initial="voice",
    )
    asked_on = PastDayField(
        label=_("Asked on"),
        initial=today,
        help_text=_("The day on which they said it, not the day on which it is typed."),
    )

    def clean_code(self) -> Participant:
        """The person; that nobody has this code is said in the same words to everybody."""
        found = by_code(self.cleaned_data["code"])
        if not found:
            raise ValidationError(_("Nobody was found by this code."), code="nobody")
        return found[0]


class AgreedWordForm(RightsForm):
    """The word that was agreed with a person."""

    press = _("Keep this word")
    about: ClassVar = {"no_word": "word"}
    word = NameField(
        label=_("The word you agreed on"),
        help_text=_(
            "One that they chose and will remember; in any language. It is shown on no page: a new "
            "one takes its place."
        ),
    )


class StepForm(RightsForm):
    """One step of a request, with a token and an address of its own on the page of them all."""

    step: ClassVar = ""

    def __init__(self, *args: Any, key: UUID, **kwargs: Any) -> None:
        super().__init__(*args, auto_id=f"{self.step}_%s", **kwargs)
        self.key = key

    @property
    def token(self) -> UUID:
        return uuid5(super().token, self.step)

    @property
    def helper(self) -> FormHelper:
        """Sent to the address of its step: the page itself is only looked at."""
        helper = super().helper
        helper.form_action = reverse("rights:request_step", args=[self.key, self.step])
        return helper


class SureForm(StepForm):
    """How we were sure who asks."""

    step = "sure"
    press = _("We are sure")
    about: ClassVar = {
        "wrong_word": "word",
        "no_word_agreed": "how",
        "before_it_was_asked": "on",
    }
    how = forms.ChoiceField(
        label=_("How were you sure?"),
        choices=list(SURE.items()),
        widget=forms.RadioSelect,
        initial="word",
    )
    word = forms.CharField(
        label=_("The word they said"),
        required=False,
        max_length=80,
        widget=forms.TextInput(attrs={"dir": "auto", "autocomplete": "off"}),
    )
    on = PastDayField(label=_("Day"), initial=today)


class ExtendForm(StepForm):
    """They were told that it takes longer."""

    step = "extend"
    press = _("They were told")
    about: ClassVar = dict.fromkeys(("month_is_over", "before_it_was_asked"), "told_on")
    told_on = PastDayField(label=_("Told on"), initial=today)


class AnswerForm(StepForm):
    """They were answered."""

    step = "answer"
    press = _("Answered")
    about: ClassVar = {"before_it_was_asked": "answered_on"}
    outcome = forms.ChoiceField(
        label=_("What came of it?"), choices=list(OUTCOMES.items()), widget=forms.RadioSelect
    )
    answered_on = PastDayField(label=_("Answered on"), initial=today)


class FileForm(PaperForm):
    """What of the file is handed over: paper in two languages, lines to be read aloud, or JSON."""

    press = _("Make it")
    field_order = ("what", "first", "second")
    what = forms.ChoiceField(
        label=_("What is it for?"),
        choices=[
            ("paper", _("On paper, in their language beside yours")),
            ("aloud", _("To be read aloud to them")),
            ("json", _("For a machine (JSON)")),
        ],
        widget=forms.RadioSelect,
        help_text=_("Read aloud it is in their language alone."),
    )

    def __init__(self, *args: Any, theirs: list[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        tags = {wording.language: key for key, wording in self.wordings.items()}
        self.fields["first"].initial = next((tags[tag] for tag in theirs if tag in tags), None)
        # Words for machines are the same in every language; read aloud is one alone.
        what = self.data.get("what")
        self.fields["first"].required = what != "json"
        self.fields["second"].required = what not in ("json", "aloud")

    @property
    def their_wording(self) -> Wording:
        """The wording of their language."""
        return self.wordings[self.cleaned_data["first"]]


Step = Callable[..., Request]
# The steps of a request by their name in the address: what is typed, and what it does.
STEPS: dict[str, tuple[type[StepForm], Step, tuple[str, ...]]] = {
    "sure": (SureForm, requests.be_sure, ("how", "word", "on")),
    "extend": (ExtendForm, requests.extend, ("told_on",)),
    "answer": (AnswerForm, requests.answer, ("outcome", "answered_on")),
}
