"""What a drawing must not do: a label that meets a line, a mark or another label."""

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from relations.referrals.geometry import Growth

# Of the size of type: a line of letters from its lowest descender to its highest ascender.
HIGH = 0.98


class Box(NamedTuple):
    """What something covers, in pixels, and what it is."""

    left: float
    top: float
    right: float
    bottom: float
    what: str

    def meets(self, other: "Box") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def labels(growth: Growth) -> list[Box]:
    half = growth.size.type * HIGH / 2
    return [
        Box(spot.label_x, spot.y - half, spot.end, spot.y + half, f"label of {spot.code}")
        for spot in growth.spots
        if spot.label
    ]


def lines(growth: Growth) -> Iterator[Box]:
    for trunk in growth.trunks:
        half = trunk.thick / 2
        yield Box(trunk.x - half, trunk.top, trunk.x + half, trunk.bottom, f"trunk {trunk.x}")
    for twig in growth.twigs:
        yield Box(twig.start, twig.y - 0.6, twig.end, twig.y + 0.6, f"twig {twig.y}")


def signs(growth: Growth) -> Iterator[Box]:
    """Marks with their rings, the bars of who is withheld and the strokes of who was told again."""
    of = growth.size.mark / 6
    for spot in growth.spots:
        reach = (10.4 if spot.has_print else 7.4) * of
        yield Box(spot.x - reach, spot.y - reach, spot.x + reach, spot.y + reach, f"at {spot.code}")
        if spot.is_withheld:
            bar = 21 * of
            yield Box(spot.x - bar, spot.y - 6 * of, spot.x, spot.y + 6 * of, f"bar {spot.code}")
        if spot.is_ticked:
            tick = 18 * of
            yield Box(spot.x - tick, spot.y - 9 * of, spot.x, spot.y, f"tick {spot.code}")


def touching(growth: Growth) -> list[str]:
    """Every label that meets something, in words; a label beside its own mark meets nothing."""
    written = sorted(labels(growth), key=lambda box: box.top)
    found = [f"{a.what}, {b.what}" for a, b in pairwise(written) if a.meets(b)]
    others = sorted((*lines(growth), *signs(growth)), key=lambda box: box.top)
    for box in written:
        for other in others:
            if other.top >= box.bottom:
                break
            if box.meets(other):
                found.append(f"{box.what}, {other.what}")
    return found


def crossing(growth: Growth) -> list[str]:
    """Every twig that a trunk crosses: where it begins at one, it only meets it."""
    return [
        f"twig {twig.y}, trunk {trunk.x}"
        for twig in growth.twigs
        for trunk in growth.trunks
        if twig.start < trunk.x < twig.end and trunk.top < twig.y < trunk.bottom
    ]


def outside(growth: Growth) -> list[str]:
    """Every label that leaves the drawing."""
    return [box.what for box in labels(growth) if box.right > growth.width or box.left < 0]
