"""One press that says how the project ends for a person, or for all who stand alike."""

from uuid import UUID, uuid5

from django import forms

from relations.people.words import STANDINGS

from .handing_forms import PathForm
from .values import PersonEnding
from .words import PERSON_ENDED


class EndForForm(PathForm):
    """How it ends for one person."""

    how = forms.ChoiceField(
        label="", choices=[(one.value, PERSON_ENDED[one]) for one in PersonEnding]
    )


class EndAlikeForm(EndForForm):
    """The same for all who stand there and sat, or did not."""

    standing = forms.ChoiceField(label="", choices=list(STANDINGS.items()))
    has_sat = forms.BooleanField(required=False)

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        said = self.cleaned_data
        return uuid5(super().token, f"{said['standing']} {said['has_sat']}")
