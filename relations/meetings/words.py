"""The words of the meetings room: what its codes are called on a screen."""

from enum import StrEnum

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.people.words import REFUSED as OF_PEOPLE

from .helping import Tie
from .models import CallKind, HelperKind
from .values import MeetingState, Outcome, Part

OUTCOMES: dict[str, Promise] = {
    Outcome.NO_ANSWER: _("No answer"),
    Outcome.OFF: _("Telephone off"),
    Outcome.SOMEONE_ELSE: _("Someone else"),
    Outcome.WRONG_NUMBER: _("Wrong number"),
    Outcome.RING_LATER: _("Ring later"),
    Outcome.THINKING: _("Thinking it over"),
    Outcome.WANTS_PICTURES: _("Wants to see pictures"),
    Outcome.YES_MEET: _("Yes, let us meet"),
    Outcome.NO: pgettext_lazy("what came of a ring", "No"),
    Outcome.NEVER_AGAIN: _("Never ring again"),
    Outcome.BROKE_OFF: _("Broke off, unsafe"),
    Outcome.NEEDS_INTERPRETER: _("Another language"),
    Outcome.ASKS_WHO: _("Asks who gave the number"),
    "spoke": _("We spoke"),
}
CALL_KINDS: dict[str, Promise] = {
    CallKind.RING: _("Ring"),
    CallKind.MESSAGE: _("Message"),
    CallKind.VISIT: _("Visit"),
}
MEETING_STATES: dict[str, Promise] = {
    MeetingState.PROPOSED: _("proposed"),
    MeetingState.FIXED: _("fixed"),
    MeetingState.CONFIRMED: _("confirmed"),
    MeetingState.MOVED: pgettext_lazy("a meeting", "moved"),
    MeetingState.CALLED_OFF: pgettext_lazy("a meeting", "called off"),
    MeetingState.HELD: _("held"),
    MeetingState.CUT_SHORT: _("cut short"),
    MeetingState.NOBODY_CAME: _("nobody came"),
    MeetingState.WRITTEN_UP: _("written up"),
}
# What one press does to a meeting, under the state it leads to.
PRESSES: dict[str, Promise] = {
    MeetingState.CONFIRMED: _("Confirm"),
    MeetingState.HELD: _("Held"),
    MeetingState.MOVED: _("Moved"),
    MeetingState.NOBODY_CAME: _("Nobody came"),
    MeetingState.CALLED_OFF: _("Called off"),
}
# The move to the place and hour agreed beforehand: one press as well.
AS_AGREED = "as_agreed"
ALL_PRESSES: dict[str, Promise] = {**PRESSES, AS_AGREED: _("Moved, as agreed")}
TIES: dict[str, Promise] = {
    Tie.KIN: _("Kin of theirs"),
    Tie.INTRODUCER: _("Whoever told us of them"),
    Tie.EMPLOYER: _("Their employer"),
}
# What speaks against somebody who helps: what it is, and what to do.
HELPER_WARNINGS: dict[str, tuple[Promise, Promise]] = {
    "interpreter_tied": (
        _("The interpreter is kin, introducer or employer."),
        _("Find somebody else. A form given with them is doubtful."),
    ),
    "own_group": (
        _("The interpreter is of their own group."),
        _("Only if they say so themselves, asked without the interpreter."),
    ),
    "interpreter_language": (
        _("The interpreter is noted for none of their languages."),
        _("Look at the languages of both."),
    ),
    "not_promised": (
        _("The interpreter has not signed the promise to keep silent."),
        _("Have it signed first. No notes go home with them."),
    ),
    "witness_tied": (
        _("The witness is kin, introducer, employer or the interpreter."),
        _("Find somebody else. A form witnessed by them is not complete."),
    ),
    "witness_language": (
        _("The witness is noted for none of their languages."),
        _("A witness reads the language of the form."),
    ),
}
COMPASS: tuple[Promise, ...] = (
    _("north"), _("north-east"), _("east"), _("south-east"),
    _("south"), _("south-west"), _("west"), _("north-west"),
)  # fmt: skip


class Pressed(StrEnum):
    """What one press does to a recording."""

    OFF_THE_PHONE = "off_the_phone"
    TRANSCRIBED = "transcribed"
    DESTROYED = "destroyed"


