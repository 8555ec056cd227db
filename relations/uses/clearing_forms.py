"""What is typed on the pages of clearance sheets: pictures, a link's last day, a pass phrase."""

from collections.abc import Iterable
from pathlib import Path
from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import BesideForm, DayField, PlainForm, TicksField
from relations.people.forms import NoteLine

from .clearing_pages import Candidate
from .forms import UsesForm
from .words import REFUSED

WRITTEN = "written"


def spoken() -> list[tuple[str, str]]:
    """The languages in which the site has words; a sheet in another would be in two at once."""
    folders = [Path(folder) for folder in settings.LOCALE_PATHS]
    return [
        (code, name)
        for code, name in settings.LANGUAGES
        if code == "en" or any((folder / code).is_dir() for folder in folders)
    ]


class SheetForm(UsesForm):
    """Which of the cleared pictures go on a sheet, and what is said of a condition of their own."""

    press = _("Weigh again and make the sheet")
    about: ClassVar = {**UsesForm.about, "not_cleared": "pictures", "nothing_cleared": "pictures"}
    pictures = TicksField(
        label=_("Pictures"), error_messages={"invalid_choice": REFUSED["not_cleared"]}
    )
    language = forms.ChoiceField(label=_("Language of the venue"), choices=spoken)

    def __init__(self, *args: Any, candidates: Iterable[Candidate], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        found = list(candidates)
        codes = [one.line.picture for one in found]
        self.asking = [one.line.picture for one in found if one.asks_words]
        pictures = self.fields["pictures"]
        pictures.choices, pictures.initial = [(code, code) for code in codes], codes  # type: ignore[attr-defined]
        for code in self.asking:
            self.fields[f"{WRITTEN}-{code}"] = NoteLine(
                label=_("%(code)s: what the venue is to keep to") % {"code": code},
                help_text=_("Their own condition in plain words: what to do, not why, no name."),
            )

    def clean(self) -> dict[str, Any]:
        """Say beside its field what is missing for a picture that is ticked."""
        said: dict[str, Any] = super().clean() or {}
        for code in self.asking:
            name = f"{WRITTEN}-{code}"
            if code in said.get("pictures", ()) and not said.get(name):
                self.add_error(name, REFUSED["instruction_missing"])
        return said

    @property
    def written(self) -> dict[str, str]:
        """What was typed, by picture."""
        return {code: self.cleaned_data[f"{WRITTEN}-{code}"] for code in self.asking}


class LinkForm(UsesForm, BesideForm):
    """A new link for one venue."""

    press = _("Make a link")
    about: ClassVar = {"link_day": "ends_on"}
    look = ""
    ends_on = DayField(label=_("The link ends after"))


class PressForm(UsesForm):
    """A press on the page of a sheet; all of them share its token, so each makes its own of it."""

    def __init__(self, *args: Any, path: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.path = path

    @property
    def token(self) -> UUID:
        return uuid5(super().token, self.path)


class PhraseForm(PlainForm):
    """The pass phrase of a link; whatever is wrong is said in the same words."""

    press = _("Open the sheet")
    phrase = forms.CharField(
        label=_("Pass phrase"),
        max_length=60,
        help_text=_("Twelve letters and figures, in any spacing."),
        widget=forms.TextInput(
            attrs={"dir": "ltr", "autocomplete": "off", "autocapitalize": "characters"}
        ),
    )

    def refuse(self) -> None:
        """One answer for a wrong phrase and for a link that opens nothing, whatever the reason."""
        self.add_error(None, _("This opens no sheet."))
