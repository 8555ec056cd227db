"""The words of the prints room: where a print is, in one sentence, and what each step is called."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from .lab import Came, Fault, Surface, Unusual, Why
from .models import PromiseKind
from .promises import Otherwise
from .rules import Answered, PrintState

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

S = PrintState
STATES: dict[str, "_StrPromise"] = {
    S.OWED: _("owed"),
    S.ASKED_HOW: _("asked how"),
    S.NOTHING_TO_PRINT: _("nothing to print"),
    S.FILE_READY: _("file ready"),
    S.ORDERED: _("ordered"),
    S.AT_THE_LAB: _("at the lab"),
    S.COLLECTED: _("collected"),
    S.CHECKED: _("checked"),
    S.FAULTY: _("faulty"),
    S.OUT_ON_A_ROUND: _("out on a round"),
    S.POSTED: _("posted"),
    S.NOT_HOME: _("not home"),
    S.NOT_SAFE: _("not safe"),
    S.LOOKING_FOR_A_WAY: _("looking for a way"),
    S.HANDED_ON: _("handed on"),
    S.KEPT_FOR_THEM: _("kept for them"),
    S.LOST: _("lost"),
    S.IN_HAND: _("in hand"),
    S.RETURNED_BY_THEM: _("returned by them"),
    S.ACKNOWLEDGED: _("acknowledged"),
    S.DECLINED: _("does not want it"),
    S.CLOSED_OUT: _("closed out"),
}
# The print's way in one sentence, the day it came there in it.
SAYS: dict[str, "_StrPromise"] = {
    S.OWED: _("Owed since %(day)s."),
    S.ASKED_HOW: _("Asked how on %(day)s."),
    S.NOTHING_TO_PRINT: _("Nothing to print since %(day)s; an apology is owed."),
    S.FILE_READY: _("The file is ready since %(day)s."),
    S.ORDERED: _("Ordered on %(day)s."),
    S.AT_THE_LAB: _("At the lab since %(day)s."),
    S.COLLECTED: _("Collected on %(day)s, not checked yet."),
    S.CHECKED: _("Checked on %(day)s."),
    S.FAULTY: _("Found faulty on %(day)s."),
    S.OUT_ON_A_ROUND: _("Out on a round since %(day)s."),
    S.POSTED: _("Posted on %(day)s; no word yet."),
    S.NOT_HOME: _("Nobody was home on %(day)s."),
    S.NOT_SAFE: _("It was not safe to bring it on %(day)s."),
    S.LOOKING_FOR_A_WAY: _("Looking for a way since %(day)s."),
    S.HANDED_ON: _("Handed on through somebody on %(day)s; no word from them yet."),
    S.KEPT_FOR_THEM: _("Kept for them since %(day)s."),
    S.LOST: _("Lost on %(day)s."),
    S.IN_HAND: _("In their hands since %(day)s."),
    S.RETURNED_BY_THEM: _("They gave it back on %(day)s."),
    S.ACKNOWLEDGED: _("They have it and said so on %(day)s."),
    S.DECLINED: _("They said on %(day)s that they do not want it."),
    S.CLOSED_OUT: _("Closed out on %(day)s."),
}
# What the press says that brings a print into a state.
STEPS: dict[str, "_StrPromise"] = {
    S.OWED: _("It is owed again"),
    S.ASKED_HOW: _("Asked how"),
    S.NOTHING_TO_PRINT: _("There is nothing to print"),
    S.FILE_READY: _("The file is ready"),
    S.ORDERED: _("Ordered"),
    S.AT_THE_LAB: _("It is at the lab"),
    S.COLLECTED: _("Collected"),
    S.CHECKED: _("Checked, good"),
    S.FAULTY: _("It is faulty"),
    S.OUT_ON_A_ROUND: _("Set out for a round"),
    S.POSTED: _("Posted"),
    S.NOT_HOME: _("Nobody home"),
    S.NOT_SAFE: _("Not safe"),
    S.LOOKING_FOR_A_WAY: _("Look for a way"),
    S.HANDED_ON: _("Handed on through somebody"),
    S.KEPT_FOR_THEM: _("Keep for them"),
    S.LOST: _("It is lost"),
    S.IN_HAND: _("In hand"),
    S.RETURNED_BY_THEM: _("They gave it back"),
    S.ACKNOWLEDGED: _("They have it, and said so"),
    S.DECLINED: _("They do not want it"),
    S.CLOSED_OUT: _("Close it out"),
}
# The weight of its stamp and the drawn mark in it.
STAMPS: dict[str, tuple[str, str]] = {
    S.OWED: ("wait", "wait"),
    S.ASKED_HOW: ("wait", "wait"),
    S.NOTHING_TO_PRINT: ("part", "no"),
    S.FAULTY: ("part", "no"),
    S.LOST: ("part", "late"),
    S.NOT_HOME: ("part", "late"),
    S.LOOKING_FOR_A_WAY: ("part", "late"),
    S.NOT_SAFE: ("no", "risk"),
    S.KEPT_FOR_THEM: ("ok", "hand"),
    S.IN_HAND: ("ok", "hand"),
    S.ACKNOWLEDGED: ("ok", "ok"),
    S.COLLECTED: ("", "hand"),
    S.CHECKED: ("", "ok"),
}
# The hint under a print that waits for one next thing.
NEXT: dict[str, "_StrPromise"] = {
    S.OWED: _("Ask whether a print is safe to have, how large, sealed or open, into whose hand."),
    S.NOTHING_TO_PRINT: _("Say sorry first; then sit again, or promise another print instead."),
    S.COLLECTED: _("Check it by the window: right person, right frame, no marks."),
    S.NOT_HOME: _("Ask them for a better way, not the neighbours."),
    S.LOOKING_FOR_A_WAY: _("Ask them for a better way, not the neighbours."),
    S.NOT_SAFE: _("Keep it for them: that is a full answer."),
    S.HANDED_ON: _("Ask whether they have it."),
    S.KEPT_FOR_THEM: _("Ask again on each trip."),
    S.IN_HAND: _("Silence is not joy: ask."),
}
# All that an assistant's list says of a print that is not for the lab: by whether a way is agreed.
HELD_CLOSE: dict[bool, "_StrPromise"] = {
    True: _("Not at the lab. Bring it only as was agreed: it stands on its own page."),
    False: _("Not at the lab. Keep it for them."),
}
PROMISES: dict[str, "_StrPromise"] = {
    PromiseKind.PRINT: pgettext_lazy("what was promised", "a print"),
    PromiseKind.BOOK_COPY: pgettext_lazy("what was promised", "a copy of the book"),
    PromiseKind.INVITATION: pgettext_lazy("what was promised", "an invitation"),
    PromiseKind.SUM: pgettext_lazy("what was promised", "a sum"),
    PromiseKind.TELL_BEFORE: pgettext_lazy("what was promised", "to tell them before"),
    PromiseKind.SUBSTITUTE_PRINT: pgettext_lazy("what was promised", "another print instead"),
    PromiseKind.THANK_YOU: pgettext_lazy("what was promised", "a thank-you"),
}
ANSWERS: dict[str, "_StrPromise"] = {
    Answered.PRINT: _("Print it, as agreed above"),
    Answered.KEEP: _("Keep it for them: a full answer, asked again on each trip"),
    Answered.NONE: _("They do not want it"),
}
ENDINGS: dict[str, "_StrPromise"] = {
    "archive": _("into the archive"),
    "given_to_speaker": _("given to the one who speaks for them"),
    "destroyed": _("destroyed"),
}
# Why it is time for an order.
WHY_NOW: dict[str, "_StrPromise"] = {
    Why.ENOUGH: _("Five or more are waiting."),
    Why.OLD: _("One of them has waited for two weeks."),
    Why.TRIP_ENDS: _("The trip ends within a week."),
}
# What came of one print of an order.
CAME: dict[str, "_StrPromise"] = {
    "": _("not back yet"),
    Came.COLLECTED: _("Collected, not checked yet"),
    Came.GOOD: _("Right: person, frame, colour and surface"),
    Came.FAULTY: _("Faulty"),
    Came.LOST: _("The lab cannot find it"),
    Came.STRUCK: _("Taken off: made elsewhere"),
}
FAULTS: dict[str, "_StrPromise"] = {
    Fault.PERSON: _("Another person is on it"),
    Fault.FRAME: _("Another frame, or cut wrongly"),
    Fault.COLOUR: _("The colour is wrong"),
    Fault.SURFACE: _("The surface is wrong or marked"),
}
SURFACES: dict[str, "_StrPromise"] = {
    Surface.MATT: pgettext_lazy("surface of a print", "matt"),
    Surface.GLOSS: pgettext_lazy("surface of a print", "glossy"),
}
UNUSUAL: dict[str, "_StrPromise"] = {
    Unusual.FEW_SHEETS: _("Fewer sheets a sitter than is usual. That may well be right."),
    Unusual.MANY_SHEETS: _("More sheets a sitter than is usual. That may well be right."),
    Unusual.SHORT_SITTINGS: _("The sittings were shorter than is usual."),
    Unusual.LONG_SITTINGS: _("The sittings were longer than is usual."),
}
# How a print ended that was closed out, decided or not.
CLOSED_HOW: dict[str, "_StrPromise"] = {
    **ENDINGS,
    "apology": _("nothing to print; an apology was given"),
    "lost": _("lost for good"),
}
# How a promise ended that was not kept: the press, and the sentence with its day.
OTHERWISE: dict[str, "_StrPromise"] = {
    Otherwise.LET_OFF: _("They let us off"),
    Otherwise.COULD_NOT: _("It could not be kept"),
}
OTHERWISE_SAYS: dict[str, "_StrPromise"] = {
    Otherwise.LET_OFF: _("They let us off on %(day)s."),
    Otherwise.COULD_NOT: _("We said on %(day)s that it could not be kept."),
}
REFUSED: dict[str, "_StrPromise"] = {
    "same": _("It is there already."),
    "two_steps": _("These are two steps at once. Note the step between first."),
    "no_such_move": _("From where it is, it cannot get there."),
    "safe_way": _("No safe way was agreed. Ask them first."),
    "two_tries": _("Nobody was home twice. Ask the sitter for a better way."),
    "tracked": _("It is posted only where the post follows it on its way."),
    "plain_cover": _("It is posted only in a plain cover."),
    "asked_for": _("It is posted only if they asked for that."),
    "thirty_days": _("Wait thirty days for word first."),
    "word": _("This needs word from the sitter."),
    "sat_again": _("It is owed again only when they have sat again."),
    "apology": _("An apology is owed first."),
    "asked_this_trip": _("They were asked on this trip. Ask again on the next."),
    "left_alone": _("They said no, or a hold lies on them: nobody goes there. Keep it for them."),
    "closing": _("Prints are closed out only when the project closes."),
    "ending": _("Say how it ended."),
    "decided_by": _("Somebody named must have decided this."),
    "moved_meanwhile": _(
        "Somebody noted a step since this page was opened. Look at where it is now, and send again."
    ),
    "day_in_future": _("This day has not come yet."),
    "before_the_last_step": _("The step before was on a later day."),
    "nothing_chosen": _("Choose at least one print."),
    "size_shape": _("Write the size as 8 x 10 in, 20 x 25 cm or A4."),
    "size_unit": _("Say inches, centimetres or millimetres: 8 x 10 in, 20 x 25 cm."),
    "size_range": _("No lab prints this size. Look at the unit again."),
    "price_shape": _("Write it in figures, such as 12.50 or 12,50."),
    "price_thousands": _(
        "This may mean two sums: a point or a comma before three figures. Write it without."
    ),
    "price_fine": _("A price has two figures behind the comma at most."),
    "nothing_to_hand_over": _("Nothing of this order is waiting to be handed over."),
    "nothing_on_it": _("Nothing of this order may go to the lab."),
    "no_such_line": _("This order has no such line."),
    "not_a_picture": _("The lab is given JPEG or PNG files. Save it as one of these."),
    "broken": _("This file ends too early or is damaged. Save it anew."),
    "file_too_large": _("This file is larger than 25 MB. Hand it to the lab on a stick."),
    "artist_only": _("This is for the artist."),
    "due_before": _("It is due before it was promised."),
    "kept_before": _("It was kept before it was promised."),
    "no_sum": _("An amount belongs to a sum."),
    "currency": _("Say in which currency."),
    "others_may_see": _("Ask first whether others may see them there."),
    "ended_before": _("It ended before it was promised."),
    "ended_already": _("This promise has its ending already."),
    "why": _("Say why."),
}
