"""The words of the consent room: what its codes are called on a screen."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.pictures.values import PlaceWord

from .completeness import Authority, Missing
from .states import Refusal, State
from .values import ClauseState, NameForm, Use, Wish

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise as Words

STATES: dict[str, "Words"] = {
    State.PRINTED: _("printed"),
    State.CARRIED: _("carried"),
    State.SPOILT: _("spoilt"),
    State.FILLED_IN: _("filled in"),
    State.BROUGHT_BACK_BLANK: _("brought back blank"),
    State.MISSING: _("missing"),
    State.BROUGHT_HOME: _("brought home"),
    State.LEFT_WITH_THEM: _("left with them"),
    State.SCANNED: _("scanned"),
    State.READ_ONCE: _("read once"),
    State.DOUBTFUL: _("doubtful"),
    State.STANDING: _("standing"),
    State.REPLACED: _("replaced"),
    State.WITHDRAWN_IN_PART: _("taken back in part"),
    State.WITHDRAWN: _("taken back"),
    State.ENDED: _("ended"),
    State.KEPT_AS_PROOF: _("kept as proof"),
    State.DESTROYED: _("destroyed"),
    State.WRITTEN_OFF: _("written off"),
}
# The weight of its stamp and the drawn mark in it.
STAMPS: dict[str, tuple[str, str]] = {
    State.PRINTED: ("wait", "wait"),
    State.CARRIED: ("wait", "hand"),
    State.LEFT_WITH_THEM: ("wait", "hand"),
    State.FILLED_IN: ("wait", "hand"),
    State.BROUGHT_HOME: ("part", "wait"),
    State.SCANNED: ("part", "wait"),
    State.READ_ONCE: ("part", "part"),
    State.DOUBTFUL: ("part", "risk"),
    State.MISSING: ("no", "late"),
    State.STANDING: ("ok", "ok"),
    State.WITHDRAWN_IN_PART: ("part", "taken"),
    State.WITHDRAWN: ("no", "taken"),
    State.ENDED: ("", "late"),
}
MOVES: dict[str, "Words"] = {
    State.CARRIED: _("I carry it"),
    State.FILLED_IN: _("It is filled in"),
    State.BROUGHT_BACK_BLANK: _("It came back blank"),
    State.MISSING: _("It is missing"),
    State.BROUGHT_HOME: _("It is home"),
    State.LEFT_WITH_THEM: _("Left with them, they want time"),
    State.SPOILT: _("Spoil it"),
    State.DOUBTFUL: _("I doubt it"),
    State.ENDED: _("It has ended"),
    State.KEPT_AS_PROOF: _("Keep it as proof"),
}
USES: dict[str, "Words"] = {
    Use.EXHIBITION: _("Exhibition wall"),
    Use.BOOK: _("Book"),
    Use.PRESS: _("Press"),
    Use.WEB: _("Web"),
    Use.SOCIAL_MEDIA: _("Social media"),
    Use.TEACHING: _("Teaching, talk"),
    Use.ARCHIVE: _("Archive"),
    Use.FUND_RAISING: _("Fund-raising"),
    Use.PRINT_SALE: _("Sale of prints"),
    Use.PORTFOLIO: _("Carried portfolio"),
    Use.JURY: _("Juries and funders"),
}
LETTERS: dict[str, str] = dict(zip(Use, "EBPWSTAFVCJ", strict=True))
WAYS: dict[str, "Words"] = {
    "signed": _("signed"),
    "mark_and_witness": _("thumb or cross, with a witness"),
    "spoken": _("spoken, on record"),
    "sign_language": _("sign language, on video"),
    "with_support": _("with support"),
    "child": _("a child, with those who answer for them"),
}
NAME_FORMS: dict[str, "Words"] = {
    NameForm.FULL: _("full name"),
    NameForm.FIRST: _("first name only"),
    NameForm.PSEUDONYM: _("agreed name"),
    NameForm.NONE: _("no name"),
}
PLACE_WORDS: dict[str, "Words"] = {
    PlaceWord.NONE: _("no place"),
    PlaceWord.COUNTRY: _("country"),
    PlaceWord.CITY: _("city"),
    PlaceWord.DISTRICT: _("district"),
    PlaceWord.EXACT: _("exact place"),
}
WISHES: dict[str, "Words"] = {
    Wish.GO_ON: _("go on"),
    Wish.ASK: _("ask"),
    Wish.STOP: pgettext_lazy("a wish", "stop"),
}
AUTHORITIES: dict[str, "Words"] = {
    Authority.PARENT: _("parent"),
    Authority.SOLE_PARENT: _("parent alone, proof seen"),
    Authority.COURT: _("by a court"),
}
CLAUSES: dict[str, "Words"] = {
    ClauseState.DRAFTED: _("sent back"),
    ClauseState.TRANSLATED: _("waits for a reader"),
    ClauseState.READ_BACK: _("read back"),
    ClauseState.APPROVED: _("approved"),
}
CLAUSE_STAMPS: dict[str, tuple[str, str]] = {
    ClauseState.DRAFTED: ("no", "no"),
    ClauseState.TRANSLATED: ("wait", "wait"),
    ClauseState.READ_BACK: ("part", "part"),
    ClauseState.APPROVED: ("ok", "ok"),
}
# Guardians are noted one by one, and a day is a box of its own.
LINES: dict[str, "Words"] = {
    Missing.MARK: _("their signature, thumb or cross"),
    Missing.OWN_LANGUAGE: _("a language they read or understand"),
    Missing.COPY: _("copy kept or refused"),
    Missing.EXPLAINED_BY: _("who explained"),
    Missing.READ_ALOUD: _("read aloud, the whole of it"),
    Missing.WITNESS: _("the witness, signed and dated"),
    Missing.WITNESS_APART: _("a witness who is nobody of ours and has no power over them"),
    Missing.WITNESS_STAYED: _("the witness stayed from start to end"),
    Missing.WITNESS_READS: _("the witness reads the language"),
    Missing.INTERPRETER: _("the interpreter"),
    Missing.INTERPRETER_APART: _("an interpreter who is not kin, introducer or employer"),
    Missing.LANGUAGE_PAIR: _("between which languages"),
    Missing.RECORDING: _("the recording’s number"),
    Missing.SERIAL_AND_DAY: _("serial and day spoken in the recording"),
    Missing.ONE_BY_ONE: _("each use asked by itself"),
    Missing.TWO_OF_OURS: _("two of ours present, and signed"),
    Missing.VIDEO_KEPT_APART: _("the video kept apart from the pictures"),
    Missing.SUPPORTER: _("a supporter of their own choice"),
    Missing.PLAIN_VERSION: _("the plain version"),
    Missing.SECOND_TALK: _("a second talk on another day"),
    Missing.SAME_ANSWERS: _("the same answers on both days"),
    Missing.CHILDS_WORDS: _("the child’s answer in the child’s words"),
    Missing.CHILD_HEARD_APART: _("the child heard without the parent"),
}
# What a missing line is called once it is known, the ones the site finds itself included.
MISSING: dict[str, "Words"] = {
    **LINES,
    "day": _("the day"),
    "way": _("the way in which it was given"),
}
BOXES: dict[str, "Words"] = {
    "way": _("How it was given"),
    "given_on": _("The day on it"),
    "may_keep": _("May we keep and develop what was made?"),
    "only_countries": _("Only in these countries"),
    "not_countries": _("Not in these countries"),
    "seen_everywhere": _("“I know the web and papers are seen everywhere” is marked"),
    "first_day": _("First day allowed"),
    "last_day": _("Last day allowed"),
    "name_form": _("Name beside the picture"),
    "agreed_name": _("The agreed name"),
    "place_word": _("Place beside the picture"),
    "no_face": _("“Do not show my face” is marked"),
    "show_first": _("“Show me first” is marked"),
    "approves_captions": _("“Read me the words first” is marked"),
    "own_condition": _("Their own wish, word for word"),
    "if_cannot_answer": _("If they cannot answer for a time"),
    "if_died": _("If they die"),
    "childs_answer": _("The child’s own answer"),
    "copy_kept": _("Do they keep a copy?"),
    "lines_missing": _("Which lines are missing?"),
}
# The same boxes where their answers stand in a narrow list.
SAID: dict[str, "Words"] = {
    "way": _("Way"),
    "given_on": _("Day"),
    "may_keep": _("May be kept"),
    "only_countries": _("Only in"),
    "not_countries": _("Not in"),
    "seen_everywhere": _("Knows of the web"),
    "first_day": _("From"),
    "last_day": _("Until"),
    "name_form": _("Name"),
    "agreed_name": _("Agreed name"),
    "place_word": _("Place"),
    "no_face": _("No face"),
    "show_first": _("Show first"),
    "approves_captions": _("Read words first"),
    "own_condition": _("Own wish"),
    "if_cannot_answer": _("Cannot answer"),
    "if_died": _("If they die"),
    "childs_answer": _("Child’s answer"),
    "copy_kept": _("Keeps a copy"),
    "lines_missing": _("Missing lines"),
}
REFUSALS: dict[str, "Words"] = {
    Refusal.NO_SUCH_MOVE: _("A form in this state cannot go there."),
    Refusal.NOT_SIGNED_OUT: _("Nobody has signed it out."),
    Refusal.NO_SCAN: _("No scan is filed under it."),
    Refusal.NOT_READ: _("Nobody has read it."),
    Refusal.NOT_SETTLED: _("Its two readings are not settled."),
    Refusal.INCOMPLETE: _("A line is missing for its way of giving."),
    Refusal.WORDING_UNREAD: _("Nobody has read its language version."),
    Refusal.GUARDIANS_OPEN: _("Not everybody who answers for the child has answered."),
    Refusal.NO_NEWER_ONE: _("No newer form stands in its place."),
    Refusal.NOTHING_TAKEN_BACK: _("Nothing was taken back."),
    Refusal.NOT_OVER_YET: _("Its last day is not over."),
    Refusal.STILL_TO_BE_KEPT: _("It must still be kept."),
    Refusal.ALARM_IS_OPEN: _("Its alarm is still open."),
    "not_by_hand": _("This cannot be said by hand."),
    "artist_only": _("Only the artist can say this."),
    "first_unread": _(
        "No second person has read the first language yet: it cannot be printed. Ask its wording "
        "reader; until then only a proof can be made."
    ),
    "second_unread": _(
        "No second person has read the second language yet: it cannot be printed. Ask its wording "
        "reader; until then only a proof can be made."
    ),
    "same_language": _("Choose two different languages."),
    "clauses_differ": _(
        "These two wordings do not hold the same clauses. Choose the same version."
    ),
    "serial_taken": _("A paper with this number is here already."),
    "shape": _("A serial has five figures, a line and two figures, such as 60022-64."),
    "mistyped": _("This number is mistyped: one of its figures is wrong. Read it from the paper."),
    "no_such_paper": _("No paper of ours has this number. Look at the paper again."),
    "whose": _("This form was printed for nobody yet. Say whose it is."),
    "another_person": _("This paper is somebody else’s. One form is never filed under two people."),
    "not_expected": _("This paper cannot have come home: see what was noted of it last."),
    "already_filed": _("This form was read twice already. No further scan is needed."),
    "filed_under_another": _("This very file lies under another serial. Choose the right scan."),
    "too_large": _("This file is larger than 25 MB. Scan it smaller, in grey, at 200 dpi."),
    "too_many_pixels": _("This picture has more than 200 megapixels. Scan it smaller."),
    "not_a_scan": _("This is no image and no PDF. Send JPEG, PNG, TIFF, WebP or PDF."),
    "broken": _("This file does not open. Scan the paper again."),
    "not_to_be_read": _("This form is not waiting to be read."),
    "read_twice": _("It was read twice already."),
    "same_reader": _("You have read it. Somebody else reads it the second time."),
    "not_your_turn": _("The assistant reads first, the artist second."),
    "day_in_future": _("This day is still to come."),
    "days_cross": _("The first day allowed lies after the last."),
    "nothing_to_settle": _("There is nothing to settle here."),
    "still_differs": _("Choose one answer for every box."),
    "not_in_doubt": _("The readings have changed. Open the page again."),
    "not_theirs": _("They did not sit for one of these."),
    "frozen": _("This version is frozen. Write a new one."),
    "not_your_language": _("You are not named as a reader of this language."),
    "same_person": _("Who wrote it cannot be the one who reads it."),
    "sent_back": _("It was sent back: it must be written anew first."),
    "not_approved": _("A clause still waits for its reader."),
    "no_model": _("There is no wording yet from which to begin."),
    "unknown_clause": _("This page is older than the wording. Open it again."),
    "clause_missing": _("No clause may be left empty."),
    "slots": _("Keep the words in braces as they are, such as {page}."),
    "nothing_changed": _("Nothing has changed."),
    "not_given": _("This form has not been given yet."),
    "before_the_form": _("This day lies before the day of the form."),
    "before_they_said": _("This day lies before the day on which they said it."),
    "not_in_it": _("They are not in this picture."),
    "not_their_words": _("These are somebody else’s words."),
    "too_many": _("All who must be asked have answered."),
    "said_no": _("They said no. A no is not turned into a yes here."),
    "no_condition": _("No wish in their own words stands on this form."),
    "can_answer": _("They can answer for themselves."),
    "no_speaker": _("Nobody is named to speak for them."),
    "kin_may_only_narrow": _("Next of kin whom they did not choose may only say no."),
    "scope": _("Say what is taken back: everything, one use or one picture."),
    "from_before": _("This paper was not printed by this site."),
    "not_the_same": _("The page no longer comes out as it was printed. Print a new form."),
}
