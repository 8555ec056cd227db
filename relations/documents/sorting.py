"""Which paper a page belongs to by its codes, what is missing of it and what is there twice."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from . import qr
from .qr import PageCode
from .values import LETTERS, PaperKind


class Place(StrEnum):
    """Where a page of an upload has got to; the register keeps the same codes."""

    FOUND = "found"  # its paper is known, and it is filed once all pages were looked at
    FILED = "filed"
    WAITING = "waiting"  # in the tray, until somebody says what it is
    TWICE = "twice"  # the very same page is here already
    ASIDE = "aside"  # not ours, as somebody said
    NOT_KEPT = "not_kept"  # its paper was erased


class Why(StrEnum):
    """Why a page waits in the tray."""

    BLANK = "blank"
    NO_CODE = "no_code"
    TORN = "torn"  # something like a code, which could not be read
    FOREIGN = "foreign"  # a code in our shape that another project printed
    TWO_PAPERS = "two_papers"  # codes of two papers on one page
    UNKNOWN = "unknown"  # a code of ours, and no such paper in the register
    BESIDE = "beside"  # a paper that goes with a form and is not the form, as its stop card
    TWO_SCANS = "two_scans"  # two different scans of one side came together
    ANOTHER_SCAN = "another_scan"  # another scan of this side is filed
    WHOSE = "whose"  # a form that was printed for nobody yet
    NOT_EXPECTED = "not_expected"  # a form that cannot have come home
    ALREADY_FILED = "already_filed"  # a form that was read twice
    OTHER_SHEET = "other_sheet"  # a sheet of ours that is no form: somebody does what it says
    TAKEN_BACK = "taken_back"  # a slip on which somebody takes something back


@dataclass(frozen=True)
class Judged:
    """What the codes of one page say: of which paper it is, else why that is not known."""

    code: PageCode | None
    why: Why | None


def judge(texts: Iterable[str], *, is_blank: bool, is_torn: bool, keys: Sequence[bytes]) -> Judged:
    """Say what a page is by the texts of its codes.

    `keys` are all keys that ever made codes of ours, so that a paper printed before a rekey is
    known. Any number of codes of one page and one paper is one answer.
    """
    said = list(texts)
    ours = {code for text in said if (code := _ours(text, keys))}
    if len(ours) == 1:
        return Judged(ours.pop(), None)
    if ours:
        return Judged(None, Why.TWO_PAPERS)
    if any(qr.has_our_shape(text) for text in said):
        return Judged(None, Why.FOREIGN)
    if is_blank:
        return Judged(None, Why.BLANK)
    return Judged(None, Why.TORN if is_torn and not said else Why.NO_CODE)


def _ours(text: str, keys: Sequence[bytes]) -> PageCode | None:
    for key in keys:
        try:
            return qr.read_payload(text, key=key)
        except qr.ForeignCodeError:
            continue
    return None


def is_beside(code: PageCode, kind: str) -> bool:
    """Whether a code stands on another kind of paper than the sheet of its serial is."""
    known = {one.value: LETTERS[one] for one in PaperKind}
    return kind in known and code.kind != known[kind]


def missing(pages: int, sides: Iterable[int]) -> tuple[int, ...]:
    """The sides of a paper of so many pages that are not among `sides`, in order."""
    here = set(sides)
    return tuple(side for side in range(1, pages + 1) if side not in here)


def clashes(sides: Mapping[str, int], filed: Iterable[int]) -> dict[str, Why]:
    """Which pages of one paper cannot be filed by a machine, by their keys, and why.

    `sides` says which side each page is; `filed` which sides are filed already. Two different
    scans of one side ask a person: a form filled in twice under one serial looks just so.
    """
    here = set(filed)
    counts = Counter(sides.values())
    found: dict[str, Why] = {}
    for key, side in sides.items():
        if side in here:
            found[key] = Why.ANOTHER_SCAN
        elif counts[side] > 1:
            found[key] = Why.TWO_SCANS
    return found
