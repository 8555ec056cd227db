"""What may be typed when the situation changed, and when somebody has looked."""

import re
from datetime import timedelta
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import DayField
from relations.languages.name_forms import ByNameField
from relations.people.forms import NoteLine
from relations.people.models import Community
from relations.privacy.holds import HOLD_DAYS
from relations.privacy.home import today

from .forms import CountriesField, UsesForm


class SituationForm(UsesForm):
    """Who is looked at again before any use: a group, a place, some people, or all three."""

    about: ClassVar = {"look_within_14_days": "next_look_on"}
    press = _("Look again before any use")
    community = ByNameField(
        Community.objects, label=_("Group"), required=False, empty_label=_("None")
    )
    countries = CountriesField(
        label=_("Where"),
        help_text=_("Two letters each, such as FR BE: all who are shown or planned there."),
    )
    codes = forms.CharField(
        label=_("Codes of people"),
        required=False,
        max_length=200,
        help_text=_("With spaces between them."),
    )
    next_look_on = DayField(label=_("Look again on"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["next_look_on"].initial = today() + timedelta(days=HOLD_DAYS)

    @property
    def whom(self) -> dict[str, Any]:
        """What `situations.whom` takes."""
        codes = re.split(r"[\s,;،؛]+", self.cleaned_data["codes"].upper().strip())
        return {
            "community": self.cleaned_data["community"],
            "countries": self.cleaned_data["countries"] or (),
            "codes": [code for code in codes if code],
        }


class LookedForm(UsesForm):
    """The sentence without which no hold is lifted."""

    about: ClassVar = {"no_sentence": "sentence"}
    press = _("Lift for all of them")
    sentence = NoteLine(label=_("What was found"), required=True)
