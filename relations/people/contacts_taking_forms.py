"""What may be typed of those who were ticked: word of each, what was asked, which numbers."""

from collections.abc import Iterable, Iterator
from copy import deepcopy
from typing import TYPE_CHECKING, Any, ClassVar

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import PhoneField
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import contacts, phones, queries
from .contacts import MOST_AT_ONCE, Entry
from .forms import NoteLine, PersonForm
from .phone_forms import PhoneForm, clocks, zones_of
from .told_forms import NewForm, VouchForm
from .words import REFUSED

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise


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

    def _against(self, typed: str, asked: bool | None) -> "str | _StrPromise":
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
