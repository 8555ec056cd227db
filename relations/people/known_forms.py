"""What may be typed about somebody we know of: numbers, names, birth, risk, how to ring."""

from typing import Any, ClassVar

import phonenumbers
from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from relations.languages.calendars import FutureDayError, Interval, parse_said
from relations.languages.forms import (
    CodeField,
    DayField,
    NameField,
    PhoneField,
)
from relations.languages.templatetags.words import reader_locale
from relations.privacy.home import today

from . import rules
from .forms import PastDayField, PersonForm
from .models import NameKind
from .values import Condition, Risk
from .words import CONDITIONS, KINDS_OF_NAME, LEVELS, REFUSED

SCRIPTS = ("Latn", "Arab", "Beng", "Deva", "Cyrl", "Grek", "Hebr", "Ethi", "Hans")
Choices = list[tuple[str, Any]]


def script_choices() -> Choices:
    """The scripts a name may be written in, in the words of the reader."""
    names = reader_locale().scripts
    return [("", "–"), *((code, names.get(code, code)) for code in SCRIPTS)]


def _countries() -> Choices:
    names = reader_locale().territories
    known: Choices = [(code, names.get(code, code)) for code in phonenumbers.SUPPORTED_REGIONS]
    return [("", _("Not known")), *sorted(known, key=lambda pair: str(pair[1]))]


class PhoneForm(PersonForm):
    """One telephone number, kept as it was typed."""

    about: ClassVar = {
        **dict.fromkeys(("empty", "letters", "two_numbers", "too_short", "too_long"), "number"),
        **dict.fromkeys(("wrong_length", "area_code", "not_a_number", "never_ring"), "number"),
        "already_theirs": "number",
        "country": "country",
        "by_themselves": "through",
    }

    number = PhoneField(label=_("Number"), required=False)
    country = forms.ChoiceField(label=_("Country of the number"), required=False)
    is_shared = forms.BooleanField(label=_("Others answer this telephone too"), required=False)
    through = CodeField(
        label=_("Reached through"),
        required=False,
        help_text=_("The code of somebody else, where they have no telephone of their own."),
    )
    keep_raw = forms.BooleanField(
        label=_("Keep it as it was given, even if it cannot be rung yet"), required=False
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["country"].choices = _countries()  # type: ignore[attr-defined]
        self.fields["country"].initial = settings.RELATIONS_COUNTRY

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        data["through"] = self.somebody("through")
        if not data.get("number") and not data["through"] and "number" not in self.errors:
            self.add_error("number", REFUSED["empty"])
        return data

    @property
    def line(self) -> dict[str, Any]:
        """What `actions.add_line` takes: the number exactly as it was typed."""
        data = self.cleaned_data
        return {
            "typed": self.data.get(self.add_prefix("number"), ""),
            "country": data["country"] or None,
            "is_shared": data["is_shared"],
            "through": data["through"],
            "keep_raw": data["keep_raw"],
        }


class NameForm(PersonForm):
    """One more name, spelling, or name never to be printed."""

    text = NameField(label=_("Name"))
    kind = forms.ChoiceField(
        label=_("What it is"), choices=list(KINDS_OF_NAME.items()), initial=NameKind.OWN
    )
    script = forms.ChoiceField(label=_("Script"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["script"].choices = script_choices()  # type: ignore[attr-defined]


class BornForm(PersonForm):
    """When somebody was born, as they say it."""

    about: ClassVar = {"in_the_future": "said"}

    said = forms.CharField(
        label=_("Born, as they say it"),
        max_length=40,
        required=False,
        help_text=_("A day, a month or a year: 2/4/2016, 04/2016, 2016."),
    )
    met_as_adult = forms.BooleanField(
        label=_("One of us has met them, and they are of age"), required=False
    )
    interval: Interval | None = None

    def clean_said(self) -> str:
        said: str = self.cleaned_data["said"]
        if not said.strip():
            return ""
        try:
            self.interval = parse_said(said, today())
        except FutureDayError:
            raise ValidationError(REFUSED["in_the_future"], code="in_the_future") from None
        if self.interval is None:
            raise ValidationError(_("This cannot be read as a day, a month or a year."))
        return said

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if not self.errors and not data.get("said") and not data.get("met_as_adult"):
            self.add_error("said", _("Say when they were born, or that they were met."))
        return data

    @property
    def birth(self) -> dict[str, Any]:
        """What `actions.note_birth` takes."""
        return {
            "earliest": self.interval and self.interval.earliest,
            "latest": self.interval and self.interval.latest,
            "said": self.cleaned_data["said"],
            "met_as_adult": self.cleaned_data["met_as_adult"],
        }


class LevelForm(PersonForm):
    """How much being shown may harm: the higher of two views counts."""

    theirs = forms.ChoiceField(
        label=_("Their view"),
        choices=[*LEVELS.items(), ("", _("Not said"))],
        required=False,
        widget=forms.RadioSelect,
    )
    ours = forms.ChoiceField(
        label=_("Ours"), choices=list(LEVELS.items()), widget=forms.RadioSelect
    )
    next_look_on = DayField(label=_("Look again on"), required=False)

    @property
    def level(self) -> str:
        """The level that counts; their view unsaid counts as raised."""
        theirs = self.cleaned_data["theirs"]
        return rules.higher(Risk(theirs) if theirs else None, Risk(self.cleaned_data["ours"]))


class ConditionForm(PersonForm):
    """Whether somebody can answer; never why."""

    about: ClassVar = {"no_day": "condition_on", "in_the_future": "condition_on"}

    condition = forms.ChoiceField(
        label=_("They"), choices=list(CONDITIONS.items()), widget=forms.RadioSelect
    )
    condition_on = DayField(
        label=_("Since"), required=False, help_text=_("The day only, never the cause.")
    )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("condition") not in (None, Condition.WELL) and not data.get("condition_on"):
            self.add_error("condition_on", REFUSED["no_day"])
        return data


class SpeakerForm(PersonForm):
    """Who answers for somebody when they cannot."""

    about: ClassVar = {"by_themselves": "speaker", "nobody_named": "name"}

    speaker = CodeField(label=_("Code, where it is one of those we know"), required=False)
    name = NameField(label=_("Or the name"), required=False)
    way = forms.CharField(label=_("How to reach them"), max_length=120, required=False)
    is_next_of_kin = forms.BooleanField(
        label=_("Next of kin, not named by the person"), required=False
    )
    named_on = PastDayField(label=_("Named on"), initial=today)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        data["speaker"] = self.somebody("speaker")
        return data
