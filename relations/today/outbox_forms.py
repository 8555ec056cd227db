"""The short forms that may be written without a signal: a stop, a door, a round, a ring."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any, ClassVar

from crispy_forms.helper import FormHelper
from django import forms
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.consent.spoken import take_back
from relations.consent.values import Scope, Use
from relations.consent.words import USES
from relations.languages.codes import tidy
from relations.languages.forms import CodeField, DayField, HourField, PlainForm
from relations.meetings import actions as meetings
from relations.meetings.queries import SPOKE, open_lines, zone_of
from relations.meetings.values import Outcome
from relations.meetings.words import OUTCOMES
from relations.meetings.words import REFUSED as OF_MEETINGS
from relations.people import access
from relations.people.forms import NoteLine, PastDayField
from relations.people.models import Participant
from relations.people.search import by_code
from relations.prints import actions as prints
from relations.prints import walking, walks
from relations.prints.models import Print, RoundDoor
from relations.prints.round_words import CAME
from relations.prints.round_words import REFUSED as OF_ROUNDS
from relations.prints.rules import PrintState
from relations.prints.words import REFUSED as OF_PRINTS
from relations.prints.words import STEPS
from relations.privacy.access import HANDS
from relations.privacy.answering import ActionForm
from relations.privacy.home import now, today
from relations.privacy.models import User
from relations.privacy.refused import Refused
from relations.uses.actions import open_undo
from relations.uses.words import REFUSED as OF_USES

from .rules import SLACK

S = PrintState
AT_THE_DOOR = (S.IN_HAND, S.NOT_HOME, S.NOT_SAFE, S.HANDED_ON, S.LOST, S.RETURNED_BY_THEM)
OURS = {
    "nobody": _("Nobody with this code was found for you on that day."),
    "which_print": _("Type the code of the picture: no print of theirs is out, or more than one."),
    "no_print": _("They are owed no print of this picture."),
    "hour_in_future": _("This hour has not come yet."),
    "not_yours": _("This is not for your role. Tell the artist."),
    "clock": _(
        "Our own clock is behind, so nothing dated is taken in. Keep this page and tell us."
    ),
    "signed_out": _("Sign in first, in another tab; what you typed stays here."),
    "settled": _("Somebody has settled this already."),
}


class EntryForm(ActionForm, PlainForm):
    """What happened, in codes and days only: of whom, and on which day."""

    KIND: ClassVar[str]
    about: ClassVar = {
        **dict.fromkeys(("nobody", "no_such_move", "not_yours"), "code"),
        **dict.fromkeys(("which_print", "no_print"), "picture"),
        **dict.fromkeys(("day_in_future", "before_the_last_step"), "day"),
        **dict.fromkeys(("no_day", "day_is_past"), "asked_on"),
        "hour_in_future": "hour",
    }

    # Kept in a browser it holds no token: a fresh one is fetched when it is sent.
    is_kept = False
    # Where it is sent from another page than its own.
    action = ""

    kind = forms.CharField(widget=forms.HiddenInput)
    code = CodeField(label=_("Code of the person"))
    day = PastDayField(label=_("On which day"), initial=today)

    def __init__(self, *args: Any, user: User | None = None, **kwargs: Any) -> None:
        super().__init__(*args, auto_id=f"{self.KIND}_%s", **kwargs)
        self.fields["kind"].initial = self.KIND
        self.user = user
        self.person: Participant | None = None

    @property
    def helper(self) -> FormHelper:
        """Unlike others it is checked by the browser too: without a signal nobody else does."""
        helper = super().helper
        helper.attrs = {"data-outbox": self.KIND}
        helper.form_action = self.action or reverse("today:write")
        helper.disable_csrf = self.is_kept
        return helper

    def clean(self) -> dict[str, Any]:
        """Find the person; absent and not yours are the same."""
        said = super().clean() or self.cleaned_data
        if said.get("code") and said.get("day") and self.user:
            self.person = self._whom(self.user, said["code"], said["day"])
            if self.person is None:
                self.refuse(Refused("nobody"))
        return said

    def _whom(self, user: User, code: str, on: date) -> Participant | None:
        """Somebody in sight today, or on the day it happened."""
        found = by_code(code)
        seen = [one for one in found for day in (today(), on) if access.in_sight(user, one, day)]
        return seen[0] if seen else None

    @classmethod
    def whose(cls, typed: Mapping[str, str]) -> Participant | None:
        """Of whom an entry is, as it came from a telephone: what was typed may be anything."""
        return next(iter(by_code(typed.get("code", ""))), None)

    def found(self) -> Participant:
        """The person of a valid form."""
        if self.person is None:
            raise Refused("nobody")
        return self.person

    def act(self, by: User) -> str:
        """Do what a press on the page of this does; the address it leads to. Raise Refused."""
        raise NotImplementedError


class StopEntry(EntryForm):
    """A no: it acts on hearing, whoever's sight they are in."""

    KIND = "stop"
    refusals: ClassVar = {**OF_USES, **OURS}
    press, look = _("Stop"), "stopbtn"
    what = forms.ChoiceField(
        label=_("What is taken back"),
        choices=[
            (Scope.ALL.value, pgettext_lazy("what is taken back", "Everything")),
            *((f"use:{use.value}", USES[use]) for use in Use),
        ],
    )
    field_order = ("code", "what", "day")

    def _whom(self, user: User, code: str, on: date) -> Participant | None:
        return next(iter(by_code(code)), None)

    def act(self, by: User) -> str:
        person, at = self.found(), now()
        scope, _colon, use = self.cleaned_data["what"].partition(":")
        said_on = self.cleaned_data["day"]
        take_back(person=person, scope=scope, use=use, said_on=said_on, by=by, at=at)
        open_undo(person=person, by=by, at=at)
        if by.role in HANDS and access.in_sight(by, person):
            return reverse("uses:undo", args=[person.code])
        return reverse("uses:stopped")


