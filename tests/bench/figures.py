"""What was measured: each figure with its bar or guide, as a line of the table and as JSON."""

import json
import os
import platform
import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path

NUMBER = r"-?[\d,]+(?:\.\d+)?"
HOLDS = {
    "<=": lambda value, bar: value <= bar,
    ">=": lambda value, bar: value >= bar,
    ">": lambda value, bar: value > bar,
    "": lambda value, bar: value == bar,
}


@dataclass(frozen=True)
class Figure:
    """One value. `bar`: "<= 8", ">= 0.9", "> 1", "3 to 5" or "0", that it is held to.

    `guide`: of a time or a count of bytes that the machine sets: printed, and nothing is held to
    it.
    """

    name: str
    value: float
    unit: str = ""
    bar: str = ""
    guide: str = ""

    @property
    def is_met(self) -> bool | None:
        """Whether the bar is held; None without one. Raise ValueError where it cannot be read."""
        if not self.bar:
            return None
        if between := re.fullmatch(f"({NUMBER}) to ({NUMBER})", self.bar):
            least, most = map(_number, between.groups())
            return least <= self.value <= most
        if one := re.fullmatch(f"(<=|>=|>|) ?({NUMBER})", self.bar):
            return HOLDS[one[1]](self.value, _number(one[2]))
        raise ValueError(f"no bar can be read from {self.bar!r}")

    @property
    def written(self) -> str:
        """The value and its unit, to be read."""
        value = self.value
        number = f"{value:,.0f}" if value >= 100 or value == int(value) else f"{value:.2f}"
        return f"{number} {self.unit}".rstrip()


def _number(text: str) -> float:
    return float(text.replace(",", ""))


def table(found: Iterable[Figure]) -> list[str]:
    """The figures in the order in which they were measured, a line each."""
    rows = list(found)
    width = max((len(one.name) for one in rows), default=0)
    return [f"{one.name:<{width}}  {one.written:>14}  {_held(one)}".rstrip() for one in rows]


def _held(one: Figure) -> str:
    if one.is_met is False:
        return f"MISSED: bar {one.bar}"
    return f"bar {one.bar}" if one.bar else f"guide {one.guide}" if one.guide else ""


def write(path: Path, found: Iterable[Figure], *, is_quick: bool) -> None:
    """Everything as JSON; of the machine only what bears on a time, nothing that names it."""
    figures = [asdict(one) | {"met": one.is_met} for one in found]
    said = {"quick": is_quick, "machine": machine(), "figures": figures}
    path.write_text(json.dumps(said, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


def machine() -> dict[str, object]:
    """Python, system, kind of processor, how many of them, and memory in GB."""
    pages = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    return {
        "python": platform.python_version(),
        "system": platform.system(),
        "processor": platform.machine(),
        "processors": len(os.sched_getaffinity(0)),
        "memory_gb": round(pages / 2**30),
    }
