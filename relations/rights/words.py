"""The words of the rights room: what was lost, the card of five lines, counts and endings."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from .closing import Ending, Lack
from .deposit import Level
from .models import RequestKind
from .values import (
    NAMES_NOBODY,
    AskedBy,
    AskedWay,
    Lost,
    OpenThing,
    Outcome,
    PersonEnding,
    Spoken,
    SureHow,
    Told,
)

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

LOST: dict[str, "_StrPromise"] = {
    Lost.PHONE: pgettext_lazy("what was lost", "A phone"),
    Lost.BAG: pgettext_lazy("what was lost", "A bag"),
    Lost.PAPERS: pgettext_lazy("what was lost", "Papers"),
    Lost.LAPTOP: pgettext_lazy("what was lost", "A laptop"),
    Lost.BLANK: pgettext_lazy("what was lost", "A blank form"),
}
# What anybody presses; a blank is named with its serial where a trip is counted.
PRESSES: dict[str, "_StrPromise"] = {
    lost: words for lost, words in LOST.items() if lost not in NAMES_NOBODY
}
ASKED_BY: dict[str, "_StrPromise"] = {
    AskedBy.PRESS: _("A reporter"),
    AskedBy.SCHOLAR: _("A scholar"),
    AskedBy.POLICE: _("Police"),
    AskedBy.COURT: _("A court"),
    AskedBy.SOMEBODY: _("Somebody else"),
}
TOLD: dict[str, "_StrPromise"] = {
    Told.NOTHING: _("The sentence, and nothing else"),
    Told.PASSED_ON: _("That a message may be left; it is passed on if that is safe"),
    Told.TO_LAWYER: _("That the artist answers, through a lawyer"),
}
REQUESTS: dict[str, "_StrPromise"] = {
    RequestKind.WHAT_YOU_HOLD: _("What do you hold about me?"),
    RequestKind.MEND: _("Put something right"),
    RequestKind.ERASE: _("Erase me"),
    RequestKind.OBJECT: _("I do not want this"),
}
ASKED_WAYS: dict[str, "_StrPromise"] = {
    AskedWay.VOICE: _("By voice"),
    AskedWay.PAPER: _("On paper"),
}
SURE: dict[str, "_StrPromise"] = {
    SureHow.WORD: _("They said the agreed word"),
    SureHow.FACE: _("One of us knows their face"),
    SureHow.SPEAKER: _("Whoever speaks for them was there"),
}
OUTCOMES: dict[str, "_StrPromise"] = {
    Outcome.DONE: _("It was done, and they were told"),
    Outcome.NOT_DONE: _("It was not done; they were told why, and where they can complain"),
}
CARD: tuple["_StrPromise", ...] = (
    _("Get away from danger first; things can be replaced."),
    _("Say now what was lost, from any browser; details later."),
    _("Do not go back for it, and do not ring numbers that were on it."),
    _("The artist rings those who may be touched, grave first; you ring nobody."),
    _("Write down the hour, the place and what was in it while you remember."),
)
# What goes with somebody who is erased, as `leaving.counts` counts it.
GOING: dict[str, "_StrPromise"] = {
    "names": _("Names, numbers, and who speaks for them"),
    "links": _("Who told us of them, and of whom they told us"),
    "talks": _("Rings, meetings, talks and recordings"),
    "forms": _("Forms, and their scans"),
    "noes": _("What they took back, and what was said for them"),
    "quotes": _("Words of theirs"),
    "prints": _("Prints owed and other promises"),
    "alone": _("Pictures of them alone: light copy and words"),
    "together": _("Pictures with others in them: light copy and words"),
    "mended": _("Older values of mended entries"),
}
# What is typed, in every language.
BACK_UP = "python3 manage.py backup DIR"
# Of what a backup holds, what a person may want to know the number of.
HELD: dict[str, "_StrPromise"] = {
    "people.participant": _("People"),
    "pictures.picture": _("Pictures"),
    "consent.form": _("Forms"),
    "prints.print": _("Prints"),
}
# What is counted for funders, and what must be known of it.
COUNTED: dict[str, "_StrPromise"] = {
    "sat": _("People who sat, by group"),
    "heard": _("People we heard of, by half-year"),
    "prints": _("Prints in people’s hands, by half-year"),
}
COUNTED_OF: dict[str, "_StrPromise"] = {
    "sat": _("Each is counted once, however often they sat."),
    "heard": _("By the day on which somebody first told us of them; not all of them sat."),
    "prints": _("By the day on which they came there; one person may have several."),
}
# How a print or a promise ended, and what is missing where it has not.
ENDED: dict[str, "_StrPromise"] = {
    Ending.ACKNOWLEDGED: _("Prints in their hands, and they said so"),
    Ending.NOT_WANTED: _("Prints that they do not want"),
    Ending.ARCHIVE: _("Prints in an archive"),
    Ending.GIVEN_TO_SPEAKER: _("Prints given to who speaks for them"),
    Ending.DESTROYED: _("Prints destroyed"),
    Ending.APOLOGY: _("Nothing to print, and an apology given"),
    Ending.LOST: _("Prints lost for good"),
    Ending.KEPT: _("Promises kept"),
    Ending.LET_OFF: _("Promises that they let us off"),
    Ending.COULD_NOT: _("Promises that could not be kept"),
}
LACKS: dict[str, "_StrPromise"] = {
    Lack.NOT_OWED_YET: _("No print was owed so far. Owe what is missing."),
    Lack.ON_ITS_WAY: _("Its next step comes first."),
    Lack.NO_WORD: _("Ask whether they have it."),
    Lack.DECIDE: _("Ask once more. Then somebody decides where it goes."),
    Lack.APOLOGISE: _("Sit again, or give an apology and end it."),
    Lack.LOST_FOR_GOOD: _("Have it made again, or end it."),
    Lack.OPEN: _("Keep it, or say how it ends."),
}
# What is counted when one assistant hands on to another.
COUNTED_BY_HAND: dict[str, "_StrPromise"] = {
    OpenThing.RINGS: _("Rings planned"),
    OpenThing.MEETINGS: _("Meetings ahead"),
    OpenThing.PROMISES: _("Promises open"),
    OpenThing.DOWN: _("Things that must still come down"),
    OpenThing.BLANKS: _("Blank forms"),
    OpenThing.PRINTS: _("Prints with us"),
    OpenThing.KEYS: _("Keys"),
    OpenThing.PHONES: _("Telephones"),
}
SPOKEN: dict[str, "_StrPromise"] = {
    Spoken.INTRODUCED: _("The newcomer may come"),
    Spoken.REFUSED: _("Only the artist rings"),
}
# How the project ends for one person.
PERSON_ENDED: dict[str, "_StrPromise"] = {
    PersonEnding.AS_AGREED: _("Kept as agreed"),
    PersonEnding.ARCHIVE: _("To the archive"),
    PersonEnding.GIVEN_BACK: _("Given back"),
    PersonEnding.DESTROYED: _("Destroyed"),
    PersonEnding.COULD_NOT_ASK: _("Could not ask: sealed"),
}
# Who may see a picture in an archive.
DEPOSIT_LEVELS: dict[str, "_StrPromise"] = {
    Level.OPEN: _("open to readers"),
    Level.CLOSED_UNTIL: _("closed until that day"),
    Level.ASK_AGAIN: _("closed until we write that each was asked again"),
}
REFUSED: dict[str, "_StrPromise"] = {
    "ending_gone": _("This ending was taken back meanwhile. Say anew how it ends."),
    "project_closed": _("The project is closed. Say first that it goes on after all."),
    "keeper_only": _("This is for the keeper."),
    "artist_only": _("This is for the artist."),
    "no_word": _("A word has at least one letter."),
    "no_word_agreed": _("No word was agreed with them. Say how else you were sure; ask no papers."),
    "wrong_word": _("It is another word. Ask again, calmly; or say how else you were sure."),
    "sure_first": _("Say first how you were sure that it is they who ask."),
    "answered": _("They were answered already."),
    "before_it_was_asked": _("This day comes before they asked."),
    "month_is_over": _(
        "Their month was over on that day: who must wait longer is told so inside it."
    ),
    "artist_and_lawyer": _(
        "With police and courts only the artist speaks, through a lawyer: say the sentence only."
    ),
    "tell_them_first": _("Tell everybody in it first: asking makes a noise."),
    "before_it_was_seen": _("This day comes before it was seen."),
    "stop_first": _(
        "Pictures of this person are shown now. Press Stop first: else nobody would take them down."
    ),
    "still_up": _(
        "Something must still come down after their stop. Finish that list first: it goes with "
        "them. What cannot come down is noted there as such."
    ),
    "ledger": _(
        "The list of what was erased does not stand, so nothing was erased. Somebody at the "
        "machine itself must look: manage.py check_log says what is wrong."
    ),
    "no_report": _("There is no report of this day."),
    "artist_or_keeper": _("This is for the artist or the keeper."),
    "not_begun": _("Say first that the project is to close."),
    "still_lacking": _("Something still lacks its ending. It stands below."),
    "before_it_began": _("This comes before the closing was begun."),
    "no_speaker": _("Nobody speaks for them: choose another ending."),
    "archive_not_agreed": _(
        "Not everybody in this picture says yes to an archive there, without a condition. Ask "
        "them, or choose another ending."
    ),
    "is_held": _(
        "A hold lies on them, and nothing of theirs moves: somebody must look first, then lift it."
    ),
    "still_owed": _(
        "A print or a promise is still owed to them: it must be brought or ended first."
    ),
    "postponed": _("This was postponed. It comes back on its day."),
    "postponed_before": _("This was postponed once already, and cannot be again."),
    "never_later": _("Nobody who was erased may stay in a backup for longer than 90 days."),
    "no_sentence": _("Say in one sentence why it must stay."),
    "sealed_before": _("This is sealed already."),
    "log_broken": _(
        "The log of who looked does not stand, so nothing of it was let go. Somebody at the "
        "machine itself must look: manage.py check_log says where."
    ),
    "people_without_ending": _("Somebody has no ending yet. Say for each person how it ends."),
    "not_this_ending": _("This is no ending for somebody who stands there."),
    "their_archive_not_agreed": _("No picture of theirs may go to an archive."),
    "nobody_alike": _("Nobody stands there any more."),
    "the_same_person": _("Nobody hands on to themselves."),
    "not_an_assistant": _("Only an assistant hands on."),
    "cannot_come": _("They cannot sign in."),
    "already_signed": _("Both have signed already."),
    "handover_over": _("This handover is over, or one of the two signs in no more."),
    "own_password_first": _("The newcomer signs in once and chooses a password first."),
    "differs": _("The numbers differ. Count again, or say why in a sentence."),
    "not_their_password": _("This is not their password. Try again."),
    "before_the_handover": _("This day comes before both had signed."),
    "not_yours_to_say": _("This is for the artist, or for that assistant."),
    "not_touched": _("This alarm does not touch them."),
    "told_or_why": _("Say one of the two: the day on which it was told, or why it need not be."),
    "authority_first": _(
        "Note first whether the authority was told, or why it need not be; then close it."
    ),
    "before_it_was_known": _("It was not known yet on that day."),
}
