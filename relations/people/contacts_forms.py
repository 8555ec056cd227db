"""What may be typed on the way of a telephone's contacts: the file, its columns, whom, and word."""

from collections.abc import Iterable, Iterator, Sequence
from copy import deepcopy
from typing import Any, ClassVar

from crispy_forms.helper import FormHelper
from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from relations.languages.direction import isolated
from relations.languages.forms import PhoneField, TicksField
from relations.languages.said import figures
from relations.privacy.models import User
from relations.privacy.refused import Refused
from relations.privacy.uploads import is_too_large

from . import contacts, phones, queries
from . import contacts_tables as tables
from .contacts import MOST_AT_ONCE, Entry, Mapped
from .contacts_cards import NotRead
from .contacts_carried import LONGEST
from .contacts_known import Seen
from .contacts_tables import Table
from .contacts_words import COLUMNS, LEFT, NOT_READ, NOT_TAKEN
from .forms import NoteLine, PersonForm
from .phone_forms import PhoneForm, clocks, countries, zones_of
from .told_forms import NewForm, VouchForm
from .words import REFUSED

Rows = list[tuple[str, Any]]
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


class ContactForm(NewForm):
    """Word of one of those ticked: who told us, on which day, what was asked, which numbers."""

    about: ClassVar = {**NewForm.about, "not_asked_first": "asked_first"}

    def __init__(self, *args: Any, country: str, rows: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("token", "community", "instruction"):
            del self.fields[name]
        for name in ("asked_first", "may_say_who", "has_power"):
            self.fields[name] = deepcopy(VouchForm.base_fields[name])
        self.country, self.row = country, 0
        for at in range(rows):
            self._add_row(at)

    def _add_row(self, at: int) -> None:
        typed = self.data.get(self.add_prefix(f"number_{at}"), self.initial.get(f"number_{at}", ""))
        self.fields[f"number_{at}"] = PhoneField(
            label=_("Number"),
            required=False,
            help_text=_("Empty it where they did not allow it, or nobody asked."),
        )
        self.fields[f"note_{at}"] = NoteLine(label=_("Words beside it"))
        known = zones_of(typed, self.country or None)
        if len(known) > 1:
            names = dict.fromkeys((*known, settings.TIME_ZONE))
            self.fields[f"zone_{at}"] = forms.ChoiceField(
                label=_("Which clock do they live by?"),
                choices=[("", "–"), *clocks(names)],
                required=bool(typed.strip()),
                error_messages={"required": _("Choose one: they are rung by its hours.")},
            )

    def places(self) -> Iterator[int]:
        """Which rows of numbers hold one."""
        rows = sum(name.startswith("number_") for name in self.fields)
        return (at for at in range(rows) if self.cleaned_data.get(f"number_{at}"))

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        asked = data.get("asked_first")
        if asked is False:
            self.add_error("asked_first", REFUSED["not_asked_first"])
        for at in self.places():
            if words := self._against(data[f"number_{at}"], asked):
                self.add_error(f"number_{at}", words)
        return data

    def _against(self, typed: str, asked: bool | None) -> str | Promise:
        """Why a number is not kept: nothing that was typed is dropped unsaid."""
        if self.known is not None:
            return _("The numbers of somebody known stand on their own page. Empty it here.")
        reading = phones.read(typed, self.country or None)
        if reading.e164 and queries.may_not_be_rung(reading.e164):
            return REFUSED["never_ring"]
        if reading.problem:
            return REFUSED[reading.problem]
        if asked is None:
            return _("No number is kept until somebody has asked them. Empty it, or wait.")
        return ""

    @property
    def told(self) -> dict[str, Any]:
        """Who told us, when, and what was asked, as `contacts_taking.take` takes it."""
        return {**self.source_of, **self.typed_in("asked_first", "may_say_who", "has_power")}

    @property
    def numbers(self) -> Iterator[dict[str, Any]]:
        """What `lines.add_line` takes of each number; a refusal is shown beside the last one."""
        for at in self.places():
            self.row = at
            yield {
                "typed": self.data[self.add_prefix(f"number_{at}")],
                "country": self.country or None,
                "note": self.cleaned_data[f"note_{at}"],
                "zone": self.cleaned_data.get(f"zone_{at}", ""),
            }


class TakeForm(PersonForm):
    """Those ticked, each with word of their own, sent and stored together."""

    press = _("Take these in")

    country = forms.CharField(required=False, max_length=2, widget=forms.HiddenInput)

    def __init__(
        self,
        data: Any = None,
        *,
        user: User,
        entries: Iterable[Entry] = (),
        country: str = "",
    ) -> None:
        super().__init__(data, initial={"country": country})
        begun = [*map(_begun, entries)]
        if self.is_bound:
            country = self.data.get("country", "")
            begun = [{}] * next(
                (at for at in range(MOST_AT_ONCE) if f"{at}-call_name" not in self.data),
                MOST_AT_ONCE,
            )
        self.lines = [self._line(at, one, country, user) for at, one in enumerate(begun)]
        self.at: ContactForm | None = None

    def _line(self, at: int, begun: dict[str, Any], country: str, user: User) -> ContactForm:
        sent = self.data if self.is_bound else begun
        prefix = f"{at}-" if self.is_bound else ""
        places = range(contacts.MOST_NUMBERS)
        rows = next((row for row in places if f"{prefix}number_{row}" not in sent), len(places))
        data = self.data if self.is_bound else None
        return ContactForm(
            data, prefix=str(at), initial=begun, user=user, country=country, rows=rows
        )

    def is_valid(self) -> bool:
        """Whether each line says enough: all are looked at, so that all is said at once."""
        whole = [line.is_valid() for line in self.lines]
        return super().is_valid() and all(whole)

    @property
    def taken(self) -> Iterator[dict[str, Any]]:
        """What `contacts_taking.take` takes of each line; a refusal is shown beside the last."""
        for line in self.lines:
            self.at = line
            yield {
                **line.typed_in("call_name"),
                "told": line.told,
                "known": line.known,
                "numbers": line.numbers,
            }

    def refuse(self, refused: Refused) -> None:
        """Say what was refused beside the line and the number it is about."""
        line = self.at
        if line is None:
            super().refuse(refused)
            return
        for code in refused.codes:
            is_number = PhoneForm.about.get(code) == "number"
            field = f"number_{line.row}" if is_number else line.about.get(code)
            line.add_error(field if field in line.fields else None, line.words(code))


def _begun(entry: Entry) -> dict[str, Any]:
    """What a line begins with; the note stands beside the first number."""
    numbers = {f"number_{at}": one for at, one in enumerate(entry.numbers)}
    return {"call_name": entry.called, **numbers, **({"note_0": entry.note} if numbers else {})}
