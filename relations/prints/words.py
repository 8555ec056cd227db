"""The words of the prints room: where a print is, in one sentence, and what each step is called."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from .models import PromiseKind
from .rules import PrintState

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
    S.COLLECTED: _("Check it by the window: right person, right frame, no marks."),
    S.NOT_HOME: _("Ask them for a better way, not the neighbours."),
    S.NOT_SAFE: _("Keep it for them: that is a full answer."),
    S.HANDED_ON: _("Ask whether they have it."),
    S.KEPT_FOR_THEM: _("Ask again on each trip."),
    S.IN_HAND: _("Silence is not joy: ask."),
}
PROMISES: dict[str, "_StrPromise"] = {
    PromiseKind.PRINT: pgettext_lazy("what was promised", "a print"),
    PromiseKind.BOOK_COPY: pgettext_lazy("what was promised", "a copy of the book"),
    PromiseKind.INVITATION: pgettext_lazy("what was promised", "an invitation"),
    PromiseKind.SUM: pgettext_lazy("what was promised", "a sum"),
    PromiseKind.TELL_BEFORE: pgettext_lazy("what was promised", "to tell them before"),
    PromiseKind.SUBSTITUTE_PRINT: pgettext_lazy("what was promised", "another print instead"),
}
ENDINGS: dict[str, "_StrPromise"] = {
    "archive": _("into the archive"),
    "given_to_speaker": _("given to the one who speaks for them"),
    "destroyed": _("destroyed"),
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
    "closing": _("Prints are closed out only when the project closes."),
    "ending": _("Say how it ended."),
    "decided_by": _("Somebody named must have decided this."),
    "moved_meanwhile": _(
        "Somebody noted a step since this page was opened. Look at where it is now, and send again."
    ),
    "day_in_future": _("This day has not come yet."),
    "before_the_last_step": _("The step before was on a later day."),
    "artist_only": _("This is for the artist."),
    "due_before": _("It is due before it was promised."),
    "kept_before": _("It was kept before it was promised."),
}
