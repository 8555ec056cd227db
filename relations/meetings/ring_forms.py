"""What is pressed or typed on the ring card and the small pages behind it."""

from datetime import date, datetime
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.languages.forms import DayField, HourField
from relations.languages.said import figures
from relations.languages.templatetags.words import day
from relations.people.models import Participant
from relations.privacy.home import today
from relations.privacy.refused import Refused

from . import queries
from .forms import MeetingForm
from .models import CallKind
from .values import Outcome
from .words import OUTCOMES, REFUSED

# One press each on the card; "ring later" asks for an hour and "never again" asks once more.
ONE_PRESS = [code for code in OUTCOMES if code not in {Outcome.RING_LATER, Outcome.NEVER_AGAIN}]


class AboutARing(MeetingForm):
    """A form about a ring to one person: on which of their lines, and who rang."""

    seen = forms.CharField(required=False, widget=forms.HiddenInput, max_length=36)
    by_them = forms.BooleanField(label=_("They rang us"), required=False)
    line = forms.ChoiceField(label=_("On which number?"), required=False)

    def __init__(self, *args: Any, person: Participant, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person
        self.fields["seen"].initial = queries.last_noted(person)
        self.lines = {str(line.pk): line for line in queries.open_lines(person)}
        if len(self.lines) < 2:
            del self.fields["line"]
        else:
            numbered = enumerate(self.lines, start=1)
            self.fields["line"].choices = [  # type: ignore[attr-defined]
                ("", _("Not said")),
                *(
                    (key, _("Number %(place)s") % {"place": figures(place)})
                    for place, key in numbered
                ),
            ]

    def words(self, code: str) -> Any:
        """A rest is said with its last day."""
        until = queries.rest_until(self.person, today()) if code == "rest" else None
        return (
            _("Let them rest until %(day)s.") % {"day": day(until)}
            if until
            else super().words(code)
        )

    def refuse_old_page(self) -> None:
        """Refuse what was pressed on a page that does not show the ring noted last."""
        if "seen" in self.data:
            queries.refuse_old_page(self.person, self.cleaned_data["seen"])

    def refuse(self, refused: Refused) -> None:
        """Say why, and show the page as from what is noted by now, with all as typed."""
        super().refuse(refused)
        now_seen = {"seen": queries.last_noted(self.person)}
        self.data = {**{name: self.data[name] for name in self.data}, **now_seen}

    @property
    def ring(self) -> dict[str, Any]:
        """What `actions.note_call` takes of the ring itself; the only line is the one rung."""
        only = next(iter(self.lines)) if len(self.lines) == 1 else ""
        line = self.lines.get(self.cleaned_data.get("line") or only)
        by_them = self.cleaned_data["by_them"]
        written = self.person.text_only and not by_them
        kind = CallKind.MESSAGE if written else CallKind.RING
        return {"by_them": by_them, "line": line, "kind": kind}


class RingForm(AboutARing):
    """The ring card: one press says what came of it."""

    outcome = forms.ChoiceField(label="", choices=[(code, OUTCOMES[code]) for code in ONE_PRESS])


class LaterForm(AboutARing):
    """The day and hour they named."""

    about: ClassVar = {"no_day": "day", "day_is_past": "day"}
    press = _("Ring later")
    day = DayField(label=_("Day they named"))
    hour = HourField(label=_("Hour they named"), required=False)
    field_order = ("day", "hour")

    @property
    def asked_for(self) -> dict[str, Any]:
        """What `actions.note_call` takes of the day or the hour they named."""
        day, hour = self.cleaned_data["day"], self.cleaned_data["hour"]
        if hour is None:
            return {"asked_for_on": day}
        zone = queries.zone_of(self.lines.values())
        return {"asked_for_at": datetime.combine(day, hour, zone)}


class ThinkingForm(AboutARing):
    """The day on which they want to be reminded, once."""

    about: ClassVar = {"day_is_past": "day"}
    press = _("Remind them once")
    outcome = forms.ChoiceField(
        label=pgettext_lazy("what they said", "They"),
        choices=[(code, OUTCOMES[code]) for code in (Outcome.THINKING, Outcome.WANTS_PICTURES)],
        widget=forms.RadioSelect,
        initial=Outcome.THINKING,
    )
    day = DayField(label=_("Day they named"))
    field_order = ("outcome", "day")


class NeverForm(AboutARing):
    """Asks once before a number is marked for ever."""

    press = _("Never ring again")
    look = "stopbtn"


class PlanForm(MeetingForm):
    """The day of a ring."""

    about: ClassVar = {"day_is_past": "due_on"}
    press = _("Plan the ring")
    due_on = DayField(label=_("Not before"), initial=today)

    def clean_due_on(self) -> date:
        day: date = self.cleaned_data["due_on"]
        if day < today():
            raise forms.ValidationError(str(REFUSED["day_is_past"]))
        return day