RECORDING_PRESSES: dict[str, Promise] = {
    Pressed.OFF_THE_PHONE: _("Off the phone"),
    Pressed.TRANSCRIBED: _("Transcript made, names replaced"),
    Pressed.DESTROYED: _("Destroyed"),
}
PARTS: dict[str, Promise] = {
    Part.MORNING: _("in the morning"),
    Part.AFTERNOON: _("in the afternoon"),
    Part.EVENING: _("in the evening"),
}
HELPERS: dict[str, Promise] = {
    HelperKind.INTERPRETER: _("interprets"),
    HelperKind.WITNESS: _("witnesses"),
}
EXPLAINED: dict[str, Promise] = {
    "who": _("Who we are"),
    "why": _("Why we ask them"),
    "what": _("What is made: a slow portrait"),
    "where_shown": _("Where it may be shown"),
    "risks": _("What may go wrong"),
    "no_pay": _("No pay and no favour"),
    "print": _("Their print, whatever they answer"),
    "may_say_no": _("They may say no to any line"),
    "how_to_stop": _("How to stop"),
    "cannot_undo": _("What cannot be undone"),
    "if_cannot_answer": _("If they cannot answer one day"),
    "time_to_think": _("Time to think"),
}
TOLD_BACK: dict[str, Promise] = {
    "what_is_seen": _("What will be seen"),
    "where": _("Where it will be seen"),
    "who_decides": _("Who decides"),
    "how_to_stop": _("How they stop it"),
}
ENDED: dict[str, Promise] = {
    "": _("It was not cut short"),
    "safety": _("Cut short for safety"),
    "their_wish": _("Cut short, their wish"),
}
# What an action of this room, or the rule of standing behind it, refuses.
REFUSED: dict[str, Promise] = {
    **OF_PEOPLE,
    "no_such_move": _("This cannot follow from where things stand now."),
    "on_hold": _("A hold lies here. Nothing moves until somebody has looked."),
    "not_vouched_for": _("Nobody has vouched for them yet, so nobody rings."),
    "may_not_be_rung": _("Nobody rings here unless they come to us."),
    "language_not_settled": _("Note their language first, or that it is not known."),
    "hours_not_settled": _("Note their safe hours first, or that none were named."),
    "old_page": _("A ring was noted since this page was opened. See what came of it, press again."),
    "rest": _("Let them rest. They were rung or met often enough for now."),
    "rest_not_over": _("Their rest is not over yet."),
    "still_thinking": _("They are still thinking it over. Wait for their day."),
    "too_few_tries": _("There were too few tries."),
    "no_day": _("Say on which day."),
    "has_not_sat": _("They have not sat yet: choose what came of the ring."),
    "code_taken": _("This code is taken."),
    "no_place": _("Say where, in words."),
    "place": _("The place is theirs to choose. Ours only when they ask for it."),
    "exit_signal": _("Agree a sign by which either of you can leave."),
    "not_an_interpreter": _("This person does not interpret."),
    "not_a_witness": _("This person does not witness."),
    "meeting_is_over": _("This meeting is over."),
    "fallback": _("Say where as well, and an hour after the meeting."),
    "no_fallback": _("No other place and hour were agreed beforehand."),
    "fallback_is_past": _("The hour agreed beforehand is past. Agree a new one."),
    "not_on_earth": _("Latitude goes from -90 to 90, longitude from -180 to 180."),
    "done_before": _("This was noted before."),
    "too_early": _("It is confirmed on the day before, or on the day."),
    "day_passed": _("The day of this meeting is past."),
    "not_yet": _("The day of this meeting has not come."),
    "moved_once": _("It was moved once before. Call it off and agree a new one."),
    "who_was_there": _("Say whether somebody with power over them was there."),
    "no_such_tick": _("One of these lines is not on the sheet."),
    "why_late": _("More than 48 hours have passed. Say in one sentence why."),
    "why": _("A meeting is cut short for safety or because they wish it."),
    "somebody_with_power": _("Somebody with power over them was there: it does not count."),
    "not_told_back": _("They have not told back all four."),
    "may_not_record": _("They did not say that it may be recorded."),
}
