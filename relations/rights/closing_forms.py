"""What may be typed when the project closes: one press, and how a print ends that stayed here."""

from typing import Any, ClassVar
from uuid import UUID, uuid5

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import NameField
from relations.people.forms import NoteLine, PastDayField
from relations.prints.models import Print
from relations.prints.rules import PrintState
from relations.prints.words import ENDINGS
from relations.prints.words import REFUSED as PRINTS_REFUSED
from relations.privacy.home import today
from relations.privacy.refused import Refused
from relations.uses.forms import CountriesField

from .forms import RightsForm
from .words import REFUSED

S = PrintState
# What is asked where a print ends, beside who decided it, why, and on which day.
ASKS: dict[str, tuple[str, ...]] = {
    S.KEPT_FOR_THEM: ("ending", "countries"),
    S.NOTHING_TO_PRINT: ("apology_given",),
}
ALWAYS = ("decided_by", "why", "on", "was")


class ClosingForm(RightsForm):
    """One press on the page of closing."""

    def __init__(self, *args: Any, what: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.what = what

    @property
    def token(self) -> UUID:
        """The presses of one page share its token, so each makes its own out of it."""
        return uuid5(super().token, self.what)


class EndPrintForm(RightsForm):
    """How a print ends that nobody could be given: where it goes, who decided that, and why."""

    refusals: ClassVar = {**PRINTS_REFUSED, **REFUSED}
    about: ClassVar = {
        **dict.fromkeys(("ending", "no_speaker", "archive_not_agreed"), "ending"),
        "apology": "apology_given",
        "decided_by": "decided_by",
        "why": "why",
        **dict.fromkeys(("day_in_future", "before_the_last_step"), "on"),
    }
    press = _("End it so")
    was = forms.CharField(widget=forms.HiddenInput, required=False)
    ending = forms.ChoiceField(
        label=_("Where it goes"), choices=list(ENDINGS.items()), widget=forms.RadioSelect
    )
    countries = CountriesField(
        label=_("Country of the archive"),
        required=False,
        help_text=_("Two letters, such as FR. Empty asks for a yes to an archive anywhere."),
    )
    apology_given = forms.BooleanField(label=_("An apology was given"), required=False)
    decided_by = NameField(
        label=_("Who decided this"),
        max_length=80,
        help_text=_("Somebody who can be asked later: you, the keeper, who speaks for them."),
    )
    why = NoteLine(
        label=_("Why it could not be given"),
        required=True,
        help_text=_("One line that anybody may read: what was tried, not what they fear."),
    )
    on = PastDayField(label=_("Decided on"), initial=today)

    def __init__(self, *args: Any, print: Print, **kwargs: Any) -> None:
        super().__init__(*args, initial={"was": print.state}, **kwargs)
        self.print = print
        for name in set(self.fields) - {*ASKS.get(print.state, ()), *ALWAYS, "token"}:
            del self.fields[name]

    def said(self) -> dict[str, Any]:
        """What goes with the ending, as the action takes it."""
        asked = self.typed_in(*ASKS.get(self.print.state, ()), *ALWAYS)
        return {"ending": "", **asked}

    def refuse(self, refused: Refused) -> None:
        """Say why, and show the page as from where the print is now, with all as typed."""
        super().refuse(refused)
        self.data = {**{name: self.data[name] for name in self.data}, "was": self.print.state}
