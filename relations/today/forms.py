"""What is typed in from a day sheet: for each line its box, its hour, and what they named."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any
from uuid import UUID

from django import forms
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.consent.team import lettered
from relations.consent.team_forms import TeamSheetForm
from relations.languages.forms import CodeField, DayField, Group, HourField, PlainForm
from relations.languages.said import figures
from relations.meetings.models import DayLine
from relations.meetings.values import Work
from relations.people.forms import PastDayField
from relations.people.search import by_code
from relations.prints.models import Print
from relations.privacy.refused import Refused

from .typed_in import Written
from .words import BOXES, OF_LINES, WORKS, why_not

# What a line asks beside its box, by what it is for.
ASKS: dict[Work, tuple[str, ...]] = {
    Work.STOP: ("code", "hour"),
    Work.MEETING: ("hour",),
    Work.DOOR: (),
    Work.RING: ("hour", "named_on", "named_at"),
}
FIELDS = ("code", "came", "hour", "named_on", "named_at")


class DaySheetForm(TeamSheetForm):
    """The two languages of the day sheet: one of ours first, the reader's own beside it."""

    press = _("Print the day sheet")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["first"].label = _("First language")


class TypeInForm(PlainForm):
    """A sheet as it was filled in with a pen; lines that are empty wait for another time."""

    press = _("Type it in")
    on = PastDayField(label=_("On which day"))

    def __init__(
        self,
        *args: Any,
        lines: Sequence[DayLine],
        prints: dict[UUID, Print],
        day: date,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.day, self.prints = day, prints
        self.fields["on"].initial = day
        self.typed = {line.number: line for line in lines if line.typed_at is not None}
        self.lines = {line.number: line for line in lines if line.typed_at is None}
        for number, line in self.lines.items():
            self.fields |= {f"{name}_{number}": one for name, one in _asked(Work(line.work))}

    def groups(self) -> list[Group | str]:
        """The day, then each line that is not typed in under its number."""
        return ["on", *(self._group(number, line) for number, line in self.lines.items())]

    def _group(self, number: int, line: DayLine) -> Group:
        """The heading holds a number, our words and codes, which are letters and figures only."""
        row = self.prints.get(line.about) if line.about else None
        code = line.person.code if line.person else ""
        picture = row.picture.code if row and row.picture else ""
        parts = (str(figures(number)), str(WORKS[line.work]), code, picture)
        names = (f"{name}_{number}" for name in FIELDS)
        return Group(" · ".join(filter(None, parts)), *(one for one in names if one in self.fields))

    def clean_on(self) -> date:
        """Nothing happened on a sheet before it was printed."""
        on: date = self.cleaned_data["on"]
        if on < self.day:
            raise forms.ValidationError(_("The sheet was printed on a later day."))
        return on

    def clean(self) -> dict[str, Any]:
        said = super().clean() or self.cleaned_data
        for number in self._numbers_sent():
            if number not in self.lines:
                self._say(number, OF_LINES["typed_already" if number in self.typed else "gone"])
        for number, line in self.lines.items():
            for code in _lacks(Work(line.work), *self._of(number)):
                self._say(number, OF_LINES[code], _FIELD_OF[code])
        return said

    def _numbers_sent(self) -> Iterable[int]:
        """The lines of which a page sent something, also those that this form has no more."""
        sent = ((name.rpartition("_"), value) for name, value in self.data.items())
        return sorted(
            int(number)
            for (name, _line, number), value in sent
            if name == "came" and value and number.isdecimal()
        )

    def _of(self, number: int) -> tuple[str, dict[str, Any]]:
        """The box of a line, and whatever else was typed on it."""
        names = {name: f"{name}_{number}" for name in FIELDS}
        said = {name: self.cleaned_data.get(field) for name, field in names.items()}
        return said.pop("came") or "", {name: value for name, value in said.items() if value}

    def _say(self, number: int, words: Any, name: str = "") -> None:
        field = f"{name}_{number}"
        said = _("Line %(line)s: %(words)s") % {"line": figures(number), "words": words}
        self.add_error(field if field in self.fields else None, said)

    def good_lines(self) -> list[tuple[DayLine, Written]]:
        """The lines that say enough and nothing wrong; none while the day itself is wrong."""
        on = self.cleaned_data.get("on")
        bad = {int(name.rpartition("_")[2]) for name in self.errors if name[-1].isdecimal()}
        numbers = [number for number in self.lines if on and number not in bad]
        found = [(self.lines[number], *self._of(number)) for number in numbers]
        return [(line, _written(came, on, rest)) for line, came, rest in found if came and on]

    def tell(self, stored: Iterable[int], refused: dict[int, Refused]) -> None:
        """Say beside each line why it was refused; those that are stored are asked no more."""
        for number, no in refused.items():
            for code in no.codes:
                self._say(number, why_not(self.lines[number].work, code), "came")
        for number in stored:
            self.typed[number] = self.lines.pop(number)
            for name in FIELDS:
                self.fields.pop(f"{name}_{number}", None)


def _asked(work: Work) -> Iterable[tuple[str, forms.Field]]:
    """The fields of one line; each is left empty where nothing happened."""
    boxes = [(code, f"{letter}  {BOXES[work][code]}") for letter, code in lettered(work)]
    fields: dict[str, forms.Field] = {
        "code": CodeField(label=_("Code of the person"), required=False),
        "came": forms.ChoiceField(
            label=_("Box"), required=False, choices=[("", pgettext_lazy("a box", "none")), *boxes]
        ),
        "hour": HourField(label=_("Hour"), required=False),
        "named_on": DayField(label=_("Day they named"), required=False),
        "named_at": HourField(label=_("Hour they named"), required=False),
    }
    return [(name, fields[name]) for name in FIELDS if name == "came" or name in ASKS[work]]


# Beside which field it is said that something is missing.
_FIELD_OF = {"which_box": "came", "which_hour": "hour", "whose": "code", "nobody": "code"}


def _lacks(work: Work, came: str, rest: dict[str, Any]) -> Iterable[str]:
    """What a line still needs. A ring needs its hour: the next one is at another part of the day.

    A no needs none: it acts on hearing.
    """
    if not came:
        return ("which_box",) if rest else ()
    if work == Work.STOP:
        return _lacks_person(rest.get("code", ""))
    return ("which_hour",) if work == Work.RING and "hour" not in rest else ()


def _lacks_person(code: str) -> Iterable[str]:
    if not code:
        return ("whose",)
    return () if by_code(code) else ("nobody",)


def _written(came: str, on: date, rest: dict[str, Any]) -> Written:
    code = rest.pop("code", "")
    return Written(
        came=came, on=on, whose=next(iter(by_code(code)), None) if code else None, **rest
    )
