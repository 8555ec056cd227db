"""What is chosen where something is made to be shown: a kind of file, a line or a group."""

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import BesideForm
from relations.privacy.answering import ActionForm

from .sharing import Part

FILES = {"pdf": _("PDF, to be printed"), "svg": _("SVG, to be set in a book or on a wall")}


class ShareForm(ActionForm, BesideForm):
    """Which kind of file the share drawing is made as."""

    press = _("Make the share drawing")
    file = forms.ChoiceField(
        label=_("As a file"), choices=list(FILES.items()), widget=forms.RadioSelect
    )


class MapForm(ActionForm, BesideForm):
    """One line or one group for one trusted person."""

    press = _("Make the map")
    look = ""
    prefix = "map"
    part = forms.ChoiceField(label=_("One line or one group"), choices=())

    def __init__(self, *args: Any, parts: Sequence[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["part"].choices = parts  # type: ignore[attr-defined]

    @property
    def cut(self) -> Part:
        """Whether it is a line or a group."""
        return Part(self.cleaned_data["part"].partition(":")[0])

    @property
    def of(self) -> str:
        """The code of the beginning of the line, or the key of the group."""
        return str(self.cleaned_data["part"].partition(":")[2])
