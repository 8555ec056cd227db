"""The words of the uses room: each reason and next action as a sentence, each line to undo."""

from typing import TYPE_CHECKING, NamedTuple

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.consent.answers import Code, NextAction, Result
from relations.consent.values import Use

from .rules import Force
from .sidecar import Release

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise


class Said(NamedTuple):
    """What holds, and what is done next about it."""

    reason: "_StrPromise"
    next: "_StrPromise"


# Once more at the next talk; a message can be read by others.
ASK_ONCE = _("May be asked once more, at the next talk; never by message.")
REASONS: dict[str, Said] = {
    Code.HOLD: Said(
        _("A hold lies on this."), _("Look into it by its day; the artist or the keeper lifts it.")
    ),
    Code.STRANGER: Said(
        _("Somebody in it can be recognised and is not settled."),
        _("Name and ask them, crop, or choose another frame."),
    ),
    Code.ERASED: Said(_("Erased, given back or destroyed."), _("Leave it out, for good.")),
    Code.NO_FORM: Said(_("No form speaks of this sitting."), _("Ask at the next talk.")),
    Code.NOT_FILED: Said(
        _("The form is not filed: its scan is missing or was not read twice."),
        _("File the scan and read it twice."),
    ),
    Code.INCOMPLETE: Said(
        _("The form lacks a line for the way in which it was given."),
        _("Do that line again, with them."),
    ),
    Code.WORDING: Said(
        _("Nobody has read the wording in the language of the form."),
        _("Have it read, or ask again in another language."),
    ),
    Code.WITHDRAWN: Said(
        _("Took it back."), _("Do not ask again; finish the list of what must come down.")
    ),
    Code.USE: Said(_("Has not said yes to this use."), ASK_ONCE),
    Code.NEWER_FORM: Said(
        _("A newer form says yes too, but does not stand yet."),
        _("Finish it: file it, complete it or have it read."),
    ),
    Code.NOT_THIS_ONE: Said(_("Said no to this picture."), _("Choose another frame.")),
    Code.PLACE: Said(
        _("A country of this use is outside what they allow."),
        _("Leave that country out, or ask them."),
    ),
    Code.EVERYWHERE: Said(
        _("This use is seen everywhere, and they set a limit on countries."),
        _("Leave it off; do not trust the blocking of countries."),
    ),
    Code.TOO_EARLY: Said(
        _("The first day they allow comes later than the start."), _("Wait until that day.")
    ),
    Code.ENDED: Said(_("Their form ends before the start."), _("Ask again at the next talk.")),
    Code.RUNS_OVER: Said(
        _("Their form ends before this use does."), _("End the use on their last day.")
    ),
    Code.TAKE_DOWN_BY: Said(
        _("This use has no end, and their form has a last day."),
        _("Take it down on that day; put it in the calendar."),
    ),
    Code.NAME: Said(
        _("Would be named otherwise than they allow."), _("Change how the plan names them.")
    ),
    Code.NAMED_LESS: Said(
        _("Would be named less than they asked for."),
        _("Is it our caution or our forgetting? Say so to them."),
    ),
    Code.NAME_LEAK: Said(
        _("The caption, the alternative text or the file’s name holds a name never to be printed."),
        _("Change the words."),
    ),
    Code.WHERE: Said(_("The place is told more finely than they allow."), _("Change the words.")),
    Code.FACE: Said(
        _("Said no face, and here they can be recognised, or might be."),
        _("Crop, or choose another frame."),
    ),
    Code.SHOW_FIRST: Said(
        _("Asked to see it first and has not said yes to it."),
        _("Show it to them, and note the answer."),
    ),
    Code.CAPTION: Said(
        _("Asked to agree to the caption and has not agreed to these words."),
        _("Read them the words, or go back to those they agreed to."),
    ),
    Code.QUOTE: Said(
        _("A quote in the caption was not agreed to."), _("Read it to them, or leave it out.")
    ),
    Code.READ_IT: Said(
        _("They wrote a condition of their own that nobody has decided on."),
        _("Decide on it with them."),
    ),
    Code.CANNOT_KEEP: Said(
        _("Their own condition cannot be kept in this use."), _("Talk with them, or leave it out.")
    ),
    Code.AS_WRITTEN: Said(
        _("Their own condition can be kept."), _("Print it with the picture, and keep to it.")
    ),
    Code.AGE: Said(_("Nothing is known of their age."), _("Learn it.")),
    Code.BIRTHDAY: Said(
        _("Only the year of birth is known, and eighteen falls between."),
        _("Learn the day."),
    ),
    Code.GUARDIAN: Said(
        _("Not everybody who holds authority has said yes."), _("Ask the one who is missing.")
    ),
    Code.GUARDIAN_NO: Said(_("One who holds authority said no."), _("Do not ask again.")),
    Code.CHILD_SAYS: Said(
        _("The child’s own yes is not there."),
        _("If it is a no, do not ask again. If nobody asked, ask at the next talk."),
    ),
    Code.GROWN_UP: Said(
        _("Has grown up since the form was given."),
        _("Ask them, alone; nobody else is asked any more."),
    ),
    Code.ASK_AT_18: Said(
        _("Turns eighteen while this is shown."),
        _("Ask them before that day, or take it down on it."),
    ),
    Code.MADE_UNDER_18: Said(
        _("Was under eighteen when it was made, and said yes as an adult."),
        _("The artist looks again at how it shows them."),
    ),
    Code.AWAY: Said(
        _("Cannot answer for now, and nobody has said yes for them since."),
        _("Speak with the one who speaks for them."),
    ),
    Code.DIED: Said(
        _("Has died, and nobody has said yes for them since."),
        _("Speak with the one who speaks for them."),
    ),
    Code.TELL_FIRST: Said(
        _("Wished that it goes on."), _("Tell the family or the lawyer before it is shown.")
    ),
    Code.SPEAKER: Said(
        _("The one who speaks for them said yes."), _("Keep note of who said it, and when.")
    ),
    Code.CHECK_IN: Said(
        _("It is too long since somebody spoke with them."),
        _("Talk with them before it is shown, in person or by a safe ring."),
    ),
    Code.LAST_WORD: Said(
        _("The time for a last word has not begun."),
        _("Speak with them between the day to look again and the first day."),
    ),
}
ACTIONS: dict[str, "_StrPromise"] = {
    NextAction.TALK: _("Talk with them"),
    NextAction.SHOW_OR_READ: _("Show, or read aloud"),
    NextAction.ASK_WHO_MAY_ANSWER: _("Ask who may answer"),
    NextAction.FINISH_FORM: _("Finish the form"),
    NextAction.LOOK_AT_PICTURE: _("Look at the picture"),
    NextAction.CHANGE_WORDS: _("Change the words"),
    NextAction.CHANGE_PLAN: _("Change the plan"),
    NextAction.LOOK_INTO: _("Look into it"),
    NextAction.KEEP_TO: _("Keep to it"),
    NextAction.WAIT: _("Wait"),
    NextAction.NONE: _("Let be"),
}
# What a picture may do that is cleared for a use, in the trade's own word for each of the eleven.
MAY: dict[str, "_StrPromise"] = {
    Use.EXHIBITION: _("may hang"),
    Use.BOOK: _("may go in"),
    Use.PRESS: _("may be printed"),
    Use.WEB: _("may go on line"),
    Use.SOCIAL_MEDIA: _("may be posted"),
    Use.TEACHING: _("may be shown"),
    Use.ARCHIVE: _("may be kept there"),
    Use.FUND_RAISING: _("may go out"),
    Use.PRINT_SALE: _("may be sold"),
    Use.PORTFOLIO: _("may be carried"),
    Use.JURY: _("may be handed in"),
}
# The other two answers; the first is said with what it lets a picture do.
RESULTS: dict[str, "_StrPromise"] = {
    Result.CONDITIONS: _("with a condition"),
    Result.NOT_CLEARED: _("not"),
}
ASKS: dict[str, "_StrPromise"] = {
    Use.EXHIBITION: _("May these hang?"),
    Use.BOOK: _("May these go in?"),
    Use.PRESS: _("May these be printed?"),
    Use.WEB: _("May these go on line?"),
    Use.SOCIAL_MEDIA: _("May these be posted?"),
    Use.TEACHING: _("May these be shown?"),
    Use.ARCHIVE: _("May these be kept there?"),
    Use.FUND_RAISING: _("May these go out?"),
    Use.PRINT_SALE: _("May these be sold?"),
    Use.PORTFOLIO: _("May these be carried?"),
    Use.JURY: _("May these be handed in?"),
}
# What stands before a number of talks: "between this book and nine pictures".
THIS: dict[str, "_StrPromise"] = {
    Use.EXHIBITION: _("this wall"),
    Use.BOOK: _("this book"),
    Use.PRESS: _("this article"),
    Use.WEB: _("this site"),
    Use.SOCIAL_MEDIA: _("this post"),
    Use.TEACHING: _("this lesson"),
    Use.ARCHIVE: _("this archive"),
    Use.FUND_RAISING: _("this appeal"),
    Use.PRINT_SALE: _("this sale"),
    Use.PORTFOLIO: _("this portfolio"),
    Use.JURY: _("this jury"),
}
# What its first day is called.
BEGINS: dict[str, "_StrPromise"] = {
    Use.EXHIBITION: _("the opening"),
    Use.BOOK: _("the press day"),
    Use.PRESS: _("the day of printing"),
    Use.WEB: _("the day it goes on line"),
    Use.SOCIAL_MEDIA: _("the day of the post"),
    Use.TEACHING: _("the day it is taught"),
    Use.ARCHIVE: _("the day of the deposit"),
    Use.FUND_RAISING: _("the day it goes out"),
    Use.PRINT_SALE: _("the first day of the sale"),
    Use.PORTFOLIO: _("the first day it is carried"),
    Use.JURY: _("the day it is handed in"),
}
# Small numbers are read more easily as words.
NUMBERS: tuple["_StrPromise", ...] = (
    pgettext_lazy("how many", "no"),
    pgettext_lazy("how many", "one"),
    pgettext_lazy("how many", "two"),
    pgettext_lazy("how many", "three"),
    pgettext_lazy("how many", "four"),
    pgettext_lazy("how many", "five"),
    pgettext_lazy("how many", "six"),
    pgettext_lazy("how many", "seven"),
    pgettext_lazy("how many", "eight"),
    pgettext_lazy("how many", "nine"),
)
UNDO: dict[str, "_StrPromise"] = {
    "cover": _("Cover it on the wall now, whatever the hour."),
    "off_wall": _("Take it off the wall."),
    "take_down": _("Take it down from the site or the page."),
    "out_of_slides": _("Take it out of the slides."),
    "seal": _("Have it sealed where it lies."),
    "out_of_box": _("Take the print out of the box."),
    "ask_holder": _("Ask those who hold it to take it out; they cannot be forced."),
    "withdraw_offer": _("Withdraw the offer now."),
    "sold_prints_stay": _("Prints that were sold stay with their buyers."),
    "out_of_book": _("Take it out of the book before the press day."),
    "ask_unsold_stock": _("Ask the publisher about the copies not yet sold."),
    "out_of_next_printing": _("Take it out of the next printing."),
    "sold_copies_stay": _("Copies that were sold stay as they are."),
    "copies_by_others": _("Copies that others have made cannot be brought back."),
}
FORCES: dict[str, "_StrPromise"] = {
    Force.FORCED: _("What must come down"),
    Force.ASKED: _("What is asked of others"),
    Force.CANNOT: _("What cannot be undone"),
}
RELEASES: dict[str, "_StrPromise"] = {
    Release.NONE: pgettext_lazy("a model release", "none"),
    Release.NOT_APPLICABLE: _("not needed: nobody can be recognised"),
    Release.UNLIMITED: _("without limit"),
    Release.LIMITED: _("limited"),
}
REFUSED: dict[str, "_StrPromise"] = {
    "artist_only": _("This is for the artist."),
    "code_taken": _("This code stands for something else already. Choose another."),
    "ends_before": _("The last day comes before the first."),
    "no_country": _("Name the countries, or say that it is the world."),
    "no_holder": _("Say who holds the files: without a holder nothing can be taken back."),
    "no_picture": _("Choose at least one picture."),
    "plan_dropped": _("This plan was given up."),
    "no_new_uses": _("No new use is made: the keeper holds them back, or the project is closed."),
    "nobody": _("Say whom: a group, a country, or codes."),
    "look_within_14_days": _("Look again within 14 days."),
    "artist_or_keeper": _("Only the artist or the keeper lifts a hold."),
    "no_sentence": _("Say what was found."),
    "before_the_stop": _("This day comes before the stop."),
    "day_in_future": _("This day has not come yet."),
    "scope": _("Say what is taken back: everything, one use or one picture."),
    "not_in_it": _("They are not in this picture."),
    "nothing_cleared": _("Nothing is cleared for this use, so there is nothing to put on a sheet."),
    "not_cleared": _("One of these is not cleared any more. Look at the list again."),
    "instruction_missing": _("Say what the venue is to keep to: somebody wrote a condition."),
    "sheet_not_open": _("This sheet is not open any more."),
    "not_on_it": _("This picture is not on the sheet."),
    "waits_for_more": _("A word is not enough here: write up the talk, then make a new sheet."),
    "link_day": _("A link ends today at the earliest, and with its sheet at the latest."),
    "not_its_words": _("These words stand under another picture."),
}
