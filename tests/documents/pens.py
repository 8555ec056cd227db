"""Pens of the tests: marks as people make them in the boxes of a printed page, drawn by chance.

The strokes are synthetic, not those of real pens; sizes and shades are common practice, no source.
"""

from collections.abc import Callable

import cv2
import numpy as np

# Dots a millimetre of the page that is drawn on: 300 an inch.
DOTS = 300 / 25.4
Box = tuple[float, float, float, float]
Stroke = list[tuple[float, float]]


class Pen:
    """One hand with one pen on one page; a seed gives the same marks each time."""

    def __init__(self, ink: np.ndarray, seed: int, shade: tuple[int, int] = (15, 110)) -> None:
        self.page = ink.copy()
        self.chance = np.random.default_rng(seed)
        self.shade = int(self.chance.integers(*shade))
        self.width = float(self.chance.uniform(0.35, 0.8))

    def draw(self, stroke: Stroke) -> None:
        """A line through points in millimetres, bent a little, in the shade of the pen."""
        dots, shift = np.array(stroke) * DOTS, 4
        thick = max(round(self.width * DOTS), 1)
        # Only the part of the page that the stroke can reach.
        low = np.maximum(np.floor(dots.min(axis=0)).astype(int) - thick - 2, 0)
        high = np.ceil(dots.max(axis=0)).astype(int) + thick + 2
        part = self.page[low[1] : high[1], low[0] : high[0]]
        over = np.zeros_like(part)
        points = ((dots - low) * 2**shift).round().astype(np.int32)
        cv2.polylines(over, [points], False, 255, thick, cv2.LINE_AA, shift)
        ink = over.astype(np.float32) / 255
        part[:] = (part * (1 - ink) + np.minimum(part, self.shade) * ink).round()

    def mark(self, box: Box, kind: str, shift: float = 0.0) -> None:
        """One mark of a kind in a box; `shift` in sides of the box moves it out of it."""
        left, top, side, _ = box
        way = self.chance.uniform(0, 2 * np.pi)
        left, top = left + shift * side * np.cos(way), top + shift * side * np.sin(way)
        for stroke in KINDS[kind](self.chance):
            self.draw([(left + x * side, top + y * side) for x, y in stroke])

    def stray(self, box: Box) -> None:
        """A slip of the pen, 10 to 40 mm long, that runs over a box."""
        left, top, side, _ = box
        across = self.chance.uniform(0.1, 0.9, 2) * side + (left, top)
        way, long = self.chance.uniform(0, np.pi), self.chance.uniform(5, 20)
        leg = long * np.array([np.cos(way), np.sin(way)])
        self.draw(
            [
                tuple(across - leg),
                tuple(across + self.chance.normal(0, 0.3, 2)),
                tuple(across + leg),
            ]
        )


def _near(chance: np.random.Generator, *points: tuple[float, float]) -> Stroke:
    return [(x + chance.normal(0, 0.06), y + chance.normal(0, 0.06)) for x, y in points]


def _tick(chance: np.random.Generator) -> list[Stroke]:
    return [_near(chance, (0.15, 0.5), (0.42, 0.85), (1.0, chance.uniform(-0.2, 0.2)))]


def _cross(chance: np.random.Generator) -> list[Stroke]:
    return [_near(chance, (0.1, 0.1), (0.9, 0.9)), _near(chance, (0.9, 0.1), (0.1, 0.9))]


def _circle(chance: np.random.Generator) -> list[Stroke]:
    wide, high = chance.uniform(0.26, 0.42, 2)
    turn = np.linspace(0, 2 * np.pi * chance.uniform(0.9, 1.1), 24)
    middle = chance.normal(0.5, 0.04, 2)
    return [[(middle[0] + wide * np.cos(t), middle[1] + high * np.sin(t)) for t in turn]]


def _dash(chance: np.random.Generator) -> list[Stroke]:
    return [_near(chance, (0.1, 0.5), (0.5, 0.5), (0.9, 0.5))]


def _scribble(chance: np.random.Generator) -> list[Stroke]:
    steps = np.linspace(0.15, 0.85, 8)
    return [_near(chance, *((x, 0.15 if n % 2 else 0.85) for n, x in enumerate(steps)))]


KINDS: dict[str, Callable[[np.random.Generator], list[Stroke]]] = {
    "tick": _tick,
    "cross": _cross,
    "circle": _circle,
    "dash": _dash,
    "scribble": _scribble,
}
