"""The words of the consent room: what its codes are called on a screen."""

from typing import TYPE_CHECKING

from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from relations.documents.values import PaperKind
from relations.pictures.values import PlaceWord

from .completeness import Authority, Missing
from .states import State
from .values import ClauseState, FormKind, NameForm, Use, Wish

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
KINDS: dict[str, "Words"] = {
    FormKind.ADULT: _("for an adult who reads"),
    FormKind.CHILD: _("for a child"),
    FormKind.CANNOT_READ: _("for somebody who cannot read"),
    FormKind.SPOKEN: _("spoken, on record"),
    FormKind.SIGN_LANGUAGE: _("sign language, on video"),
    FormKind.GROUP: _("for one of a group"),
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
    ClauseState.DRAFTED: _("draft"),
    "sent_back": _("sent back"),
    "behind": _("source changed"),
    ClauseState.TRANSLATED: _("waits for a reader"),
    ClauseState.READ_BACK: _("read back"),
    ClauseState.APPROVED: _("approved"),
}
CLAUSE_STAMPS: dict[str, tuple[str, str]] = {
    ClauseState.DRAFTED: ("wait", "wait"),
    "sent_back": ("no", "no"),
    "behind": ("no", "late"),
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
    "first_day": pgettext_lazy("a day", "From"),
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
# The papers that are printed on the page *Papers*; the others are printed where their work is.
PAPERS: dict[str, "Words"] = {
    PaperKind.EXPLANATION: _("Explanation sheet"),
    PaperKind.STOP_CARD: _("Stop cards"),
    PaperKind.TAKE_BACK: _("Take-back slip"),
}
