"""The files every page loads stay light; bars of the design in bytes, compressed by brotli."""

from pathlib import Path

import brotli

ROOT = Path(__file__).resolve().parents[2]
STATIC = ROOT / "relations" / "static"


def weight(*names: str) -> int:
    return sum(len(brotli.compress((STATIC / name).read_bytes())) for name in names)


def test_style_sheet_is_at_most_seven_kilobytes() -> None:
    assert weight("site.css") <= 7_000


def test_all_scripts_together_are_at_most_five_kilobytes() -> None:
    """Those of the pages and the worker, whose few addresses are filled in by the site."""
    scripts = sorted([*STATIC.rglob("*.js"), *(ROOT / "templates").rglob("*.js")])
    names = [path.name for path in scripts]
    assert names == ["hide.js", "outbox.js", "shrink.js", "worker.js"]
    assert weight(*map(str, scripts)) <= 5_000


def test_shrinking_a_scan_takes_about_thirty_lines() -> None:
    assert (STATIC / "shrink.js").read_text("utf-8").count("\n") <= 35


def test_style_sheet_names_neither_side_of_the_page() -> None:
    """Left and right are logical, or a page that runs from right to left breaks."""
    rules = (STATIC / "site.css").read_text("utf-8").partition("/* 1 Tokens */")[2]
    for side in ("-left", "-right", "text-align:left", "text-align:right", "{left:", "{right:"):
        assert side not in rules, side
