"""Contrast of every token of the style sheet, computed with the formula of WCAG 2.

Source: W3C, Web Content Accessibility Guidelines 2.1, "relative luminance" and "contrast ratio"
(definitions); bars 4.5:1 for text (1.4.3 AA) and 3:1 for borders and marks (1.4.11). The ratios
expected are those of our own design table, rounded to one place.
"""

import re
from pathlib import Path

import pytest

CSS = Path(__file__).resolve().parents[2] / "relations" / "static" / "site.css"
TOKEN = re.compile(r"--([\w-]+):(#[0-9a-f]{3,6})\b")

# token: light on paper, light on sheet, dark on paper, dark on sheet
TABLE = {
    "ink": (16.8, 17.6, 15.3, 14.0),
    "soft": (6.8, 7.2, 8.9, 8.1),
    "edge": (4.0, 4.1, 5.1, 4.7),
    "link": (8.5, 8.9, 10.0, 9.2),
    "ok": (7.9, 8.3, 10.1, 9.2),
    "warn": (7.0, 7.4, 10.7, 9.8),
    "stop": (7.4, 7.7, 9.2, 8.4),
}
# fore, back: light, dark
PAIRS = {
    ("warn", "warn-bg"): (6.5, 8.9),
    ("stop", "stop-bg"): (6.6, 8.5),
    ("on-solid", "solid"): (7.7, 5.4),
    ("rebate-soft", "rebate"): (8.9, 10.1),
}
# Text that stands on these grounds somewhere in the sheet.
READ = [
    *(
        (fore, back)
        for fore in ("ink", "soft", "link", "ok", "warn", "stop")
        for back in ("paper", "sheet")
    ),
    *((fore, back) for fore in ("ink", "soft") for back in ("warn-bg", "stop-bg", "ok-bg", "tint")),
    ("warn", "warn-bg"),
    ("stop", "stop-bg"),
    ("ok", "ok-bg"),
    ("link", "warn-bg"),
    ("link", "stop-bg"),
    ("on-solid", "solid"),
    ("rebate-ink", "rebate"),
    ("rebate-soft", "rebate"),
    ("paper", "ink"),
]
DRAWN = [
    ("edge", "paper"),
    ("edge", "sheet"),
    ("solid", "paper"),
    ("link", "paper"),
    ("edge", "rebate"),
]


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    shares = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def schemes() -> dict[str, dict[str, str]]:
    """Tokens by scheme; the dark one takes over what it does not say again."""
    sheet = CSS.read_text("utf-8")
    light_text, _, rest = sheet.partition("@media (prefers-color-scheme:dark)")
    light = dict(TOKEN.findall(light_text))
    return {"light": light, "dark": light | dict(TOKEN.findall(rest.partition("}}")[0]))}


SCHEMES = schemes()


def test_formula_gives_the_published_extremes() -> None:
    # WCAG 2.1: "Contrast ratios can range from 1 to 21"; #777 on white falls just short of 4.5
    # (4.48, from memory of W3C's own examples).
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#abc", "#abc") == 1
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("token", TABLE)
def test_tokens_have_the_contrast_of_the_design_table(token: str) -> None:
    seen = [
        round(contrast(SCHEMES[scheme][token], SCHEMES[scheme][ground]), 1)
        for scheme in ("light", "dark")
        for ground in ("paper", "sheet")
    ]
    assert seen == pytest.approx(TABLE[token], abs=0.051)


@pytest.mark.parametrize("pair", PAIRS, ids="-on-".join)
def test_pairs_have_the_contrast_of_the_design_table(pair: tuple[str, str]) -> None:
    seen = [round(contrast(tokens[pair[0]], tokens[pair[1]]), 1) for tokens in SCHEMES.values()]
    assert seen == pytest.approx(PAIRS[pair], abs=0.051)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_all_text_reaches_four_and_a_half_to_one(scheme: str) -> None:
    tokens = SCHEMES[scheme]
    low = {pair: contrast(tokens[pair[0]], tokens[pair[1]]) for pair in READ}
    assert {pair: ratio for pair, ratio in low.items() if ratio < 4.5} == {}


@pytest.mark.parametrize("scheme", SCHEMES)
def test_all_borders_and_marks_reach_three_to_one(scheme: str) -> None:
    tokens = SCHEMES[scheme]
    low = {pair: contrast(tokens[pair[0]], tokens[pair[1]]) for pair in DRAWN}
    assert {pair: ratio for pair, ratio in low.items() if ratio < 3} == {}


def test_no_colour_is_used_that_no_token_names() -> None:
    """What a rule paints on the screen comes from a token, so that the table above is the whole."""
    rules = (
        CSS.read_text("utf-8").partition("/* 2 Ground */")[2].partition("@media print{\n @page")[0]
    )
    assert re.findall(r"#[0-9a-f]{3,6}\b|rgb\(|hsl\(", rules) == []
