"""Where the boxes of a printed paper stand: kept once, and shared by every copy of it."""

import hashlib
import json
from collections.abc import Mapping

from .models import Layout
from .render import Anchors, Box

# What an id begins with: a tick box, a corner square, the place of a square code.
TICK, SQUARE, CODE = "t-", "square-", "code-"
# Millimetres are kept to a hundredth, far below what a scanner sees.
DIGITS = 2


def named(anchors: Mapping[str, Box]) -> dict[str, list[float]]:
    """The places of one page that a reader of scans needs: boxes by their code, and the frame."""
    return {
        name.removeprefix(TICK): [round(side, DIGITS) for side in box]
        for name, box in sorted(anchors.items())
        if name.startswith((TICK, SQUARE, CODE))
    }


def keep(anchors: Anchors, *, size: str = Layout.Size.A4) -> Layout:
    """The layout with these places, which is kept the first time that it is met.

    `anchors` are those of `render.lay_out`; a page counts from 1.
    """
    boxes = {str(page): named(places) for page, places in enumerate(anchors, start=1)}
    said = json.dumps([size, boxes], sort_keys=True).encode()
    digest = hashlib.sha256(said).hexdigest()
    found, _ = Layout.objects.get_or_create(digest=digest, defaults={"size": size, "boxes": boxes})
    return found


def places(layout: Layout, page: int) -> dict[str, Box]:
    """The places of a page, as `keep` was given them; none where it has no such page."""
    found = layout.boxes.get(str(page), {})
    return {name: (left, top, width, height) for name, (left, top, width, height) in found.items()}
