"""Hold the coverage bars: every branch where rules are kept, nine in ten overall."""

import json
import subprocess
import sys
from fnmatch import fnmatch

from tests.house import rooms

OVERALL = 90.0
SHOWN = 8  # of the lines and branches missed in one file: where to begin
WHOLE = tuple(f"relations/{name}.py" for name in rooms.WHOLE)


def below_the_bar(report: dict) -> list[str]:
    """One line for each bar missed in a report of `coverage json`; percent, branches counted in."""
    total = report["totals"]["percent_covered"]
    lines = [f"overall: {total:.1f} %, the bar is {OVERALL:.0f} %"] * (total < OVERALL)
    for path, file in sorted(report["files"].items()):
        covered = file["summary"]["percent_covered"]
        if covered < 100 and any(fnmatch(path, pattern) for pattern in WHOLE):
            lines.append(f"{path}: {covered:.1f} %, the bar is 100 % ({_missing(file)})")
    return lines


def _missing(file: dict) -> str:
    lines = ", ".join(map(str, file["missing_lines"][:SHOWN]))
    branches = ", ".join(f"{a} to {b}" for a, b in file.get("missing_branches", [])[:SHOWN])
    return "; ".join(
        part for part in (lines and f"lines {lines}", branches and f"branches {branches}") if part
    )


def main() -> int:
    """Join what the processes measured, print the bars missed, and count them."""
    coverage = [sys.executable, "-m", "coverage"]
    subprocess.run([*coverage, "combine", "-q"], check=True)
    subprocess.run([*coverage, "report"], check=True)
    subprocess.run([*coverage, "json", "-q", "-o", "coverage.json"], check=True)
    with open("coverage.json", encoding="utf-8") as file:
        missed = below_the_bar(json.load(file))
    print("\n".join(missed) or "Coverage: every bar is held.")
    return len(missed)


if __name__ == "__main__":
    sys.exit(bool(main()))
