"""The files every page loads stay light; bars of the design in bytes, compressed by brotli."""

from pathlib import Path

import brotli

STATIC = Path(__file__).resolve().parents[2] / "relations" / "static"


def weight(*names: str) -> int:
    return sum(len(brotli.compress((STATIC / name).read_bytes())) for name in names)


def test_style_sheet_is_at_most_seven_kilobytes() -> None:
    assert weight("site.css") <= 7_000


def test_all_scripts_together_are_at_most_five_kilobytes() -> None:
    scripts = sorted(path.name for path in STATIC.glob("*.js"))
    assert "hide.js" in scripts
    assert weight(*scripts) <= 5_000


def test_style_sheet_names_neither_side_of_the_page() -> None:
    """Left and right are logical, or a page that runs from right to left breaks."""
    rules = (STATIC / "site.css").read_text("utf-8").partition("/* 1 Tokens */")[2]
    for side in ("-left", "-right", "text-align:left", "text-align:right", "{left:", "{right:"):
        assert side not in rules, side
