"""What may be typed on the pages of meetings, trips and helpers."""

from datetime import datetime
from operator import itemgetter
from typing import Any, ClassVar

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.languages.forms import (
    DASHES,
    CodeField,
    DayField,
    HourField,
    NameField,
    TicksField,
    YesNoField,
)
from relations.languages.naming import initials, letters
from relations.people.forms import NoteLine, PastDayField, PersonForm
from relations.privacy.home import today

from . import known_helpers, queries
from .models import Helper, HelperKind, Trip
from .words import ALL_PRESSES, ENDED, EXPLAINED, HELPERS, REFUSED, TIES, TOLD_BACK

MOST_INITIALS = 6


class MeetingForm(PersonForm):
    """A form of this room: what its actions refuse is said in this room's words."""

    refusals: ClassVar = REFUSED


class PressForm(MeetingForm):
    """One press that moves a meeting on."""

    to = forms.ChoiceField(label="", choices=list(ALL_PRESSES.items()))


class FixForm(MeetingForm):
    """A meeting at the place and hour that they chose."""

    about: ClassVar = {
        "no_place": "place",
        "place": "place_is_theirs",
        "exit_signal": "exit_signal",
        "fallback": "fallback",
    }
    press = _("Fix")

    day = DayField(label=_("Day"))
    hour = HourField(label=_("Hour"))
    place = NoteLine(label=_("Where, in words for us only"), required=True)
    place_is_theirs = forms.BooleanField(label=_("They chose the place"), required=False)
    exit_signal = NoteLine(
        label=_("The sign to leave"),
        required=True,
        help_text=_("A word or a gesture by which either of you ends it."),
    )
    fallback = NoteLine(
        label=_("If it cannot be there or then"),
        help_text=_("The other place they chose. With a day and an hour it is one press later."),
    )
    fallback_day = DayField(label=_("The other day"), required=False)
    fallback_hour = HourField(label=_("The other hour"), required=False)
    company = NoteLine(label=_("Who will be there"))
    with_camera = forms.BooleanField(label=_("With the camera"), required=False)
    trip = forms.ModelChoiceField(Trip.objects.none(), label=_("Trip"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["trip"].queryset = queries.trips()  # type: ignore[attr-defined]
        self.fields["trip"].initial = queries.trip_on(today())

    def clean_day(self) -> Any:
        day = self.cleaned_data["day"]
        if day < today():
            raise forms.ValidationError(str(REFUSED["day_is_past"]))
        return day

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if bool(data.get("fallback_day")) != bool(data.get("fallback_hour")):
            name = "fallback_hour" if data.get("fallback_day") else "fallback_day"
            self.add_error(name, _("Give the other day and hour together, or neither."))
        return data

    @property
    def agreed(self) -> dict[str, Any]:
        """What `actions.fix` takes."""
        data = self.cleaned_data
        names = ("place", "place_is_theirs", "exit_signal", "fallback", "company")
        at = timezone.make_aware(datetime.combine(data["day"], data["hour"]))
        other = None
        if data["fallback_day"]:
            other = timezone.make_aware(
                datetime.combine(data["fallback_day"], data["fallback_hour"])
            )
        return {"at": at, "fallback_at": other, **self.typed_in(*names, "with_camera", "trip")}


class WriteUpForm(MeetingForm):
    """What was explained, what they told back, and who was there."""

    about: ClassVar = {
        "who_was_there": "power_present",
        "why_late": "late_why",
        "why": "ended_why",
        "no_such_tick": "explained",
    }
    press = _("Write up")

    power_present = YesNoField(
        label=_("Was somebody there who has power over them?"),
        required=True,
        help_text=_("An employer, a chief, kin who decide, a team leader. Then it does not count."),
    )
    ended_why = forms.ChoiceField(
        label=_("Was it cut short?"),
        required=False,
        choices=list(ENDED.items()),
        widget=forms.RadioSelect,
    )
    explained = TicksField(label=_("Explained"), choices=list(EXPLAINED.items()))
    told_back = TicksField(
        label=_("They told back, in their own words"),
        choices=list(TOLD_BACK.items()),
        help_text=_("The form is offered only when all four are told back."),
    )
    wants_time = forms.BooleanField(label=_("They want time before a sitting"), required=False)
    late_why = NoteLine(
        label=_("Why it is written up late"), help_text=_("Only after 48 hours, one sentence.")
    )

    @property
    def written(self) -> dict[str, Any]:
        """What `actions.write_up` takes."""
        names = ("power_present", "ended_why", "explained", "told_back", "wants_time", "late_why")
        return self.typed_in(*names)


class ChosenForm(MeetingForm):
    """Who interprets and who witnesses at a meeting, and what each is to the person."""

    about: ClassVar = {"not_an_interpreter": "interpreter", "not_a_witness": "witness"}

    interpreter = forms.ModelChoiceField(
        Helper.objects.none(),
        label=_("Interpreter"),
        required=False,
        empty_label=_("Nobody"),
        help_text=_("Not kin, not an employer, not whoever told us of them, not the witness."),
    )
    interpreter_ties = TicksField(
        label=_("What the interpreter is to them besides"), choices=list(TIES.items())
    )
    of_own_group = forms.BooleanField(
        label=_("The interpreter is of their own group"), required=False
    )
    own_group_agreed = forms.BooleanField(
        label=_("They say themselves that this is well"), required=False
    )
    witness = forms.ModelChoiceField(
        Helper.objects.none(),
        label=_("Witness"),
        required=False,
        empty_label=_("Nobody"),
        help_text=_("Where they cannot read or sign. Reads their language, stays to the end."),
    )
    witness_ties = TicksField(
        label=_("What the witness is to them besides"), choices=list(TIES.items())
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["interpreter"].queryset = known_helpers.interpreters()  # type: ignore[attr-defined]
        self.fields["witness"].queryset = known_helpers.witnesses()  # type: ignore[attr-defined]

    @property
    def chosen(self) -> dict[str, Any]:
        """What `actions.choose_helpers` takes."""
        ties = ("interpreter_ties", "witness_ties", "of_own_group", "own_group_agreed")
        return self.typed_in("interpreter", "witness", *ties)


class TripForm(MeetingForm):
    """One stay of the artist at the place."""

    about: ClassVar = {"code_taken": "code", "backwards": "last_day"}

    code = CodeField(label=_("Code"), max_length=8)
    first_day = DayField(label=_("First day"))
    last_day = DayField(label=_("Last day"))
    currency = CodeField(
        label=_("Money"), max_length=3, required=False, help_text=_("Three letters, as EUR.")
    )
    print_budget = forms.DecimalField(
        label=_("Sum for prints"), required=False, min_value=0, max_digits=9, decimal_places=2
    )

    @property
    def opened(self) -> dict[str, Any]:
        """What `actions.open_trip` takes."""
        return self.typed_in("code", "first_day", "last_day", "currency", "print_budget")


class DegreesField(forms.DecimalField):
    """Degrees with a point or a comma; a line before them is south or west."""

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"dir": "ltr", "autocomplete": "off", "class": "short"}
        super().__init__(widget=forms.TextInput(attrs=attrs), **kwargs)

    def to_python(self, value: Any) -> Any:
        text = value.translate(DASHES) if isinstance(value, str) else value
        return super().to_python(text.replace(",", ".") if isinstance(text, str) else text)


class PlaceForm(MeetingForm):
    """A coarse place for the light: two numbers, of which a tenth of a degree is kept."""

    about: ClassVar = {"not_on_earth": "latitude"}
    press = _("Work out the light")

    latitude = DegreesField(label=_("Latitude, north"), help_text=_("As 43.3; south is -43.3."))
    longitude = DegreesField(label=_("Longitude, east"), help_text=_("As 5.4; west is -5.4."))


class HelperForm(MeetingForm):
    """Somebody who interprets or witnesses."""

    kind = forms.ChoiceField(
        label=pgettext_lazy("who helps", "They"),
        choices=[(kind, HELPERS[kind]) for kind in HelperKind],
        widget=forms.RadioSelect,
    )
    initials = NameField(
        label=_("Initials"),
        max_length=40,
        required=False,
        help_text=_("On paper they are known by these only."),
    )
    name = NameField(
        label=_("Name"),
        required=False,
        help_text=_("Initials that are left empty are made from it."),
    )
    languages = forms.CharField(
        label=_("Languages"), max_length=40, required=False, help_text=_("As tags: fr ar bn")
    )
    promise_signed_on = PastDayField(label=_("Promise signed on"), required=False)

    def clean_initials(self) -> str:
        """Six letters at most, counted as a reader of their script does."""
        typed: str = self.cleaned_data["initials"]
        if sum(letter.isalnum() for letter in map(itemgetter(0), letters(typed))) > MOST_INITIALS:
            raise forms.ValidationError(_("These are too many letters for initials."), code="long")
        return typed

    def clean(self) -> dict[str, Any]:
        """Initials that were left empty are those of the name, in its own script."""
        said: dict[str, Any] = super().clean() or self.cleaned_data
        if said.get("initials") == "" and not self.errors.get("name"):
            said["initials"] = initials(said.get("name", ""))
            if not said["initials"]:
                required = self.fields["initials"].error_messages["required"]
                self.add_error("initials", required)
        return said

    @property
    def helper_given(self) -> dict[str, Any]:
        """What `actions.add_helper` takes."""
        return self.typed_in("kind", "initials", "name", "languages", "promise_signed_on")
