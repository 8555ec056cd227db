"""The words of the people room: what its codes are called on a screen."""

from typing import TYPE_CHECKING

from babel.dates import get_timezone_location
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.languages.templatetags.words import reader_locale

from .models import NameKind, Why
from .values import Condition, Precision, Ripeness, Risk, Standing

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

STANDINGS: dict[str, "_StrPromise"] = {
    Standing.NAMED: _("named"),
    Standing.VOUCHED_FOR: _("vouched for"),
    Standing.BEING_RUNG: _("being rung"),
    Standing.THINKING_IT_OVER: _("thinking it over"),
    Standing.MEETING_AGREED: _("meeting agreed"),
    Standing.MET: _("met"),
    Standing.SITTING_AGREED: _("sitting agreed"),
    Standing.TAKING_PART: _("taking part"),
    Standing.GONE_QUIET: _("gone quiet"),
    Standing.SPOKEN_FOR: _("spoken for"),
    Standing.STEPPED_BACK: _("stepped back"),
    Standing.PAUSE: _("pause"),
    Standing.SAID_NO: _("said no"),
    Standing.NEVER_RING: _("never ring"),
    Standing.LET_GO: _("let go"),
    Standing.CLOSED: _("closed"),
}
LEVELS: dict[str, "_StrPromise"] = {
    Risk.ORDINARY: _("ordinary"),
    Risk.RAISED: _("raised"),
    Risk.GRAVE: _("grave"),
}
PRECISIONS: dict[str, "_StrPromise"] = {
    Precision.DAY: _("the day"),
    Precision.MONTH: _("the month only"),
    Precision.YEAR: _("the year only"),
}
CONDITIONS: dict[str, "_StrPromise"] = {
    Condition.WELL: _("can answer"),
    Condition.CANNOT_ANSWER: _("cannot answer for now"),
    Condition.DIED: _("has died"),
}
RIPENESS: dict[str, "_StrPromise"] = {
    Ripeness.ADULT: _("of age"),
    Ripeness.CHILD: _("under age"),
    Ripeness.UNSURE: _("perhaps under age: taken as under age"),
    Ripeness.UNKNOWN: _("age not known"),
}
KINDS_OF_NAME: dict[str, "_StrPromise"] = {
    NameKind.OWN: _("their own name"),
    NameKind.SPELLING: _("a spelling of it"),
    NameKind.NEVER_PRINT: _("never to be printed"),
}
WORKS: dict[str, "_StrPromise"] = {
    Why.NEW: pgettext_lazy("why somebody is in sight", "word came through"),
    Why.RING: pgettext_lazy("why somebody is in sight", "a ring"),
    Why.RANG_US: pgettext_lazy("why somebody is in sight", "rang us"),
    Why.MEETING: pgettext_lazy("why somebody is in sight", "a meeting"),
    Why.SITTING: pgettext_lazy("why somebody is in sight", "a sitting"),
    Why.FORM: pgettext_lazy("why somebody is in sight", "a form"),
    Why.PRINT: pgettext_lazy("why somebody is in sight", "a print"),
    Why.STOP: pgettext_lazy("why somebody is in sight", "a stop"),
}
# Sign languages that Babel has no names for; "und" is what was asked and is not known.
OTHER_LANGUAGES: dict[str, "_StrPromise"] = {
    "lsf": _("French sign language"),
    "und": _("not known"),
}


def clock(zone: str) -> str:
    """A time zone (IANA) by the place whose clock it is, in the reader's language: "Rome"."""
    return get_timezone_location(zone, locale=reader_locale(), return_city=True)


# What an action or the reading of a number refuses, in the words beside the field.
REFUSED: dict[str, "_StrPromise"] = {
    "day_is_past": _("This day is past."),
    "project_closed": _("The project is closed: nobody new, and no sitting."),
    "same_name": _("This is a name they have already."),
    "introducer_has_not_sat": _(
        "Whoever told us of them has not sat yet. Only those who have sat may vouch."
    ),
    "introducer_stepped_back": _("Whoever told us of them has stepped back and does not vouch."),
    "introducer_may_not_vouch": _("Whoever told us of them is not among those who may vouch."),
    "not_asked_first": _("Nobody asked them first. Stop here until somebody has."),
    "artist_has_not_said_yes": _("The artist has not said yes."),
    "two_sources": _("Word comes from one of us or from outside, not from both."),
    "by_themselves": _("This must be somebody else."),
    "told_before": _("This was noted before."),
    "after_yes": _("The artist said yes to this word on an earlier day."),
    "sealed_before": _("Who told us is sealed already."),
    "ledger": _("Nothing was sealed: what says what was erased is not as it was written."),
    "nobody_told": _("Nobody told us of them: there is nothing to note again."),
    "empty": _("No number was typed."),
    "letters": _("A number has no letters. Type its figures only."),
    "two_numbers": _("These are two numbers. Type one, then the other on a line of its own."),
    "country": _("Which country is this number of? Choose it below, or begin with +."),
    "too_short": _("This number is too short."),
    "too_long": _("This number is too long."),
    "wrong_length": _("No number of this country has so many figures."),
    "area_code": _("The area code is missing."),
    "not_a_number": _("This is no telephone number."),
    "never_ring": _("This number may not be rung."),
    "already_theirs": _("This number stands here already."),
    "half_a_birth": _("Say from which day to which day."),
    "backwards": _("The last day comes before the first."),
    "in_the_future": _("This day has not come yet."),
    "no_day": _("Say since which day."),
    "nobody_named": _("Name the one who answers for them."),
    "look_within_14_days": _("A hold is looked at again within 14 days."),
    "no_sentence": _("Say in one sentence what was found."),
    "artist_only": _("This is for the artist."),
    "artist_or_keeper": _("This is for the artist or the keeper."),
    "day_is_over": _("The day in which this could be undone is over."),
    "not_theirs": _("This belongs to somebody else."),
}
