"""What may be typed on the pages of a trip: days, whom to plan, the printer's hours, counts."""

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from relations.consent.countries import territories
from relations.consent.reading_forms import CountriesField
from relations.languages.forms import CodeField, Group, HourField, PlainForm, TicksField
from relations.languages.templatetags.words import day as in_words
from relations.meetings.models import Trip
from relations.people.access import somebody
from relations.people.models import Participant
from relations.privacy.answering import ActionForm
from relations.privacy.models import User

from . import rules
from .models import Day, Stay
from .values import COUNTS, Counted, How, Part
from .words import HOWS, REFUSED, THINGS

CENTS = 100
MOST = 100_000


class TripsForm(ActionForm, PlainForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSED


class DaysForm(TripsForm):
    """The days of a trip on which we work, those of a round, and where the trip goes."""

    press = _("Keep these days")
    about: ClassVar = {"outside_trip": "days", "round_without_day": "rounds"}

    days = TicksField(label=_("Days on which you work"))
    rounds = TicksField(
        label=_("Days on which prints go round"),
        help_text=_("For each of them a sheet to write on is in the pack."),
    )
    countries = CountriesField(
        label=_("Countries"),
        help_text=_("Two letters or the name, with commas between: FR, Italy."),
    )

    def __init__(self, *args: Any, trip: Trip, held: list[Day], stay: Stay, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        span = (trip.last_day - trip.first_day).days + 1
        every = [trip.first_day + timedelta(days=number) for number in range(span)]
        choices = [(day.isoformat(), in_words(day, "EEE d MMM y")) for day in every]
        for name in ("days", "rounds"):
            self.fields[name].choices = choices  # type: ignore[attr-defined]
        # A trip of which nothing was said yet is worked on every day.
        self.initial["days"] = [one.on.isoformat() for one in held] or [one for one, _ in choices]
        self.initial["rounds"] = [one.on.isoformat() for one in held if one.has_round]
        names = territories()
        self.initial["countries"] = ", ".join(names.get(one, one) for one in stay.countries)

    @property
    def said(self) -> dict[str, Any]:
        """What `actions.set_days` takes."""
        given = self.cleaned_data
        return {
            "days": [date.fromisoformat(one) for one in given["days"]],
            "rounds": [date.fromisoformat(one) for one in given["rounds"]],
            "countries": given["countries"] or [settings.RELATIONS_COUNTRY],
        }


class PlanForm(TripsForm):
    """Somebody to be met on a trip, before the camera or for a talk."""

    press = _("Plan them")
    about: ClassVar = {"nobody_here": "code", "on_hold": "code", "no_such_move": "code"}

    code = CodeField(label=_("Code"), help_text=_("A person’s code."))
    with_camera = forms.BooleanField(label=_("A sitting"), required=False, initial=True)
    others = forms.IntegerField(
        label=_("How many come along and answer too"),
        min_value=0,
        max_value=20,
        required=False,
        initial=0,
    )
    sheets = forms.IntegerField(
        label=_("Sheets of film"),
        min_value=0,
        max_value=60,
        required=False,
        initial=rules.SHEETS_A_SITTING,
        help_text=_("Only for a sitting."),
    )

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user

    def clean_code(self) -> Participant:
        """The person in sight with this code; absent and out of sight are the same error."""
        found = somebody(self.user, self.cleaned_data["code"])
        if found is None:
            raise forms.ValidationError(str(REFUSED["nobody_here"]))
        return found

    @property
    def said(self) -> dict[str, Any]:
        """What `actions.plan` takes."""
        given = self.cleaned_data
        sheets = given["sheets"]
        return {
            "person": given["code"],
            "with_camera": given["with_camera"],
            "others": given["others"] or 0,
            "sheets": rules.SHEETS_A_SITTING if sheets is None else sheets,
        }


class PrinterForm(PlainForm):
    """From when a printer prints, how fast, and when the power goes; nothing of it is kept."""

    method = "get"
    press = _("Does it fit?")

    begin = HourField(label=_("Printing begins at"))
    cut = HourField(label=_("The power goes at"))
    a_minute = forms.IntegerField(
        label=_("Pages a minute"), min_value=1, max_value=200, initial=rules.PAGES_A_MINUTE
    )


class PackForm(TripsForm):
    """The press that prints a pack, whole or the part on top."""

    part = forms.ChoiceField(label="", choices=[(part.value, part.value) for part in Part])

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        return uuid5(super().token, self.data["part"])


class PressForm(TripsForm):
    """One press, and nothing to type; `of` is the address that it was sent to."""

    def __init__(self, *args: Any, of: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.of = of

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        return uuid5(super().token, self.of)


class CountForm(TripsForm):
    """What was counted of film, prints, money and recordings; an empty line was not counted."""

    press = _("This is what I counted")

    def __init__(
        self,
        *args: Any,
        trip: Trip,
        held: Mapping[Counted, Mapping[How, int]],
        noted: Mapping[Counted, Mapping[How, int]],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        for thing, hows in COUNTS.items():
            for how in hows:
                self.fields[f"{thing}_{how}"] = self._field(thing, how, trip)
                known = held[thing].get(how, noted.get(thing, {}).get(how))
                is_money = known is not None and thing is Counted.MONEY
                shown = Decimal(known) / CENTS if known is not None and is_money else known
                self.initial[f"{thing}_{how}"] = shown

    def _field(self, thing: Counted, how: How, trip: Trip) -> forms.Field:
        if thing is not Counted.MONEY:
            return forms.IntegerField(label=HOWS[how], min_value=0, max_value=MOST, required=False)
        return forms.DecimalField(
            label=HOWS[how],
            min_value=0,
            max_value=MOST,
            decimal_places=2,
            required=False,
            help_text=trip.currency,
        )

    def groups(self) -> list[Group | str]:
        return [
            Group(THINGS[thing], *(f"{thing}_{how}" for how in hows))
            for thing, hows in COUNTS.items()
        ]

    @property
    def counts(self) -> dict[Counted, dict[How, int | None]]:
        """What `actions.count` takes: money in cents, an empty line as None."""
        found: dict[Counted, dict[How, int | None]] = {}
        for thing, hows in COUNTS.items():
            typed = {how: self.cleaned_data[f"{thing}_{how}"] for how in hows}
            if thing is Counted.MONEY:
                typed = {
                    how: None if said is None else int(said * CENTS) for how, said in typed.items()
                }
            found[thing] = typed
        return found
