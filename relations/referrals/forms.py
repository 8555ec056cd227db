"""What may be typed above the links to seal first: how much one record may show."""

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import PlainForm

MOST = 999


class GoalForm(PlainForm):
    """No record may show more people than this within two steps."""

    method = "get"
    press = _("Which links first?")
    within = forms.IntegerField(
        label=_("At most so many people within two steps of anybody"), min_value=0, max_value=MOST
    )

    @property
    def goal(self) -> int | None:
        """What was typed; None where nothing was, or nothing that can be read."""
        return self.cleaned_data["within"] if self.is_bound and self.is_valid() else None
