"""What is chosen before a paper is printed: its kind, the two languages, the form it belongs to."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.documents.values import PaperKind
from relations.languages.forms import SerialField
from relations.privacy.refused import Refused

from .forms import PairForm
from .printing import read_serial
from .words import PAPERS


class PaperForm(PairForm):
    """The two languages of a paper about one person."""

    press = _("Print the paper")
    about: ClassVar = {**PairForm.about, "no_words": "first"}


class SheetForm(PairForm):
    """One of the papers that need no person, in two languages, for one form or for none yet."""

    press = _("Print the paper")
    about: ClassVar = {
        **PairForm.about,
        "no_words": "kind",
        "no_such_paper": "serial",
        "mistyped": "serial",
        "shape": "serial",
    }
    field_order = ("kind", "first", "second", "serial")

    kind = forms.ChoiceField(label=_("Which paper"), choices=[("", _("Choose")), *PAPERS.items()])
    serial = SerialField(
        label=_("Number of their form"),
        required=False,
        help_text=_("A stop card bears it. On a take-back slip it may stand, or be written."),
    )

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        if said.get("serial"):
            self._check(said["serial"])
        elif said.get("kind") == PaperKind.STOP_CARD and "serial" not in self.errors:
            self.add_error("serial", _("A stop card bears the number of a form. Print that first."))
        return said

    def _check(self, serial: str) -> None:
        """A number with a slip in it would stand on the paper for good."""
        try:
            read_serial(serial)
        except Refused as refused:
            self.refuse(refused)

    @property
    def chosen(self) -> dict[str, Any]:
        """Kind, wordings, values and serial, as `sheets.print_sheet` takes them."""
        said = self.cleaned_data
        kind, serial = PaperKind(said["kind"]), said["serial"]
        first, second = self.pair
        is_card = kind == PaperKind.STOP_CARD
        return {
            "kind": kind,
            "first": first,
            "second": second,
            "values": {"form_serial": serial or ""},
            "serial": serial if is_card else None,
        }
