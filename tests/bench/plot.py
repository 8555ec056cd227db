"""Draw how costs grow: `python -m tests.bench.plot FILE.json > .pictures/growth.svg`.

FILE.json is what `manage.py bench --json FILE.json` wrote. Both scales are logarithmic, so that
what grows as the register does lies along the dashed line, and what does not grow lies flat.
"""

import json
import re
import sys
from collections.abc import Mapping
from html import escape
from math import log10
from pathlib import Path

WIDTH, HEIGHT = 760, 460
LEFT, RIGHT, TOP, BOTTOM = 64, 212, 56, 52
AT = re.compile(r"(.+) at ([\d,]+) people")
# What each work is called beside its line; those that are not here are not drawn.
SHOWN = {
    "today": "The assistant’s day",
    "wall": "A wall of 60 weighed",
    "number": "A number found",
    "search": "A name searched",
    "map": "The introductions",
    "letting go": "What is to be let go",
    "all": "Every picture weighed",
    "backup": "A backup",
}
# Told apart by dash and colour alike; all of the colours are readable on paper and on slate.
LINES = (
    ("a", ""), ("b", "7 3"), ("c", "2 3"), ("d", ""), ("e", "7 3"), ("f", "2 3"), ("i", "9 3 2 3"),
    ("h", "9 3 2 3"),
)  # fmt: skip
STYLE = """
svg{font:13px system-ui,sans-serif}.p{fill:#fdfcf9}.t{fill:#22252a}.s{fill:#565b63}
.g{stroke:#d9d6cf}.n{stroke:#565b63;stroke-dasharray:5 5}
.l{fill:none;stroke-width:2.2;stroke-linejoin:round}
.a{stroke:#0b6a58}.b{stroke:#9c4a00}.c{stroke:#3f51a8}.d{stroke:#a1264f}
.e{stroke:#5b6d00}.f{stroke:#6b3fa0}.i{stroke:#0a6c93}.h{stroke:#6d5a3d}
@media(prefers-color-scheme:dark){.p{fill:#17191c}.t{fill:#eceae4}.s{fill:#b3b6bb}
.g{stroke:#3a3e45}.n{stroke:#b3b6bb}
.a{stroke:#5ccdb4}.b{stroke:#f0a860}.c{stroke:#9fb0ff}.d{stroke:#ff8fb1}
.e{stroke:#c3d65a}.f{stroke:#cba6ff}.i{stroke:#6fc7ee}.h{stroke:#d3bd98}}
""".replace("\n", "")
Costs = Mapping[str, Mapping[int, float]]


def costs_of(said: dict) -> dict[str, dict[int, float]]:
    """By work and number of people, the cost beside that of the smallest register."""
    found: dict[str, dict[int, float]] = {}
    for one in said["figures"]:
        named = AT.fullmatch(one["name"])
        if named and named[1] in SHOWN:
            found.setdefault(named[1], {})[int(named[2].replace(",", ""))] = one["value"]
    return {
        work: {people: value / values[min(values)] for people, value in sorted(values.items())}
        for work, values in found.items()
        if len(values) > 1
    }


def draw(costs: Costs) -> str:
    """The SVG. Raise ValueError where there is nothing to draw."""
    sizes = sorted({people for values in costs.values() for people in values})
    if len(sizes) < 2:
        raise ValueError("no cost is there at two sizes; run: manage.py bench --json FILE")
    most = max(max(max(values.values()) for values in costs.values()), sizes[-1] / sizes[0])
    least = min(1.0, *(min(values.values()) for values in costs.values()))
    scale = _Scale(sizes, least, most * 1.15)
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
            'aria-labelledby="growth-title growth-desc">',
            f'<title id="growth-title">{_title(sizes)}</title>',
            f'<desc id="growth-desc">{escape(_said(costs, sizes))}</desc>',
            f'<style>{STYLE}</style><rect class="p" width="{WIDTH}" height="{HEIGHT}" rx="8"/>',
            *_frame(scale),
            *_lines(costs, scale),
            "</svg>\n",
        ]
    )


