"""The words of letting go, by clock: what ran out, what is let go, what of it stays and why.

What is said in numbers is filled in (`said`) from the numbers by which the site itself acts.
"""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _

from relations.languages.said import filled
from relations.meetings.rules import RECORDING_MONTHS
from relations.people.rules import SHOWS_A_DAY
from relations.privacy.devices import KNOWN_FOR

from . import clocks
from .clocks import OF_PERSONS, Clock

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

NUMBERS: dict[str, int] = {
    "named": clocks.NAMED_DAYS,
    "said_no": clocks.SAID_NO_DAYS,
    "reached": clocks.REACHED_MONTHS,
    "ways": clocks.WAYS_MONTHS,
    "rings": clocks.RINGS_MONTHS,
    "links": clocks.LINKS_MONTHS,
    "recordings": RECORDING_MONTHS,
    "forms": clocks.FORMS_MONTHS // 12,
    "log": clocks.LOG_MONTHS,
    "backups": clocks.BACKUP_DAYS,
    "device": KNOWN_FOR.days,
    "numbers": SHOWS_A_DAY,
}


def said(words: object, **more: object) -> str:
    """These words in the language of whoever reads them, with the numbers by which we act."""
    return filled(words, **NUMBERS, **more)


CLOCKS: dict[str, "_StrPromise"] = {
    Clock.NAMED: _("Named, and nobody vouched for them in %(named)s days"),
    Clock.SAID_NO: _("Said no %(said_no)s days ago"),
    Clock.NEVER_REACHED: _("Never reached in %(reached)s months"),
    Clock.PAUSED: _("At rest for %(reached)s months"),
    Clock.STEPPED_BACK: _("Stepped back, and their forms prove nothing any more"),
    Clock.WAYS: _("Numbers and places, %(ways)s months after the last yes"),
    Clock.RINGS: _("Rings of more than %(rings)s months ago"),
    Clock.LINKS: _(
        "Who told us of whom, %(links)s months after the last sitting or once a file is closed"
    ),
    Clock.RECORDINGS: _("Recordings whose last day has come"),
    Clock.FORMS: _("Forms, %(forms)s years after their last use"),
    Clock.SEE_LOG: _("Who looked at what, more than %(log)s months ago"),
    Clock.BACKUPS: _("Backups of more than %(backups)s days ago"),
}
# One line of the list; "%(code)s" is the code of a person or a recording, a serial or a month.
THINGS: dict[str, "_StrPromise"] = {
    **dict.fromkeys(OF_PERSONS, _("The whole person %(code)s")),
    Clock.WAYS: _("Numbers and places of %(code)s"),
    Clock.RINGS: _("What was noted of old rings"),
    Clock.LINKS: _("Who told us of %(code)s"),
    Clock.RECORDINGS: _("Recording %(code)s"),
    Clock.FORMS: _("What form %(code)s says"),
    Clock.SEE_LOG: _("Old lines of the log"),
    Clock.BACKUPS: _("Backups of the month %(code)s"),
}
LET_GO_OF: dict[str, "_StrPromise"] = {
    **dict.fromkeys(
        OF_PERSONS, _("The whole person: every row, file, search key and link of theirs.")
    ),
    Clock.WAYS: _("Their numbers, places and ways to reach them: nobody can ring them any more."),
    Clock.RINGS: _("Number, hour and what came next, of every ring that is so old."),
    Clock.LINKS: _("Who told us of this person. The person stays."),
    Clock.RECORDINGS: _("The sealed recording: nobody can listen to it any more."),
    Clock.FORMS: _("Scan, copies, readings and answers."),
    Clock.SEE_LOG: _("The lines that are so old."),
    Clock.BACKUPS: _(
        "The key of that month: no copy of these backups opens any more, wherever it lies. The "
        "key file beside the backups follows with the next backup."
    ),
}
# Of a whole person the page says more than one line.
STAYS: dict[str, "_StrPromise"] = {
    Clock.WAYS: _("Name, forms and pictures: their words may be needed for what is still shown."),
    Clock.RINGS: _("The day and the outcome of each ring: how often somebody was rung."),
    Clock.LINKS: _("How far out this person stands, not through whom: for the counts."),
    Clock.RECORDINGS: _("Its code: what was counted on the trip still comes out."),
    Clock.FORMS: _("Number, kind, check sum and days: the proof that there was a form."),
    Clock.SEE_LOG: _("One line as an anchor: the log still shows whether it is whole."),
    Clock.BACKUPS: _("Nothing of them. Later backups are not touched."),
}
