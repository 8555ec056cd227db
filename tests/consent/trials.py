"""Our own form, marked with pens, scanned and read again many times: counts of what was read.

A box is counted under what was done to it: "ordinary" marks, marks "half" outside of their box,
"slips" that ran over a box, and "empty" ones, among them those into which a neighbour's mark
spills.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np

from relations.consent import actions, beside, paper
from relations.consent.models import Form
from relations.documents import layouts, qr
from relations.documents.models import Layout, Sheet
from relations.privacy.keys import keyring
from tests import cast
from tests.consent import desk
from tests.consent.test_paper import form
from tests.documents import scanner
from tests.documents.pens import DOTS, KINDS, Pen

SERIAL, VERSION = "70042-74", "A7"
Scanned = Callable[[np.ndarray, np.random.Generator], np.ndarray]
# How often a box is marked, and how often the mark falls half outside.
ORDINARY, HALF = 0.45, 0.05


@dataclass(frozen=True)
class Printed:
    """A form as it was printed, and the row of its sheet, which is in no database."""

    content: bytes
    sheet: Sheet


@cache
def printed(first: str = "fr", second: str = "ar") -> Printed:
    key = keyring.subkey("mark")
    blank = form(
        first,
        second,
        draft=False,
        payload=lambda page: qr.payload("F", SERIAL, page, VERSION, key=key),
    )
    boxes = {
        str(page): layouts.named(places)
        for page, places in enumerate(paper.anchors(blank), start=1)
    }
    layout = Layout(digest="0" * 64, size="A4", boxes=boxes)
    return Printed(paper.pdf(blank), Sheet(serial=SERIAL, version=VERSION, layout=layout))


def ticks(page: int, of: Printed) -> dict[str, tuple[float, float, float, float]]:
    """The tick boxes of a page, by their code."""
    places = layouts.places(of.sheet.layout, page)
    return {code: box for code, box in places.items() if not code.startswith(("square-", "code-"))}


def flat(dpi: int, *, any_angle: bool = False) -> Scanned:
    def scanned(ink: np.ndarray, chance: np.random.Generator) -> np.ndarray:
        angle = chance.uniform(0, 360) if any_angle else chance.uniform(-3, 3)
        return scanner.flat(_at(ink, dpi), angle, int(chance.integers(2**31)))

    return scanned


def photographed(dpi: int) -> Scanned:
    def scanned(ink: np.ndarray, chance: np.random.Generator) -> np.ndarray:
        return scanner.photographed(_at(ink, dpi), int(chance.integers(2**31)))

    return scanned


def _at(ink: np.ndarray, dpi: int) -> np.ndarray:
    if dpi == 300:
        return ink
    return cv2.resize(ink, None, fx=dpi / 300, fy=dpi / 300, interpolation=cv2.INTER_AREA)


def marked(page: int, of: Printed, seed: int) -> tuple[np.ndarray, dict[str, str]]:
    """One page in one hand: the ink on it at 300 dpi, and what was done to each box."""
    chance = np.random.default_rng([seed, 1])
    pen = Pen(scanner.drawn(of.content, 300, page - 1), seed)
    done = {}
    boxes = ticks(page, of)
    for code, box in boxes.items():
        drawn = chance.random()
        done[code] = "empty"
        if drawn < ORDINARY:
            done[code] = "ordinary"
            pen.mark(box, str(chance.choice(list(KINDS))))
        elif drawn < ORDINARY + HALF:
            done[code] = "half"
            kind = str(chance.choice(["tick", "cross", "circle"]))
            pen.mark(box, kind, chance.uniform(0.4, 0.6))
    # One slip of the pen on every page, over a box that is empty.
    over = str(chance.choice([code for code, what in done.items() if what == "empty"]))
    before = pen.page.copy()
    pen.stray(boxes[over])
    for code, what in done.items():
        inside = _inside(boxes[code])
        if what == "empty" and (pen.page[inside] != before[inside]).any():
            done[code] = "slips"
    return pen.page, done


def _inside(box: tuple[float, float, float, float]) -> tuple[slice, slice]:
    left, top, width, height = (side * DOTS for side in box)
    edge = 0.5 * DOTS
    return (
        slice(round(top + edge), round(top + height - edge)),
        slice(round(left + edge), round(left + width - edge)),
    )


def trial(scanned: Scanned, pages: int, *, seed: int, of: Printed | None = None) -> Counter:
    """So many pages marked, scanned and read: how many of each kind were read as what.

    Keys are (what was done, what was read); "pages" and "found" count the pages themselves.
    """
    of = of or printed()
    counts: Counter = Counter()
    for number in range(pages):
        page = number % len(of.sheet.layout.boxes) + 1
        ink, done = marked(page, of, seed + number)
        picture = scanned(ink, np.random.default_rng([seed + number, 2]))
        read = beside.look(of.sheet, [(scanner.jpeg(picture), 1)])
        counts["pages"] += 1
        counts["found"] += page in read.pages
        seen = read.marks()
        counts["not on the layout"] += len(set(seen) - set(done))
        for code, what in done.items():
            counts[what, str(seen.get(code, "not read"))] += 1
    return counts


def told(name: str, counts: Counter) -> str:
    """One line with all counts, for whoever reads the tests' output."""
    parts = ", ".join(
        f"{key if isinstance(key, str) else ' -> '.join(key)} {count}"
        for key, count in sorted(counts.items(), key=str)
    )
    return f"{name}: {parts}"