class _Scale:
    def __init__(self, sizes: list[int], least: float, most: float) -> None:
        self.sizes, self._least, self._most = sizes, log10(least), log10(most)

    def x(self, people: float) -> float:
        first, last = log10(self.sizes[0]), log10(self.sizes[-1])
        share = (log10(people) - first) / (last - first)
        return round(LEFT + share * (WIDTH - LEFT - RIGHT), 1)

    def y(self, times: float) -> float:
        share = (log10(times) - self._least) / (self._most - self._least)
        return round(HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM), 1)

    @property
    def ticks(self) -> list[int]:
        return [10**power for power in range(int(self._most) + 1)]


def _title(sizes: list[int]) -> str:
    return f"How costs grow from {sizes[0]:,} to {sizes[-1]:,} people"


def _said(costs: Costs, sizes: list[int]) -> str:
    """The drawing in words: what each work costs in the largest register."""
    each = [
        f"{SHOWN[work]}: {_times(values[max(values)])} at {max(values):,} people."
        for work, values in costs.items()
    ]
    people = f"The register: {_times(sizes[-1] / sizes[0])}."
    return " ".join([f"Each cost beside that at {sizes[0]:,} people.", people, *each])


def _times(value: float) -> str:
    return f"{value:,.0f} times" if value >= 10 else f"{value:.1f} times"


def _frame(scale: _Scale) -> list[str]:
    right, bottom = WIDTH - RIGHT, HEIGHT - BOTTOM
    first, last = scale.sizes[0], scale.sizes[-1]
    rows = [f'<text class="t" x="{LEFT}" y="28" font-size="16">{_title(scale.sizes)}</text>']
    for times in scale.ticks:
        y = scale.y(times)
        rows.append(f'<path class="g" d="M{LEFT} {y}H{right}"/>')
        rows.append(
            f'<text class="s" x="{LEFT - 8}" y="{y + 4}" text-anchor="end">{times:,}×</text>'
        )
    for people in scale.sizes:
        x = scale.x(people)
        rows.append(f'<path class="g" d="M{x} {TOP}V{bottom}"/>')
        # The last one ends at its line: beside it begin the ways to the names.
        where = f'x="{x}" y="{bottom + 20}" text-anchor="{"end" if people == last else "middle"}"'
        rows.append(f'<text class="s" {where}>{people:,}</text>')
    middle = (LEFT + right) / 2
    rows.append(
        f'<text class="s" x="{middle}" y="{HEIGHT - 12}" text-anchor="middle">people</text>'
    )
    ends = f"M{scale.x(first)} {scale.y(1)}L{scale.x(last)} {scale.y(last / first)}"
    return [*rows, f'<path class="n l" d="{ends}"/>']


def _lines(costs: Costs, scale: _Scale) -> list[str]:
    """A line for each work, and its name at its end, none upon another."""
    rows, ends = [], [(scale.y(scale.sizes[-1] / scale.sizes[0]), "As the register", "n", "5 5")]
    styles = dict(zip(SHOWN, LINES, strict=True))
    for work, values in costs.items():
        sign, dash = styles[work]
        points = " ".join(f"{scale.x(people)},{scale.y(times)}" for people, times in values.items())
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        rows.append(f'<polyline class="l {sign}" points="{points}"{dashed}/>')
        ends.append((scale.y(values[max(values)]), SHOWN[work], sign, dash))
    before, x = 0.0, WIDTH - RIGHT
    placed = []
    for y, name, sign, dash in sorted(ends):
        before = max(y, before + 18)
        placed.append((y, before, name, sign, dash))
    over = max(0.0, before - (HEIGHT - 14))
    for y, at, name, sign, dash in placed:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        at = round(at - over, 1)
        rows.append(f'<path class="l {sign}" d="M{x + 4} {y}L{x + 18} {at}H{x + 46}"{dashed}/>')
        rows.append(f'<text class="t" x="{x + 52}" y="{at + 4}">{escape(name)}</text>')
    return rows


def main(arguments: list[str]) -> None:
    """Print the drawing of one file of figures."""
    (path,) = arguments
    said = json.loads(Path(path).read_text(encoding="utf-8"))
    sys.stdout.write(draw(costs_of(said)))


if __name__ == "__main__":
    main(sys.argv[1:])
