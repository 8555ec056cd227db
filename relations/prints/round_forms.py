"""What may be typed about rounds: where and when, minutes, a round, and what came of its doors."""

from collections.abc import Iterable, Sequence
from datetime import date, time, timedelta
from typing import Any, ClassVar
from uuid import UUID

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from relations.languages.forms import (
    DayField,
    Group,
    HourField,
    PlainForm,
    TicksField,
    YesNoField,
)
from relations.people.forms import NoteLine, PastDayField
from relations.privacy.access import HANDS
from relations.privacy.home import now, today
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import walks
from .forms import PrintsForm
from .models import Print, Round, RoundDoor
from .round_words import CAME, LEFT, REFUSED
from .walking import Said

# At ten the shops are open and children are at school (common practice, no source).
SET_OUT = time(10)
NOT_BEFORE, NOT_AFTER = _("not before %(hour)s"), _("not after %(hour)s")
MOST_MINUTES = 240


class RoundsForm(PrintsForm):
    """A form about rounds: what their actions refuse is said in their words."""

    refusals: ClassVar = REFUSED
    about: ClassVar = {
        **PrintsForm.about,
        **dict.fromkeys(("out_already",), "is_safe"),
        **dict.fromkeys(("before_light", "no_daylight"), "starts_at"),
        **dict.fromkeys(
            ("no_doors", "too_many_doors", "not_all_reached", "wants_another"), "prints"
        ),
        "which_end": "ends_by",
        "day_gone": "on",
        "hours_turned": "closes_at",
    }

    def words(self, code: str) -> Any:
        """The words for a code; one about a door of the round begins with its letter."""
        letter, _colon, rest = code.rpartition(":")
        said = self.refusals[rest]
        return (
            _("Letter %(letter)s: %(words)s") % {"letter": letter, "words": said}
            if letter
            else said
        )


PLACE = ("quarter", "place", "opens_at", "closes_at")


class WhereForm(RoundsForm):
    """Where a print is brought, and in which hours: as the sitter wishes."""

    press = _("Keep where and when")
    is_safe = YesNoField(label=_("Is a print safe to have there?"))
    quarter = forms.ChoiceField(label=_("Quarter"), required=False)
    place = NoteLine(
        label=_("Where, in words"), help_text=_("Left empty, what is kept of it stays.")
    )
    opens_at = HourField(label=_("Not before"), required=False)
    closes_at = HourField(label=_("Not after"), required=False)
    into_whose_hand = NoteLine(label=_("Into whose hand"))
    word_at_the_door = NoteLine(label=_("Word at the door"))

    def __init__(self, *args: Any, print: Print, **kwargs: Any) -> None:
        names = ("quarter", "opens_at", "closes_at", "into_whose_hand", "word_at_the_door")
        initial: dict[str, Any] = {name: getattr(print, name) for name in names}
        initial["is_safe"] = {True: "yes", False: "no", None: "not_said"}[print.is_safe]
        super().__init__(*args, initial=initial, **kwargs)
        known = walks.quarters(print.quarter)
        choices = [("", _("not said")), *((name, name) for name in known)]
        self.fields["quarter"] = forms.ChoiceField(
            label=_("Quarter"), required=False, choices=choices
        )
        self.order_fields(["is_safe", *PLACE])
        self.is_asked = print.is_safe is not None

    def groups(self) -> list[Group | str]:
        """What they said when they were asked how stands below: to be seen, not asked again."""
        before = [name for name in self.fields if name not in {*PLACE, "token"}]
        if not self.is_asked:
            return ["is_safe", *PLACE, *before[1:]]
        return [*PLACE, Group(_("Said before"), *before)]

    def said(self) -> dict[str, Any]:
        """The way agreed, as the action takes it; a place that was not typed again stays."""
        said = {name: self.cleaned_data[name] for name in self.fields if name != "token"}
        return said if said["place"] else {k: v for k, v in said.items() if k != "place"}