class DeliveryEntry(EntryForm):
    """What became of a print at the door."""

    KIND = "delivery"
    refusals: ClassVar = {**OF_PRINTS, **OURS}
    press = _("Keep the delivery")
    picture = CodeField(
        label=_("Code of the picture"),
        required=False,
        help_text=_("Empty where one print of theirs is out."),
    )
    to = forms.ChoiceField(
        label=_("What became of the print"), choices=[(to.value, STEPS[to]) for to in AT_THE_DOOR]
    )
    field_order = ("code", "picture", "to", "day")

    def act(self, by: User) -> str:
        said = self.cleaned_data
        row = self._print()
        prints.step(print=row, to=said["to"], on=said["day"], by=by, at=now())
        picture = row.picture.code if row.picture else "no-picture"
        return reverse("prints:way", args=[row.person.code, picture])

    def _print(self) -> Print:
        rows = Print.objects.filter(person=self.found()).select_related("person", "picture")
        if picture := self.cleaned_data["picture"]:
            row = rows.filter(picture__code=picture).first()
            if row is None:
                raise Refused("no_print")
            return row
        out = list(rows.filter(state=PrintState.OUT_ON_A_ROUND)[:2])
        if len(out) != 1:
            raise Refused("which_print")
        return out[0]


class RoundEntry(EntryForm):
    """What came of one letter of a round: no code of anybody is written down."""

    KIND = "round"
    refusals: ClassVar = {
        **OF_ROUNDS,
        **OURS,
        "nobody": _("No round of yours has this code and this letter."),
    }
    press = _("Keep the letter")
    code = CodeField(label=_("Code of the round"))
    letter = CodeField(label=_("Letter"), max_length=1)
    came = forms.ChoiceField(label=_("What came of it"), choices=list(CAME.items()))
    word = NoteLine(label=_("Through whom, or what happened"))
    door: RoundDoor | None = None
    field_order = ("code", "letter", "came", "word", "day")

    @classmethod
    def whose(cls, typed: Mapping[str, str]) -> Participant | None:
        door = walking.door_of(tidy(typed.get("code", "")), tidy(typed.get("letter", "")))
        return door.print.person if door else None

    def _whom(self, user: User, code: str, on: date) -> Participant | None:
        """Of a round of their own, as on its page."""
        letter = self.cleaned_data.get("letter", "")
        row = walks.of_user(user).filter(code=code).first()
        seen = walks.doors(user, row) if row else []
        self.door = next((door for door in seen if door.letter == letter), None)
        return self.door.print.person if self.door else None

    def act(self, by: User) -> str:
        if self.door is None:
            raise Refused("nobody")
        said = self.cleaned_data
        about = {"came": said["came"], "on": said["day"], "reason": said["word"]}
        walking.note_door(door=self.door, by=by, at=now(), **about)
        return reverse("prints:typed", args=[said["code"]])


class RingEntry(EntryForm):
    """What came of a ring."""

    KIND = "ring"
    refusals: ClassVar = {**OF_MEETINGS, **OURS}
    press = _("Keep the ring")
    hour = HourField(label=_("At what hour"), initial=lambda: timezone.localtime(now()).time())
    outcome = forms.ChoiceField(label=_("What came of it"), choices=list(OUTCOMES.items()))
    by_them = forms.BooleanField(label=_("They rang us"), required=False)
    asked_on = DayField(label=_("Day they named"), required=False)
    asked_hour = HourField(label=_("Hour they named"), required=False)
    field_order = ("code", "outcome", "by_them", "day", "hour", "asked_on", "asked_hour")

    def clean(self) -> dict[str, Any]:
        """A ring that is still to come was not made."""
        said = super().clean()
        if said.get("day") and said.get("hour"):
            said["at"] = timezone.make_aware(datetime.combine(said["day"], said["hour"]))
            if said["at"] > max(now(), timezone.now()) + SLACK:
                self.refuse(Refused("hour_in_future"))
        return said

    def act(self, by: User) -> str:
        person, said = self.found(), self.cleaned_data
        lines = list(open_lines(person))
        about: dict[str, Any] = {
            "person": person,
            "by": by,
            "at": said["at"],
            "line": lines[0] if len(lines) == 1 else None,
            "by_them": said["by_them"],
        }
        if said["outcome"] == SPOKE:
            meetings.note_spoke(**about)
        else:
            asked = self._asked_for(person)
            meetings.note_call(**about, outcome=said["outcome"], **asked)
        if said["outcome"] == Outcome.YES_MEET and access.in_sight(by, person):
            return reverse("meetings:fix", args=[person.code])
        return reverse("meetings:rings")

    def _asked_for(self, person: Participant) -> dict[str, Any]:
        day, hour = self.cleaned_data["asked_on"], self.cleaned_data["asked_hour"]
        if day is None or hour is None:
            return {"asked_for_on": day}
        return {"asked_for_at": datetime.combine(day, hour, zone_of(open_lines(person)))}


FORMS: dict[str, type[EntryForm]] = {
    form.KIND: form for form in (StopEntry, DeliveryEntry, RoundEntry, RingEntry)
}
