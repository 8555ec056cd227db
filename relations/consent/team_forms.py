"""What is chosen before a sheet for the team is printed: its two languages, and who else sits."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.people.access import somebody
from relations.people.models import Participant
from relations.pictures.sitting_forms import who_else

from .sheet_forms import PaperForm


class TeamSheetForm(PaperForm):
    """The two languages of a sheet: one that `theirs` names first, the reader's own beside it."""

    press = _("Print the sheet")

    def __init__(self, *args: Any, theirs: Sequence[str] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        keys = {wording.language: key for key, wording in self.wordings.items()}
        first = next((keys[language] for language in theirs if language in keys), None)
        own = next((keys[one] for one in (self.user.language, "en", *keys) if one in keys), None)
        self.fields["first"].initial = first
        self.fields["second"].initial = None if own == first else own


class SittingSheetForm(TeamSheetForm):
    """The same, with whoever else is to sit."""

    field_order = ("also", "first", "second")

    also = who_else()

    def clean_also(self) -> list[Participant]:
        """Those whose codes were typed, each in sight; the first unknown code is the error."""
        found = [somebody(self.user, code) for code in self.cleaned_data["also"].split()]
        people = [person for person in found if person is not None]
        if len(people) != len(found):
            raise forms.ValidationError(_("Look at these codes again."))
        return people
