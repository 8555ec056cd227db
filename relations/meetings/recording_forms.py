"""What may be typed about interviews and recordings."""

from datetime import datetime
from typing import Any, ClassVar

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, DayField, HourField, YesNoField
from relations.people.forms import PastDayField

from .forms import MeetingForm
from .words import RECORDING_PRESSES


class InterviewForm(MeetingForm):
    """A talk that may be quoted from; no word of it is kept here."""

    held_on = PastDayField(label=_("Day of the talk"))
    may_record = YesNoField(
        label=_("Do they say that it may be recorded?"),
        required=True,
        help_text=_("Asked before, and again on the recording. Not said is no."),
    )
    is_heavy = forms.BooleanField(
        label=_("Ring them within 7 days: how are you?"),
        required=False,
        initial=True,
        help_text=_("After a heavy talk always. Take the list of local help along."),
    )

    @property
    def held(self) -> dict[str, Any]:
        """What `actions.add_interview` takes; not said is no."""
        given = self.typed_in("held_on", "is_heavy")
        return {**given, "may_record": self.cleaned_data["may_record"] is True}


class RecordingForm(MeetingForm):
    """A recording under a code of its own, and until when it may lie anywhere."""

    about: ClassVar = {"code_taken": "code", "backwards": "destroy_on"}
    press = _("Keep the code")

    code = CodeField(
        label=_("Code of the recording"),
        max_length=12,
        help_text=_("On the sealed card or envelope stands this code and nothing else."),
    )
    made_on = PastDayField(label=_("Made on"))
    made_hour = HourField(label=_("At"))
    is_on_a_phone = forms.BooleanField(
        label=_("It lies on a phone now"),
        required=False,
        help_text=_("It leaves the phone within 24 hours."),
    )
    destroy_on = DayField(
        label=_("They want it destroyed on"),
        required=False,
        help_text=_("Left empty: twelve months after the transcript."),
    )

    @property
    def made(self) -> dict[str, Any]:
        """What `actions.add_recording` takes."""
        data = self.cleaned_data
        at = timezone.make_aware(datetime.combine(data["made_on"], data["made_hour"]))
        return {
            **self.typed_in("code", "destroy_on"),
            "on": data["made_on"],
            "made_at": at if data["is_on_a_phone"] else None,
        }


class HowAreYouForm(MeetingForm):
    """The day on which they were asked how they are."""

    about: ClassVar = {"not_yet": "asked_on", "done_before": "asked_on"}

    asked_on = PastDayField(label=_("Spoken with on"))


class RecordingPressForm(MeetingForm):
    """One press that moves a recording on."""

    to = forms.ChoiceField(label="", choices=list(RECORDING_PRESSES.items()))


class LastDayForm(MeetingForm):
    """The day they chose for the end of a recording."""

    about: ClassVar = {"backwards": "destroy_on", "done_before": "destroy_on"}

    destroy_on = DayField(label=_("They want it destroyed on"))
