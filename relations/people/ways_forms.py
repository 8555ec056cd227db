"""What may be typed about how somebody may be rung: what to do, never why."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import HourField, TicksField, YesNoField
from relations.languages.sorting import by_name
from relations.languages.templatetags.words import reader_locale
from relations.privacy.words import CALENDARS

from .forms import NoteLine, PersonForm
from .known_forms import Choices
from .models import Participant
from .words import OTHER_LANGUAGES

# The languages people here speak; others are added when somebody speaks them.
SPOKEN = ("fr", "ar", "es", "pt", "bn", "ne", "en", "de", "it", "fa", "ps", "so", "ti", "tr", "uk",
          "ur", "wo", "zh")  # fmt: skip
# What "asked, and none named" stands for (job.md F1).
HOURS_UNKNOWN = [["10:00", "12:00"], ["14:00", "19:00"]]
# As date.weekday() counts.
WEEKDAYS = (
    ("0", _("Monday")),
    ("1", _("Tuesday")),
    ("2", _("Wednesday")),
    ("3", _("Thursday")),
    ("4", _("Friday")),
    ("5", _("Saturday")),
    ("6", _("Sunday")),
)


def languages() -> Choices:
    names = reader_locale().languages
    known: Choices = [(tag, names.get(tag, tag)) for tag in SPOKEN]
    return [("", "–"), *by_name(known, lambda pair: pair[1]), *OTHER_LANGUAGES.items()]


class WaysForm(PersonForm):
    """How and when somebody may be rung: what to do, never why."""

    first = forms.ChoiceField(label=_("Language"), required=False)
    second = forms.ChoiceField(label=_("Another language"), required=False)
    calendar = forms.ChoiceField(
        label=_("Their calendar"),
        choices=[("", _("That of their language")), *CALENDARS.items()],
        required=False,
        help_text=_("It stands in brackets beside the days on their papers and on their page."),
    )
    reads = YesNoField(label=_("Do they read?"))
    begin = HourField(label=_("Safe from"), required=False)
    end = HourField(label=_("Safe until"), required=False)
    hours_unknown = forms.BooleanField(
        label=_("Asked, and no hours named: 10:00 to 12:00 and 14:00 to 19:00"), required=False
    )
    safe_days = TicksField(
        label=_("Safe days"), choices=WEEKDAYS, help_text=_("None ticked: any day.")
    )
    text_only = forms.BooleanField(label=_("Never ring, write only"), required=False)
    instruction = NoteLine(label=_("What to do"), help_text=_("One line of 140 signs at most."))
    may_say = NoteLine(label=_("What may be said"))

    def __init__(self, *args: Any, person: Participant, **kwargs: Any) -> None:
        spoken = [*person.language_list, "", ""]
        self.kept = person.safe_hours
        no_hours = not self.kept or self.kept == HOURS_UNKNOWN
        hours = ("", "") if no_hours else self.kept[0]
        kwargs["initial"] = {
            "first": spoken[0],
            "second": spoken[1],
            "calendar": person.calendar,
            "reads": {True: "yes", False: "no", None: "not_said"}[person.reads],
            "begin": hours[0],
            "end": hours[1],
            "hours_unknown": self.kept == HOURS_UNKNOWN,
            "safe_days": [str(day) for day in person.safe_days],
            "text_only": person.text_only,
            "instruction": person.instruction,
            "may_say": person.may_say,
        }
        super().__init__(*args, **kwargs)
        for name in ("first", "second"):
            self.fields[name].choices = languages()  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        begin, end = data.get("begin"), data.get("end")
        if bool(begin) != bool(end):
            self.add_error("end" if begin else "begin", _("Say from when until when."))
        elif begin and end and end <= begin:
            self.add_error("end", _("This is not after the first hour."))
        return data

    @property
    def ways(self) -> dict[str, Any]:
        """What `actions.note_ways` takes."""
        data = self.cleaned_data
        hours = HOURS_UNKNOWN if data["hours_unknown"] else []
        if data["begin"]:
            hours = [[f"{data['begin']:%H:%M}", f"{data['end']:%H:%M}"]]
            # Further hours of the day are not on this page: they stay while the first do.
            hours = self.kept if self.kept[:1] == hours else hours
        kept = ("calendar", "reads", "text_only", "instruction", "may_say")
        return {
            "languages": " ".join(dict.fromkeys(filter(None, (data["first"], data["second"])))),
            "safe_hours": hours,
            "safe_days": [int(day) for day in data["safe_days"]],
            **{name: data[name] for name in kept},
        }
