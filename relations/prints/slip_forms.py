"""What may be typed or photographed to find a print by its slip, and which slips are printed."""

from collections.abc import Container, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from babel.numbers import format_decimal
from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from relations.languages.codes import PRINT_LENGTH, grouped, meant, problem, strangers, tidy
from relations.languages.forms import CodeField, TicksField
from relations.languages.said import comma, filled
from relations.languages.templatetags.words import reader_locale
from relations.privacy.models import User
from relations.privacy.uploads import is_too_large

from . import queries, slips
from .forms import PrintsForm
from .labels import SHEETS, Labels
from .models import Print
from .rules import PrintState
from .slips import BOTH, Where
from .words import STATES

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

# What is wrong with a code, by `languages.codes.problem`.
WRONG: Mapping[str, "_StrPromise"] = {
    "shape": _("The code of a print has six letters and figures."),
    "letter": _("No code holds %(letters)s. Look at the slip again."),
    "meant": _("No code holds %(letters)s. If all else is right, the slip says %(meant)s."),
    "mistyped": _("One letter or two are wrong. Look at the slip again."),
}
TOO_FEW = _("This sheet has fewer labels.")
NOT_THERE = _("No print that you may see bears this code.")
LABELS: Mapping[Labels, "_StrPromise"] = {
    Labels.PLAIN: _("Plain paper, to be cut: %(count)d of %(width)s × %(height)s mm"),
    Labels.OF_24: _("Labels: %(count)d of %(width)s × %(height)s mm"),
    Labels.OF_21: _("Labels: %(count)d of %(width)s × %(height)s mm"),
}
WHERE: Mapping[str, "_StrPromise"] = {
    "both": _("For the envelope and for the corner of the print"),
    Where.ENVELOPE: _("For the envelope alone"),
    Where.CORNER: _("For the corner of the print alone"),
}
MOST_LABELS = max(sheet.count for sheet in SHEETS.values())


class PrintCodeField(CodeField):
    """A print's code; a look-alike is named, and what it stands for if all else is right."""

    answers_itself = True

    def to_python(self, value: object) -> str:
        return tidy(super().to_python(value))

    def validate(self, value: str) -> None:
        super().validate(value)
        wrong = problem(value, PRINT_LENGTH) if value else ""
        if not wrong:
            return
        says = meant(value) if wrong == "letter" else ""
        raise ValidationError(
            WRONG["meant" if says else wrong],
            code=wrong,
            params={"letters": comma().join(strangers(value)), "meant": grouped(says)},
        )


class PhotographField(forms.FileField):
    """A photograph of slips; gives their codes. Nothing of it is kept."""

    answers_itself = True

    def __init__(self, **kwargs: Any) -> None:
        accept = "image/jpeg,image/png,image/tiff,image/webp,application/pdf"
        super().__init__(
            widget=forms.FileInput(attrs={"accept": accept, "data-shrink": True}), **kwargs
        )

    def clean(self, data: Any, initial: Any = None) -> list[str]:
        if is_too_large(data):
            raise ValidationError(
                _("This file is too large: 25 MB are the most."), code="too_large"
            )
        sent = super().clean(data, initial)
        if not sent:
            return []
        if found := slips.read(sent.read()):
            return found
        raise ValidationError(
            _("No slip could be read on it. Go nearer, or type the code."), code="no_slip"
        )


class FindForm(PrintsForm):
    """A slip leads to its print; two slips, to whether they belong together.

    `found` holds each code once with its print, None where that is absent or out of sight;
    `is_pair`, that two slips were seen.
    """

    press = _("Find the print")
    code = PrintCodeField(
        label=_("The code on the slip"),
        required=False,
        help_text=_("Six letters and figures: on the envelope, at the corner or on the receipt."),
    )
    other = PrintCodeField(
        label=_("The code at the corner of the print"),
        required=False,
        help_text=_("When you check: do envelope and print belong together?"),
    )
    photograph = PhotographField(
        label=_("Or a photograph of the slips"),
        required=False,
        help_text=_("At any angle. With the envelope and the corner on it, both are compared."),
    )

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user = user
        self.found: dict[str, Print | None] = {}
        self.is_pair = False

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or self.cleaned_data
        if not self.errors:
            typed = [said[name] for name in ("code", "other") if said[name]]
            self._look([*typed, *said["photograph"]])
        return said

    def _look(self, codes: Sequence[str]) -> None:
        self.found = {code: queries.by_code(self.user, code) for code in codes}
        self.is_pair = len(codes) > 1
        if not codes:
            self.add_error("code", _("Type the code, or choose a photograph."))
        elif self.is_apart:
            self.add_error(None, _("These slips do not belong together: their codes differ."))
        elif None in self.found.values():
            self.add_error("code" if self.cleaned_data["code"] else None, NOT_THERE)

    @property
    def is_apart(self) -> bool:
        """Whether slips of different prints were seen, as of two envelopes that are swapped."""
        return len(self.found) > 1

    @property
    def row(self) -> Print:
        """The print that a valid form found."""
        (row,) = self.found.values()
        assert row is not None  # noqa: S101 # else the form is not valid
        return row


class SlipForm(PrintsForm):
    """Which slips are printed, and on what."""

    press = _("Print the slips")
    prints = TicksField(
        label=_("Of which prints"),
        required=True,
        error_messages={"required": _("Choose at least one print.")},
    )
    where = forms.ChoiceField(
        label=_("Which slips"), choices=list(WHERE.items()), initial="both",
        widget=forms.RadioSelect,
    )  # fmt: skip
    on = forms.ChoiceField(
        label=_("On which paper"), initial=Labels.PLAIN, widget=forms.RadioSelect
    )
    first = forms.IntegerField(
        label=_("The first label that is still there"),
        required=False,
        min_value=1,
        max_value=MOST_LABELS,
        error_messages={"max_value": TOO_FEW},
        help_text=_("For a sheet that was begun; counted row by row from the upper corner."),
    )

    def __init__(
        self, *args: Any, rows: Sequence[Print], chosen: Container[str] = (), **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        prints: Any = self.fields["prints"]
        prints.choices = [(row.code, _said(row)) for row in rows]
        asked = [row.code for row in rows if row.code in chosen]
        prints.initial = asked or [row.code for row in rows if row.state == PrintState.COLLECTED]
        on: Any = self.fields["on"]
        on.choices = [(kind.value, _size(kind)) for kind in Labels]

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or self.cleaned_data
        sheet = SHEETS.get(said.get("on", ""))
        if sheet and (said.get("first") or 1) > sheet.count:
            self.add_error("first", TOO_FEW)
        return said

    @property
    def said(self) -> dict[str, Any]:
        """What `slips.pdf` takes."""
        given = self.cleaned_data
        where = given["where"]
        return {
            "codes": given["prints"],
            "where": BOTH if where == "both" else (Where(where),),
            "on": Labels(given["on"]),
            "first": given["first"] or 1,
        }


def _said(row: Print) -> str:
    """A print in a list of slips: its code, whose it is by code, its picture, where it is."""
    of = f"{row.person.code} {row.picture.code if row.picture else '–'}"
    return f"{grouped(row.code)} · {of} · {STATES[row.state]}"


def _size(kind: Labels) -> str:
    sheet = SHEETS[kind]
    width, height = (
        str(format_decimal(side, "#,##0.#", locale=reader_locale()))
        for side in (sheet.width, sheet.height)
    )
    return filled(LABELS[kind], count=sheet.count, width=width, height=height)