def share(counts: Counter, done: str, read: str) -> float:
    """The share of the boxes to which this was done that were read so."""
    of = sum(count for key, count in counts.items() if key[0] == done)
    return counts[done, read] / of


@cache
def filled(
    *codes: str, unsure: tuple[str, ...] = (), pages: tuple[int, ...] = (1, 2), dpi: int = 200
) -> bytes:
    """These pages in one scan, crossed in these boxes; in those of `unsure` only a dot."""
    of, seen = printed(), []
    for page in pages:
        pen = Pen(scanner.drawn(of.content, 300, page - 1), 7)
        pen.width = 0.5
        boxes = ticks(page, of)
        for code in codes:
            if code in boxes:
                pen.mark(boxes[code], "cross")
        for code in unsure:
            if code in boxes:
                left, top, width, height = boxes[code]
                middle, line = (left + width / 2, top + height / 2), 0.6
                pen.draw([middle, (middle[0] + line, middle[1])])
        seen.append(scanner.flat(_at(pen.page, dpi), 1.5, page))
    return scanner.pdf(seen, dpi)


def filed(content: bytes) -> Form:
    """A form of Danuta's that has a layout, of which this scan came home."""
    held = printed().sheet
    found = desk.paper(70_042, cast.danuta())
    found.sheet.layout = layouts.keep(anchors(held.layout))
    found.sheet.version = held.version
    found.sheet.save()
    actions.file(serial=SERIAL, content=content, by=cast.assistant(), at=desk.AT)
    return Form.objects.get(pk=found.pk)


def newer(version: str = "A8") -> Printed:
    """A paper under the same serial in another version, whose boxes stand elsewhere."""
    held = printed().sheet
    moved = {
        page: {
            code: box if code.startswith(("square-", "code-")) else [box[0], box[1] + 5, *box[2:]]
            for code, box in places.items()
        }
        for page, places in held.layout.boxes.items()
    }
    layout = Layout(digest="1" * 64, size="A4", boxes=moved)
    return Printed(b"", Sheet(serial=held.serial, version=version, layout=layout))


def anchors(layout: Layout) -> tuple[dict, ...]:
    """The places of a layout under the ids that the paper gave them."""
    frame = (layouts.SQUARE, layouts.CODE)
    return tuple(
        {
            name if name.startswith(frame) else layouts.TICK + name: tuple(box)
            for name, box in boxes.items()
        }
        for boxes in layout.boxes.values()
    )
