"""What may be typed on the pages of the lab: what is ordered, what came home, prices and files."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from relations.languages.codes import grouped
from relations.languages.direction import isolated
from relations.languages.forms import Group
from relations.languages.said import figures
from relations.people.forms import NoteLine, PastDayField
from relations.pictures.models import Picture
from relations.privacy.home import today
from relations.privacy.uploads import is_too_large

from . import lab, sizes, stripping
from .forms import PrintsForm
from .lab import Came, Fault, Surface
from .models import LabLine, LabOrder, Print
from .orders import Found, Wanted
from .rules import PrintState
from .words import CAME, FAULTS, SURFACES

FIGURES = {"dir": "ltr", "class": "short", "inputmode": "decimal"}
MOST_SPOILT = 999
# What kind of file it is stands in its first bytes.
BEGINS = 16


class SizeLine(NoteLine):
    """A size: asked of what is ordered, and of nothing else."""

    answers_itself = True


class CameField(forms.ChoiceField):
    """What came of one line: it is where it was until something else is said."""

    answers_itself = True


def _line(label: Any, signs: int, kind: type[NoteLine] = NoteLine, **attrs: str) -> NoteLine:
    """One short line of figures."""
    field = kind(label=label, max_length=signs)
    field.widget.attrs.update({**FIGURES, **attrs})
    return field


class LabPrintsForm(PrintsForm):
    """A form of the lab: sizes and prices are read as people write them."""

    def size(self, name: str) -> str:
        """The size in a field, once it can be read; else an error beside it and ""."""
        text = str(self.cleaned_data.get(name) or "")
        try:
            sizes.read(text)
        except sizes.SizeError as error:
            self.add_error(name, self.words(error.code))
            return ""
        return text

    def price(self, name: str) -> Decimal | None:
        """The price in a field; None where there is none, and an error where it cannot be one."""
        text = self.cleaned_data.get(name)
        if not text:
            return None
        try:
            return lab.read_price(text)
        except lab.PriceError as error:
            self.add_error(name, self.words(error.code))
            return None


class OrderForm(LabPrintsForm):
    """Which of the prints that wait are ordered, how large, and at what price if it is known."""

    press = _("Order these")
    surface = forms.ChoiceField(
        label=_("Surface"),
        choices=[(one.value, SURFACES[one]) for one in Surface],
        widget=forms.RadioSelect,
        initial=Surface.MATT,
    )
    on = PastDayField(label=_("On which day"), initial=today)

    def __init__(self, *args: Any, waiting: Iterable[Print], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = {str(row.pk): row for row in waiting}
        for key, row in self.rows.items():
            self.fields[f"take-{key}"] = forms.BooleanField(
                label=_("Order it"), required=False, initial=True
            )
            self.fields[f"size-{key}"] = _line(_("Size"), 20, SizeLine, inputmode="text")
            self.fields[f"price-{key}"] = _line(_("Price"), 20)
            self.fields[f"was-{key}"] = forms.CharField(
                max_length=20, widget=forms.HiddenInput, initial=row.state
            )
            self.initial[f"size-{key}"] = row.size
        self.wanted: list[Wanted] = []

    def groups(self) -> Sequence[Group | str]:
        """One part for each print, under its codes."""
        return [
            *(
                Group(_heading(row), f"take-{key}", f"size-{key}", f"price-{key}")
                for key, row in self.rows.items()
            ),
            "surface",
            "on",
        ]

    def clean(self) -> dict[str, Any]:
        """Only what is ticked has to be right."""
        said = super().clean() or self.cleaned_data
        for key, row in self.rows.items():
            if said.get(f"take-{key}"):
                size, price = self.size(f"size-{key}"), self.price(f"price-{key}")
                self.wanted.append(Wanted(row, size, price, said.get(f"was-{key}", "")))
        return said


def _heading(row: Print) -> str:
    """The codes of a print, never a name."""
    return f"{row.picture.code if row.picture else '–'} · {row.person.code}"


def _numbered(line: LabLine, *more: str) -> str:
    """A line of an order as a label, which keeps its order in a line of either direction."""
    return isolated(" · ".join((str(figures(line.number)), _heading(line.print), *more)), "ltr")


# What may be found of a line, as the page offers it: a fault is said by what is wrong.
ANSWERS: Mapping[str, Found] = {
    "good": Found(Came.GOOD),
    **{fault.value: Found(Came.FAULTY, fault) for fault in Fault},
    "collected": Found(Came.COLLECTED),
    "lost": Found(Came.LOST),
}
# Once it is in our hands it is only checked.
CHECKED_ONLY = frozenset({"collected", "lost"})


class CollectForm(PrintsForm):
    """What came home of an order: line by line, and how many the lab spoilt and gave back."""

    press = _("Note this")
    spoilt = forms.IntegerField(
        label=_("Spoilt by the lab"), min_value=0, max_value=MOST_SPOILT, required=False
    )
    waste_slip = forms.IntegerField(
        label=_("Spoilt prints given back with the waste slip"),
        min_value=0,
        max_value=MOST_SPOILT,
        required=False,
    )
    on = PastDayField(label=_("On which day"), initial=today)

    def __init__(
        self, *args: Any, order: LabOrder, lines: Sequence[LabLine], **kwargs: Any
    ) -> None:
        initial = {"spoilt": order.spoilt, "waste_slip": order.waste_slip}
        super().__init__(*args, initial=initial, **kwargs)
        self.numbers = [line.number for line in lines if is_asked(line)]
        for line in lines:
            if is_asked(line):
                self.fields[f"line-{line.number}"] = CameField(
                    label=_numbered(line, grouped(line.print.code)),
                    choices=_answers(line),
                    required=False,
                    initial="",
                )
        self.order_fields([*(f"line-{number}" for number in self.numbers), "spoilt", "waste_slip"])

    @property
    def said(self) -> dict[str, Any]:
        """What `orders.collect` takes."""
        given = self.cleaned_data
        found = {
            number: _found(answer)
            for number in self.numbers
            if (answer := given.get(f"line-{number}"))
        }
        return {
            "found": found,
            "spoilt": given["spoilt"] or 0,
            "waste_slip": given["waste_slip"] or 0,
            "on": given["on"],
        }


def is_asked(line: LabLine) -> bool:
    """Whether something can be found of a line: it is at the lab, or waits to be checked."""
    at_lab = line.print.state == PrintState.AT_THE_LAB
    unchecked = line.print.state == PrintState.COLLECTED
    return line.print.order_id == line.order_id and (at_lab or unchecked)


def _answers(line: LabLine) -> list[tuple[str, Any]]:
    is_here = line.print.state == PrintState.COLLECTED
    nothing = _("Not checked yet") if is_here else _("Still at the lab")
    offered = [name for name in ANSWERS if not (is_here and name in CHECKED_ONLY)]
    return [("", nothing), *((name, _answer(name)) for name in offered)]


def _answer(name: str) -> Any:
    found = ANSWERS[name]
    return FAULTS[found.fault] if found.fault else CAME[found.came]


def _found(name: str) -> Found:
    """What was found, a fault with its words: they stay with the step as its reason."""
    found = ANSWERS[name]
    return Found(found.came, found.fault, str(FAULTS[found.fault])) if found.fault else found


class PricesForm(LabPrintsForm):
    """What the lab asks for each line."""

    press = _("Keep these prices")

    def __init__(self, *args: Any, lines: Sequence[LabLine], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.numbers = [line.number for line in lines if line.came != Came.STRUCK]
        for line in lines:
            if line.number in self.numbers:
                self.fields[f"price-{line.number}"] = _line(_numbered(line), 20)
                self.initial[f"price-{line.number}"] = line.price
        self.prices: dict[int, Decimal | None] = {}

    def clean(self) -> dict[str, Any]:
        """Every price as it can be kept."""
        said = super().clean() or self.cleaned_data
        self.prices = {number: self.price(f"price-{number}") for number in self.numbers}
        return said


def _wrong(file: Any) -> str:
    """What is wrong with a file that was given, by its size and how it begins; "" where nothing."""
    if is_too_large(file):
        return "file_too_large"
    if not file:
        return ""
    begins = file.read(BEGINS)
    file.seek(0)
    try:
        stripping.ending(begins)
    except stripping.StripError as error:
        return error.code
    return ""


class FilesForm(PrintsForm):
    """The full files, picture by picture; what is not given goes along as its light copy."""

    press = _("Files for the lab")

    def __init__(self, *args: Any, pictures: Sequence[Picture], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.codes = [picture.code for picture in pictures]
        for code in self.codes:
            self.fields[f"file-{code}"] = forms.FileField(
                label=code, required=False, help_text=_("JPEG or PNG, up to 25 MB.")
            )

    def clean(self) -> dict[str, Any]:
        """A file that went beyond the limit was let go, and one that is no picture is named."""
        said = super().clean() or self.cleaned_data
        for name in [f"file-{code}" for code in self.codes]:
            if wrong := _wrong(said.get(name)):
                self.add_error(name, self.words(wrong))
        return said

    @property
    def given(self) -> dict[str, bytes]:
        """The files by picture code, as `lab_papers.files` takes them."""
        found = {code: self.cleaned_data.get(f"file-{code}") for code in self.codes}
        return {code: file.read() for code, file in found.items() if file}


class HandOverForm(PrintsForm):
    """The slip and the files are at the lab."""

    press = _("It is at the lab")
    on = PastDayField(label=_("On which day"), initial=today)


class SlipForm(PrintsForm):
    """One press: the slip of an order."""

    press = _("Slip for the lab")
