"""Which report in numbers is printed: that of the last fixed day, or an earlier one."""

from typing import ClassVar
from uuid import UUID, uuid5

from django import forms

from .forms import RightsForm
from .words import REFUSED


class CountsForm(RightsForm):
    """One press beside each report."""

    as_of = forms.DateField(
        widget=forms.HiddenInput, error_messages={"invalid": REFUSED["no_report"]}
    )
    about: ClassVar = {"no_report": "as_of"}

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        return uuid5(super().token, self.data["as_of"])
