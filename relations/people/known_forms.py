"""What may be typed about somebody we know of: numbers, names, birth, risk, who speaks."""

from collections.abc import Sequence
from datetime import date
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from relations.languages.calendars import Interval
from relations.languages.day_fields import CONFIRM, DayInput, Understood, read, settled
from relations.languages.direction import isolated
from relations.languages.forms import CodeField, DayField, NameField
from relations.languages.paper_days import year_said
from relations.languages.reading_days import Reading
from relations.languages.said import aged
from relations.languages.templatetags.words import day, reader_locale
from relations.privacy.home import today

from . import births, rules
from .forms import NoteLine, PastDayField, PerhapsField, PersonForm
from .models import NameKind, Participant
from .values import Condition, Risk
from .words import CONDITIONS, KINDS_OF_NAME, LEVELS, REFUSED

SCRIPTS = (
    *("Latn", "Arab", "Beng", "Deva", "Cyrl", "Grek", "Hebr", "Ethi", "Hans"),
    *("Hang", "Taml", "Thai", "Mymr", "Tibt", "Geor", "Armn"),
)
Choices = list[tuple[str, Any]]


def script_choices() -> Choices:
    """The scripts a name may be written in, in the words of the reader."""
    names = reader_locale().scripts
    return [("", "–"), *((code, names.get(code, code)) for code in SCRIPTS)]


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


def _past(text: str) -> tuple[Reading, ...]:
    return births.past(read(text), today())


class BirthInput(DayInput):
    """A line of text for a day, a month, a year or an age."""

    is_day = False

    def __init__(self) -> None:
        super().__init__()
        self.fits = _past
        # Set by the form: the days and the words that were understood of an age.
        self.of_age: tuple[Interval, str] | None = None

    def understood(self, value: Any) -> Understood:
        if self.of_age is None:
            return super().understood(value)
        days, said = self.of_age
        return Understood(_between(days), said)


def _between(days: Interval) -> str:
    """What says that this reading of an age was confirmed; of another age or day it differs."""
    return f"{days.earliest}/{days.latest}"


def in_words(age: births.Age, on: date, days: Interval) -> str:
    """What was understood of an age said on a day: the years, the day and when they were born."""
    return gettext("Understood: age %(age)s on %(day)s; born between %(first)s and %(last)s") % {
        "age": isolated(aged(*age), "ltr"),
        "day": day(on),
        "first": day(days.earliest),
        "last": day(days.latest),
    }


class BornForm(PersonForm):
    """When somebody was born, as they say it: in any calendar, or as an age."""

    about: ClassVar = {"in_the_future": "said"}

    said = forms.CharField(
        label=_("Born, as they say it"),
        max_length=40,
        required=False,
        help_text=_(
            "A day, a month or a year of any calendar, or an age: 2/4/2016, 2065 BS, 17, about 18."
        ),
        widget=BirthInput,
    )
    said_on = PastDayField(label=_("Of an age: the day it was said"), initial=today, required=False)
    year_only = forms.BooleanField(
        label=_("Keep the year alone, where it says that they are of age"),
        required=False,
        initial=True,
    )
    met_as_adult = forms.BooleanField(
        label=_("One of us has met them, and they are of age"), required=False
    )
    reading: Reading | None = None
    age: births.Age | None = None

    def clean_said(self) -> str:
        said: str = self.cleaned_data["said"]
        if not said:
            return ""
        found = read(said)
        self.age = None if found else births.age_said(said)
        if not found and self.age is None:
            raise ValidationError(_("This cannot be read as a day, a month, a year or an age."))
        if found and not _past(said):
            raise ValidationError(REFUSED["in_the_future"], code="in_the_future")
        if found:
            self.reading = settled(self["said"].data, _past(said))
        return said

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        # Before the day on which it was said is known, an age says nothing.
        if self.age is not None and "said_on" not in self.errors:
            self._ask_back(self.age, data.get("said_on") or today())
        if not self.errors and not data.get("said") and not data.get("met_as_adult"):
            self.add_error("said", _("Say when they were born, or that they were met."))
        return data

    def _ask_back(self, age: births.Age, on: date) -> None:
        """Show what was understood of an age; it counts once it was sent again."""
        days = births.born_at(age, on)
        widget: Any = self.fields["said"].widget
        widget.of_age = days, in_words(age, on, days)
        if getattr(self["said"].data, "meant", "") != _between(days):
            self.add_error("said", ValidationError(CONFIRM, code="confirm"))

    @property
    def birth(self) -> dict[str, Any]:
        """What `actions.note_birth` takes."""
        interval, said = self._kept()
        return {
            "earliest": interval and interval.earliest,
            "latest": interval and interval.latest,
            "said": said,
            "met_as_adult": self.cleaned_data["met_as_adult"],
        }

    def _kept(self) -> tuple[Interval | None, str]:
        """The days between which it was, and the words that are kept beside them."""
        said: str = self.cleaned_data["said"]
        if self.age is not None:
            on = self.cleaned_data["said_on"] or today()
            return births.born_at(self.age, on), f"{said} ({on:%Y-%m-%d})"
        if self.reading is None:
            return None, said
        kept = self.reading
        if self.cleaned_data["year_only"]:
            kept = births.enough(kept, today())
        words = said if kept == self.reading else year_said(kept.calendar, kept.year)
        return births.widened(kept).until(today()), words


class SameForm(PersonForm):
    """Whom word has come of, where they are somebody known."""

    about: ClassVar = {"told_before": "perhaps", "by_themselves": "perhaps"}
    press = _("It is them")
    perhaps = PerhapsField()

    def __init__(self, *args: Any, found: Sequence[Participant], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.found = found
        self.fields["perhaps"].ask(found, may_be_new=False)  # type: ignore[attr-defined]

    @property
    def known(self) -> Participant:
        """The one who was chosen."""
        code = self.cleaned_data["perhaps"]
        return next(person for person in self.found if person.code == code)


class LevelForm(PersonForm):
    """How much being shown may harm: the higher of two views counts."""

    about: ClassVar = {"day_is_past": "next_look_on"}

    theirs = forms.ChoiceField(
        label=_("Their view"),
        choices=[*LEVELS.items(), ("", _("Not said"))],
        required=False,
        widget=forms.RadioSelect,
    )
    ours = forms.ChoiceField(
        label=_("Ours"), choices=list(LEVELS.items()), widget=forms.RadioSelect
    )
    instruction = NoteLine(
        label=_("What to do, and what not to do"),
        help_text=_("The only words of this talk that are kept. Never what the danger is."),
    )
    next_look_on = DayField(
        label=_("Look again on"),
        required=False,
        help_text=_("Left empty: in two years, in 180 days where raised, in 30 where grave."),
    )

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

    about: ClassVar = {
        "by_themselves": "speaker",
        "nobody_named": "name",
        "never_ring": "way",
    }

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
