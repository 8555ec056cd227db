"""What changed between two texts, word by word, so that a reader sees it without colour."""

from difflib import SequenceMatcher
from enum import StrEnum
from typing import NamedTuple


class Kind(StrEnum):
    """What became of a run of words."""

    SAME = "same"
    GONE = "gone"
    NEW = "new"


class Run(NamedTuple):
    """Some words of one of two texts, in their order, and what became of them."""

    kind: Kind
    words: str


def changes(before: str, now: str) -> tuple[Run, ...]:
    """Give the words of both texts as runs, what is gone before what came in its place.

    A word ends at white space, in every script; two texts that differ in white space alone give
    one run that is the same. The runs that are not new spell `before`, those not gone spell `now`.
    """
    old, new = before.split(), now.split()
    runs: list[Run] = []
    for tag, i1, i2, j1, j2 in SequenceMatcher(a=old, b=new, autojunk=False).get_opcodes():
        if tag == "equal":
            runs.append(Run(Kind.SAME, " ".join(new[j1:j2])))
            continue
        if i1 < i2:
            runs.append(Run(Kind.GONE, " ".join(old[i1:i2])))
        if j1 < j2:
            runs.append(Run(Kind.NEW, " ".join(new[j1:j2])))
    return tuple(runs)
