"""What may be typed of telephone numbers: a line as it was given, its parts, and its clock."""

from collections.abc import Iterable
from typing import Any, ClassVar

import phonenumbers
from crispy_forms.helper import FormHelper
from django import forms
from django.conf import settings
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import CodeField, Group, PhoneField
from relations.languages.said import figures
from relations.languages.sorting import by_name
from relations.languages.templatetags.words import reader_locale
from relations.privacy.home import today
from relations.privacy.refused import Refused

from . import phones, zones
from .forms import NoteLine, PersonForm
from .words import REFUSED, clock

Choices = list[tuple[str, Any]]
# More numbers than anybody has; whoever sends more rows is no page of ours.
MOST = 8


def countries() -> Choices:
    """Every country that has numbers, by name, after one that is not known."""
    names = reader_locale().territories
    known: Choices = [(code, names.get(code, code)) for code in phonenumbers.SUPPORTED_REGIONS]
    return [("", _("Not known")), *by_name(known, lambda pair: pair[1])]


def clocks(names: Iterable[str]) -> Choices:
    """Time zones (IANA) by the places whose clocks they are."""
    return [(name, clock(name)) for name in names]


class _CountryForm(PersonForm):
    """A form that says of which country its numbers are."""

    about: ClassVar = {"country": "country", "by_themselves": "through"}

    country = forms.ChoiceField(label=_("Country of the number"), required=False)
    is_shared = forms.BooleanField(label=_("Others answer this telephone too"), required=False)
    through = CodeField(
        label=_("Reached through"),
        required=False,
        help_text=_("The code of somebody else, where they have no telephone of their own."),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["country"].choices = countries()  # type: ignore[attr-defined]
        self.fields["country"].initial = settings.RELATIONS_COUNTRY

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        data["through"] = self.somebody("through")
        return data

    @property
    def ways(self) -> dict[str, Any]:
        """What `actions.add_line` takes besides a number."""
        data = self.typed_in("country", "is_shared", "through")
        return {**data, "country": data["country"] or None}

    def as_typed(self, name: str) -> str:
        """A field exactly as it was typed."""
        typed: str = self.data.get(self.add_prefix(name), "")
        return typed


class PhoneForm(_CountryForm):
    """A telephone number, or a line that holds several, kept as it was typed."""

    about: ClassVar = {
        **_CountryForm.about,
        **dict.fromkeys(("empty", "letters", "two_numbers", "too_short", "too_long"), "number"),
        **dict.fromkeys(("wrong_length", "area_code", "not_a_number", "never_ring"), "number"),
        "already_theirs": "number",
    }

    number = PhoneField(
        label=_("Number"),
        required=False,
        max_length=phones.LONGEST,
        help_text=_("As it was given to you, words and all; several numbers are parted next."),
    )
    keep_raw = forms.BooleanField(
        label=_("Keep it as it was given, even if it cannot be rung yet"), required=False
    )
    field_order = ("number", "country", "is_shared", "through", "keep_raw")

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        if not data.get("number") and not data["through"] and "number" not in self.errors:
            self.add_error("number", REFUSED["empty"])
        return data

    @property
    def line(self) -> dict[str, Any]:
        """What `actions.add_line` takes: the number exactly as it was typed."""
        return {**self.ways, **self.typed_in("keep_raw"), "typed": self.as_typed("number")}

    def to_be_asked(self, code: str) -> "SplitForm | None":
        """What this line leaves open: which numbers and notes it holds, or by which clock."""
        country, typed = self.cleaned_data["country"] or None, self.as_typed("number")
        if self.cleaned_data["keep_raw"] or not typed.strip():
            return None
        found = phones.split(typed, country)
        if found is None:
            found = phones.Split((phones.Part(typed),))
            if len(zones_of(typed, country)) < 2:
                return None
        if not found.parts:
            return None
        begin = {**self.cleaned_data, "through": self.as_typed("through"), "line": typed}
        return SplitForm(code=code, found=found, initial=begin)


def zones_of(typed: str, country: str | None) -> tuple[str, ...]:
    """The time zones in which a number as typed may be answered."""
    e164 = phones.read(typed, country).e164
    return zones.of_number(e164, today()) if e164 else ()


class SplitForm(_CountryForm):
    """What was found in one line: each number with its note, to be looked at once and kept.

    `code`: whose they are; `found`: what to begin with. Of a form that was sent, its rows say how
    many there are.
    """

    press = _("Keep these")
    # What was typed, to be read beside the rows.
    line = forms.CharField(
        required=False, max_length=phones.LONGEST, strip=False, widget=forms.HiddenInput
    )

    def __init__(
        self, data: Any = None, *, code: str, found: phones.Split | None = None, **kwargs: Any
    ) -> None:
        super().__init__(data, **kwargs)
        self.address = reverse("people:split", args=[code])
        self.row: int | None = None
        self.left = found.left if found else ""
        parts = found.parts if found else ()
        # Where figures are left over there is room for the number that they may be part of.
        rows = len(parts) + bool(self.left)
        if self.is_bound:
            rows = next((at for at in range(MOST) if f"number_{at}" not in self.data), MOST)
        for at in range(max(rows, 1)):
            self._add_row(at, parts[at] if at < len(parts) else phones.Part(""))
        for name in ("is_shared", "through"):
            self.fields[name].widget = forms.HiddenInput()

    def _add_row(self, at: int, part: phones.Part) -> None:
        self.fields[f"number_{at}"] = PhoneField(
            label=_("Number"), required=False, initial=part.number
        )
        self.fields[f"note_{at}"] = NoteLine(
            label=_("Words beside it"),
            initial=part.note,
            help_text=_("Whose it is, when it is answered."),
        )
        country = self.data.get("country") if self.is_bound else self.initial.get("country")
        typed = self.as_typed(f"number_{at}") if self.is_bound else part.number
        known = zones_of(typed, country or None)
        if len(known) > 1:
            here = settings.TIME_ZONE
            names = known if here in known else (*known, here)
            self.fields[f"zone_{at}"] = forms.ChoiceField(
                label=_("Which clock do they live by?"),
                choices=[("", "–"), *clocks(names)],
                help_text=_("This number may be answered in any of these."),
                error_messages={"required": _("Choose one: they are rung by its hours.")},
            )

    @property
    def helper(self) -> FormHelper:
        helper = super().helper
        helper.form_action = self.address
        return helper

    @property
    def rows(self) -> range:
        return range(sum(name.startswith("number_") for name in self.fields))

    def groups(self) -> list[Group | str]:
        """One part a number, and the country that all of them are read in."""
        rows = [
            Group(
                _("Number %(count)s") % {"count": figures(at + 1)},
                *(name for name in (f"number_{at}", f"note_{at}", f"zone_{at}")
                  if name in self.fields),
            )
            for at in self.rows
        ]  # fmt: skip
        return [*rows, Group(_("All of them"), "country")]

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        typed = [at for at in self.rows if data.get(f"number_{at}")]
        if not typed and not self.errors:
            self.add_error("number_0", REFUSED["empty"])
        for at in self.rows:
            if at not in typed and data.get(f"note_{at}"):
                self.add_error(f"number_{at}", REFUSED["empty"])
        return data

    @property
    def lines(self) -> Iterable[dict[str, Any]]:
        """What `actions.add_line` takes, row by row; a refusal is shown beside the last one."""
        for at in self.rows:
            if self.cleaned_data[f"number_{at}"]:
                self.row = at
                yield {
                    **self.ways,
                    "typed": self.as_typed(f"number_{at}"),
                    "note": self.cleaned_data[f"note_{at}"],
                    "zone": self.cleaned_data.get(f"zone_{at}", ""),
                }

    def refuse(self, refused: Refused) -> None:
        """Say what was refused beside the number it is about."""
        for code in refused.codes:
            is_country = code == "country"
            self.add_error("country" if is_country else f"number_{self.row}", self.words(code))


class ZoneForm(PersonForm):
    """The clock that somebody lives by, where one line reaches them."""

    zone = forms.ChoiceField(
        label=_("Which clock do they live by?"),
        help_text=_("A number does not say where somebody is. Safe hours go by this clock."),
    )

    def __init__(self, *args: Any, number: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        near = zones.of_number(number, today()) if number else ()
        first = dict.fromkeys((*near, settings.TIME_ZONE))
        far = clocks(name for name in zones.every() if name not in first)
        others = by_name(far, lambda choice: choice[1])
        self.fields["zone"].choices = [  # type: ignore[attr-defined]
            (_("Most likely"), clocks(first)),
            (_("Everywhere"), others),
        ]