class QuartersForm(RoundsForm):
    """The minutes from one quarter to another, as whoever walks there knows them."""

    press = _("Keep the minutes")
    start = NoteLine(label=_("From"), max_length=40, required=True)
    end = NoteLine(label=_("To"), max_length=40, required=True)
    minutes = forms.IntegerField(label=_("Minutes"), min_value=0, max_value=MOST_MINUTES)

    def clean_start(self) -> str:
        return self._quarter("start")

    def clean_end(self) -> str:
        return self._quarter("end")

    def _quarter(self, name: str) -> str:
        """A quarter is known by its name: a figure in it is a street's or a house's."""
        typed = " ".join(self.cleaned_data[name].split())
        if any(sign.isdigit() for sign in typed):
            raise ValidationError(REFUSED["street"], code="street")
        alike = {one.casefold(): one for one in walks.quarters()}
        return alike.get(typed.casefold(), typed)


def sets_out() -> time:
    """When a round of today may begin: at the usual hour, or in the next quarter of an hour."""
    later = timezone.localtime(now()) + timedelta(minutes=15)
    soon = time(later.hour, later.minute // 15 * 15)
    return max(SET_OUT, soon) if later.date() == today() else SET_OUT


class RoundForm(RoundsForm):
    """What goes on a round, on which day, and between which hours."""

    press = _("Work the order out")
    on = DayField(label=_("Day of the round"), initial=today)
    starts_at = HourField(label=_("Set out at"), initial=sets_out)
    starts_in = forms.ChoiceField(label=_("From which quarter"), required=False)
    ends_by = HourField(
        label=_("Last door behind you by"), required=False, help_text=_("Empty: by sunset.")
    )
    walker = forms.ChoiceField(label=_("Who goes"))
    prints = TicksField(label=_("What goes on it"))

    def __init__(self, *args: Any, user: User, ready: Sequence[Print], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.user, self.ready = user, ready
        self.unknown: list[tuple[str, str]] = []
        known = [("", _("the first door")), *((name, name) for name in walks.quarters())]
        self.fields["starts_in"] = forms.ChoiceField(
            label=_("From which quarter"), required=False, choices=known
        )
        self.fields["prints"] = TicksField(
            label=_("What goes on it"), choices=[(str(row.pk), called(row, user)) for row in ready]
        )
        if user.is_artist:
            walkers = User.objects.filter(role__in=HANDS, is_active=True).order_by("role")
            self.fields["walker"] = forms.ChoiceField(
                label=_("Who goes"), choices=[(str(one.pk), one.username) for one in walkers]
            )
        else:
            del self.fields["walker"]
        self.order_fields(["on", "starts_at", "starts_in", "ends_by", "walker", "prints"])

    def clean(self) -> dict[str, Any]:
        """Work the order out, and say of each door why it cannot be reached."""
        said = super().clean() or self.cleaned_data
        if not self.errors:
            try:
                self._walk()
            except Refused as refused:
                self.refuse(refused)
        return said

    def _walk(self) -> None:
        said, chosen = self.cleaned_data, self.chosen
        hours = {name: said[name] for name in ("on", "starts_at", "ends_by", "starts_in")}
        walk = walks.plan(chosen, walks.span(**hours))
        names = {str(row.pk): _codes(row, self.user) for row in chosen}
        for key, code in walk.left:
            self.add_error("prints", f"{names[key]}: {LEFT[code]}")
        if walk.left:
            self.unknown = walks.unknown(chosen, said["starts_in"])

    @property
    def chosen(self) -> list[Print]:
        """The prints that were ticked."""
        keys = set(self.cleaned_data["prints"])
        return [row for row in self.ready if str(row.pk) in keys]

    @property
    def who_goes(self) -> User:
        """Who goes: whoever fills the form in, unless the artist names somebody."""
        named = self.cleaned_data.get("walker")
        return User.objects.get(pk=UUID(named)) if named else self.user

    def planned(self) -> dict[str, Any]:
        """The round, as the action takes it."""
        names = ("on", "starts_at", "starts_in", "ends_by")
        return {
            **{name: self.cleaned_data[name] for name in names},
            "prints": self.chosen,
            "walker": self.who_goes,
        }


def _codes(row: Print, user: User) -> str:
    """A print by its codes; an assistant's list says only the person's of one held close."""
    is_held_close = row.not_at_the_lab and not user.is_artist
    picture = row.picture.code if row.picture and not is_held_close else ""
    return " · ".join(filter(None, (row.person.code, picture)))


def called(row: Print, user: User) -> str:
    """A print in a list of stops: codes, quarter and hours, never a name.

    Of one that is held close an assistant's list says no quarter and no hours either.
    """
    parts = [_codes(row, user)]
    if user.is_artist or not row.not_at_the_lab:
        parts.append(row.quarter or "")
        for at, words in ((row.opens_at, NOT_BEFORE), (row.closes_at, NOT_AFTER)):
            parts.append(words % {"hour": f"{at:%H:%M}"} if at else "")
    return " · ".join(filter(None, parts))


class TypedForm(PlainForm):
    """One line for each door of a round; lines that are empty wait for another time."""

    press = _("Type it in")
    on = PastDayField(label=_("On which day"))

    def __init__(self, *args: Any, round: Round, doors: Iterable[RoundDoor], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.round = round
        self.fields["on"].initial = min(round.on, today())
        self.doors = {door.letter: door for door in doors if walks.is_open(door)}
        came = [("", _("not typed yet")), *CAME.items()]
        for letter in self.doors:
            self.fields[f"came_{letter}"] = forms.ChoiceField(
                label=_("What came of it"), required=False, choices=came
            )
            self.fields[f"word_{letter}"] = NoteLine(label=_("Through whom, or what happened"))

    def groups(self) -> list[Group | str]:
        """The day, then each door under its letter; the heading holds codes only."""
        parts = [
            Group(f"{letter} · {door.print.person.code}", f"came_{letter}", f"word_{letter}")
            for letter, door in self.doors.items()
        ]
        return ["on", *parts]

    def clean_on(self) -> date:
        """Nothing happened on a round before its day."""
        on: date = self.cleaned_data["on"]
        if on < self.round.on:
            raise ValidationError(REFUSED["before_the_round"], code="before")
        return on

    def clean(self) -> dict[str, Any]:
        """A word without what came of it says too little; a letter of before was typed already."""
        said = super().clean() or self.cleaned_data
        for letter in self.doors:
            if said.get(f"word_{letter}") and not said.get(f"came_{letter}"):
                self._say(letter, "which_came")
        gone = {name[5:] for name, value in self.data.items() if name[:5] == "came_" and value}
        for letter in sorted(gone - self.doors.keys()):
            self._say(letter, "typed_already")
        return said

    def _say(self, letter: str, code: str) -> None:
        words = _("Letter %(letter)s: %(words)s") % {"letter": letter, "words": REFUSED[code]}
        field = f"came_{letter}"
        self.add_error(field if field in self.fields else None, words)

    def lines(self) -> list[Said]:
        """The doors of which something was said and nothing is wrong."""
        said = self.cleaned_data
        found = (
            (door, said.get(f"came_{letter}", ""), said.get(f"word_{letter}", ""))
            for letter, door in self.doors.items()
        )
        return [line for line in found if line[1] and said.get("on")]

    def tell(self, stored: Iterable[str], refused: dict[str, Refused]) -> None:
        """Say beside each letter why it was refused; those that are stored are asked no more."""
        for letter, no in refused.items():
            for code in no.codes:
                self._say(letter, code)
        for letter in stored:
            self.doors.pop(letter)
            for name in ("came", "word"):
                self.fields.pop(f"{name}_{letter}")
