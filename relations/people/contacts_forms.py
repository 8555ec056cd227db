"""What may be typed on the way of a telephone's contacts: the file, its columns, whom, and word."""

from collections.abc import Iterator, Sequence
from typing import Any

from crispy_forms.helper import FormHelper
from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from relations.languages.direction import isolated
from relations.languages.forms import TicksField
from relations.languages.said import figures
from relations.privacy.uploads import is_too_large

from . import contacts
from . import contacts_tables as tables
from .contacts import MOST_AT_ONCE, Entry, Mapped
from .contacts_cards import NotRead
from .contacts_carried import LONGEST
from .contacts_known import Seen
from .contacts_tables import Table
from .contacts_words import COLUMNS, LEFT, NOT_READ, NOT_TAKEN
from .forms import PersonForm
from .phone_forms import countries

# How much of a cell stands beside a column, so that it is known again.
SHORT = 30


class ContactsField(forms.FileField):
    """A file of contacts, read in memory; gives its `Table`."""

    def __init__(self, **kwargs: Any) -> None:
        accept = ".vcf,.csv,.tsv,.txt,text/vcard,text/csv"
        super().__init__(widget=forms.FileInput(attrs={"accept": accept}), **kwargs)

    def clean(self, data: Any, initial: Any = None) -> Table | None:
        if is_too_large(data):
            raise ValidationError(NOT_READ["too_large"], code="too_large")
        upload = super().clean(data, initial)
        try:
            return tables.read(upload.read(tables.MOST_BYTES + 1))
        except NotRead as no:
            raise ValidationError(NOT_READ[no.code], code=no.code) from no


class ContactsForm(PersonForm):
    """The file, chosen on the reader's machine; it is read and never kept."""

    press = _("Read the file")

    file = ContactsField(
        label=_("File of contacts"),
        help_text=_("Cards (vCard) or lines (CSV) as a telephone gives them: 1 MB and 500 people "
                    "at most."),
    )  # fmt: skip


class CarryingForm(PersonForm):
    """A form that brings back, sealed, what was read before it."""

    carried = forms.CharField(max_length=LONGEST, strip=False, widget=forms.HiddenInput)

    def __init__(self, data: Any = None, *, carried: str, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.fields["carried"].initial = carried


class ColumnsForm(CarryingForm):
    """Which column is what, chosen by hand: what was guessed is only where the hand begins."""

    press = _("Show the lines")

    called = forms.ChoiceField(label=_("What to call them"))
    numbers = TicksField(label=_("Telephone numbers"))
    note = forms.ChoiceField(
        label=_("Words beside the number"),
        required=False,
        help_text=_("Whose it is, when it is answered. Leave notes out unless you know each one."),
    )
    has_head = forms.BooleanField(label=_("The first line only names the columns"), required=False)
    country = forms.ChoiceField(
        label=_("Country of the numbers"),
        required=False,
        help_text=_("For numbers that do not begin with +."),
    )

    def __init__(self, *args: Any, table: Table, **kwargs: Any) -> None:
        guess = contacts.proposed(table)
        begin = {"called": guess.called, "numbers": guess.numbers, "has_head": guess.has_head}
        kwargs["initial"] = {**begin, "country": settings.RELATIONS_COUNTRY}
        super().__init__(*args, **kwargs)
        self.table = table
        columns = [(str(at), _column(table, at)) for at in range(len(table.columns))]
        for name, choices in (
            ("called", columns),
            ("numbers", columns),
            ("note", [("", _("Nothing")), *columns]),
            ("country", countries()),
        ):
            self.fields[name].choices = choices  # type: ignore[attr-defined]
        if table.is_cards:
            del self.fields["has_head"]

    @property
    def helper(self) -> FormHelper:
        helper = super().helper
        helper.form_action = reverse("people:contact_columns")
        return helper

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("called") in (*data.get("numbers", ()), data.get("note")):
            self.add_error("called", _("A column is one thing only."))
        return data

    @property
    def dropped(self) -> list[str]:
        """What everything is called that was not chosen."""
        mapped, table = self.mapped, self.table
        chosen = {mapped.called, *mapped.numbers, mapped.note}
        rest = [at for at in range(len(table.columns)) if at not in chosen]
        if table.is_cards:
            names = [*(COLUMNS[table.columns[at]] for at in rest), *left(table)]
        else:
            heads = table.columns if mapped.has_head else [""] * len(table.columns)
            names = [
                heads[at] or _("Column %(number)s") % {"number": figures(at + 1)} for at in rest
            ]
        return [*map(str, names)]

    @property
    def mapped(self) -> Mapped:
        """Which column is what, as `contacts.entries` takes it."""
        data = self.cleaned_data
        return Mapped(
            called=int(data["called"]),
            numbers=tuple(map(int, data["numbers"])),
            note=int(data["note"]) if data["note"] else None,
            has_head=data.get("has_head", False),
        )


def left(table: Table) -> list[str | Promise]:
    """What the properties are called that are never taken of a card."""
    return [LEFT.get(name, name) for name in table.left]


def _column(table: Table, at: int) -> str:
    """What a column is called, with one thing that stands in it."""
    cells = [row[at] for row in table.rows if row[at]]
    first = _short(cells[0])
    if table.is_cards:
        return _("%(column)s, such as %(cell)s") % {"column": COLUMNS[table.columns[at]],
                                                    "cell": first}  # fmt: skip
    said = {"number": figures(at + 1), "cell": first}
    if len(cells) < 2:
        return _("Column %(number)s: %(cell)s") % said
    return _("Column %(number)s: %(cell)s, then %(next)s") % {**said, "next": _short(cells[1])}


def _short(cell: str) -> str:
    """The begin of the first line of a cell, kept to its own direction."""
    text = " ".join(cell.split("\n")[0].split())
    return isolated(text if len(text) <= SHORT else f"{text[:SHORT]}…")


class LinesForm(CarryingForm):
    """Whom of the lines to go on with: nobody is ticked until a person does it."""

    press = _("Go on with those ticked")

    take = forms.MultipleChoiceField(
        error_messages={"required": _("Nobody is ticked. Whoever is not ticked is not kept.")}
    )

    def __init__(self, *args: Any, seen: Sequence[Seen], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.seen = seen
        choices = [(str(one.at), one.line.entry.called) for one in seen if not one.refused]
        self.fields["take"].choices = choices  # type: ignore[attr-defined]

    def clean_take(self) -> list[Entry]:
        places: list[str] = self.cleaned_data["take"]
        if len(places) > MOST_AT_ONCE:
            words = _("These are %(count)s at once. Take %(most)s at most, and the others after.")
            said = {"count": figures(len(places)), "most": figures(MOST_AT_ONCE)}
            raise ValidationError(words % said)
        return [self.seen[int(place)].line.entry for place in places]

    def rows(self) -> Iterator[tuple[Seen, bool, str | Promise]]:
        """Each line, whether it is ticked, and why it cannot be."""
        ticked = set(self["take"].data or ()) if self.is_bound else set()
        for one in self.seen:
            yield one, str(one.at) in ticked, NOT_TAKEN[one.refused] if one.refused else ""
