"""What may be typed on the pages of sittings: who sat, the film, somebody more."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, TicksField
from relations.languages.said import figures
from relations.meetings.models import Trip
from relations.meetings.queries import trip_on, trips
from relations.people.forms import PastDayField
from relations.people.models import Participant
from relations.privacy.home import today
from relations.privacy.models import User

from . import queries
from .forms import PictureRoomForm
from .models import Sitting
from .values import SheetState
from .words import LIGHTS, SHEETS


def who_else() -> forms.CharField:
    """The line for the codes of those who sit besides."""
    return forms.CharField(
        label=_("Who else sits, by code"),
        required=False,
        max_length=120,
        help_text=_("Several codes with a space between."),
        widget=forms.TextInput(attrs={"dir": "ltr", "autocomplete": "off"}),
    )


class SitForm(PictureRoomForm):
    """A sitting: who, when, which light, how many sheets in which holders."""

    about: ClassVar = {
        "code_taken": "code",
        "too_many_holders": "holders",
        "no_sheet_exposed": "sheets",
    }

    code = CodeField(label=_("Code of the sitting"), max_length=12)
    on = PastDayField(label=_("Day"), initial=today)
    also = who_else()
    trip = forms.ModelChoiceField(Trip.objects.none(), label=_("Trip"), required=False)
    minutes = forms.IntegerField(label=_("Minutes"), required=False, min_value=1, max_value=600)
    light = forms.ChoiceField(
        label=_("Light"), choices=list(LIGHTS.items()), widget=forms.RadioSelect
    )
    sheets = forms.IntegerField(label=_("Sheets exposed"), min_value=0, max_value=60)
    holders = forms.CharField(
        label=_("Holders"),
        required=False,
        max_length=200,
        help_text=_("Their numbers with a space between; two sheets share one."),
        widget=forms.TextInput(attrs={"dir": "ltr", "autocomplete": "off"}),
    )

    def __init__(self, *args: Any, user: User, person: Participant, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user, self.person = user, person
        trip = trip_on(today())
        self.fields["trip"].queryset = trips()  # type: ignore[attr-defined]
        self.fields["trip"].initial = trip
        self.fields["light"].initial = next(iter(LIGHTS))
        self.fields["code"].initial = queries.next_sitting_code(person, trip.code if trip else "")

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if "also" in data:
            data["sitters"] = [self.person, *self.known(self.user, "also")]
        holders = str(data.get("holders", "")).split()
        if any(len(holder) > 6 for holder in holders):
            self.add_error("holders", _("A holder has six signs at most."))
        data["holders"] = holders
        return data

    @property
    def sat(self) -> dict[str, Any]:
        """What `actions.sit` takes."""
        names = ("code", "on", "trip", "minutes", "light", "sheets", "holders", "sitters")
        return self.typed_in(*names)


class JoinForm(PictureRoomForm):
    """Somebody more stepped in."""

    press = _("Somebody more")
    code = CodeField(label=_("Code of who stepped in"))

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("code"):
            found = self.known(self.user, "code")
            data["person"] = found[0] if found else None
        return data


class SheetsForm(PictureRoomForm):
    """What became of the film."""

    about: ClassVar = {"no_such_sheet": "numbers"}
    numbers = TicksField(label=_("Sheets"), required=True)
    state = forms.ChoiceField(
        label=_("They are"),
        choices=[(state, SHEETS[state]) for state in (SheetState.PROCESSED, SheetState.LOST)],
        widget=forms.RadioSelect,
    )

    def __init__(self, *args: Any, sitting: Sitting, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["numbers"].choices = [  # type: ignore[attr-defined]
            (str(sheet.number), str(figures(sheet.number))) for sheet in queries.sheets(sitting)
        ]

    @property
    def ticked(self) -> list[int]:
        """The numbers of the sheets."""
        return [int(number) for number in self.cleaned_data["numbers"]]
