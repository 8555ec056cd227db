"""What the marks on a scan propose for a first reading: never a yes, which a person must press."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from relations.documents.marks import Mark
from relations.pictures.values import PlaceWord

from .boxes import BLANK
from .values import NameForm, Use, Wish

Marks = Mapping[str, Mark]

# Answered with one of two boxes on the paper.
PAIRS = (*(f"uses.{use}" for use in Use), "may_keep", "copy_kept")
# One box alone: the first opens something, the others hold something back.
OPENS = ("seen_everywhere",)
HOLDS_BACK = ("no_face", "show_first", "approves_captions")
# One of several boxes, by the code on paper, and what the answer is called in a reading.
WISHES = {"go_on": Wish.GO_ON.value, "stop": Wish.STOP.value, "ask": Wish.ASK.value}
# Those between which a paper leaves a choice; the others follow from its kind.
WAYS = ("signed", "with_support")
CHOICES: Mapping[str, Mapping[str, str]] = {
    "way": {way: way for way in WAYS},
    "name_form": {name.value: name.value for name in NameForm},
    "place_word": {word.value: word.value for word in PlaceWord},
    "if_cannot_answer": WISHES,
    "if_died": WISHES,
}
# What may stand though nobody pressed it: it opens nothing.
STANDS_UNPRESSED = {NameForm.NONE.value, PlaceWord.NONE.value, Wish.STOP.value, Wish.ASK.value}
UNSURE = "unsure"


class Proposed(NamedTuple):
    """What one box of a reading starts with.

    `answer` stands unless a person changes it; where `is_open`, nothing stands and a person must
    press. `saw` is what was seen marked ("yes", "mark", or a choice as a reading calls it), or
    "unsure", or "" where that need not be said.
    """

    answer: Any
    is_open: bool = False
    saw: str = ""


def boxes(box: str) -> tuple[str, ...]:
    """The boxes on paper from which one box of a reading is read ("uses.web" from two)."""
    if box in PAIRS:
        return f"{box}.yes", f"{box}.no"
    return tuple(f"{box}.{code}" for code in CHOICES[box]) if box in CHOICES else (box,)


def parts(box: str) -> tuple[str, ...]:
    """The answers that those boxes stand for, in the same order; "" for a box alone."""
    if box in PAIRS:
        return "yes", "no"
    return tuple(CHOICES[box].values()) if box in CHOICES else ("",)


ALL = (*PAIRS, *OPENS, *HOLDS_BACK, *CHOICES)


def propose(marks: Marks) -> dict[str, Proposed]:
    """What each box of a reading starts with, by its name in `boxes.differ` ("uses.web").

    `marks` are by the code of the box on paper. A box of which not every part was looked at is
    left out: it is read by hand. Anything unsure is no, or blank; where a no would open more (a
    face that is not to be shown), nothing stands.
    """
    return {
        box: _one(box, [marks[part] for part in boxes(box)])
        for box in ALL
        if all(part in marks for part in boxes(box))
    }


def _one(box: str, found: list[Mark]) -> Proposed:
    if box in PAIRS:
        return _pair(*found)
    if box in CHOICES:
        return _choice(box, dict(zip(CHOICES[box].values(), found, strict=True)))
    return _alone(found[0], holds_back=box in HOLDS_BACK)


def _pair(yes: Mark, no: Mark) -> Proposed:
    """A yes counts only with a clean no beside it, and then a person must press it."""
    if (yes, no) == (Mark.MARKED, Mark.EMPTY):
        return Proposed(None, is_open=True, saw="yes")
    if (yes, no) == (Mark.EMPTY, Mark.MARKED):
        return Proposed(False)
    return Proposed(None, saw="" if yes == no == Mark.EMPTY else UNSURE)


def _alone(mark: Mark, *, holds_back: bool) -> Proposed:
    if mark == Mark.MARKED:
        return Proposed(False, is_open=True, saw="mark")
    if mark == Mark.UNSURE:
        return Proposed(False, is_open=holds_back, saw=UNSURE)
    return Proposed(False)


def _choice(box: str, found: Mapping[str, Mark]) -> Proposed:
    blank = BLANK[box]
    marked = _those(found, Mark.MARKED)
    unsure = _those(found, Mark.UNSURE)
    if len(marked) == 1 and not unsure:
        stands = marked[0] in STANDS_UNPRESSED
        return Proposed(marked[0]) if stands else Proposed(blank, is_open=True, saw=marked[0])
    # Blank is "ask"; where "stop" may be marked that would be more than they said.
    is_open = blank == "" or Wish.STOP in (*marked, *unsure)
    return Proposed(blank, is_open=is_open, saw=UNSURE if marked or unsure else "")


def _those(found: Mapping[str, Mark], mark: Mark) -> list[str]:
    return [code for code, one in found.items() if one == mark]
