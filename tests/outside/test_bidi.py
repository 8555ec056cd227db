"""What is set into a line of the other direction stands in its own order, on paper by position.

Cases: languages.md 3, where UAX 9 was run by another program on an Arabic paragraph with the token
between two Arabic words; `turned` is what that shows without isolation.
"""

from dataclasses import dataclass

import pypdfium2
import pytest
from django.template import Context, Template

from relations.documents.render import render
from relations.languages.direction import isolated
from relations.languages.templatetags.words import iso, ltr

BEFORE, AFTER = "اتصل على", "قبل المساء"


@dataclass(frozen=True)
class Case:
    """Something typed, and how it would be read between Arabic words if nothing held it."""

    typed: str
    turned: str = ""


CASES = {
    "phone": Case("+977 984-1234567", "1234567-984 977+"),
    "phone with brackets": Case("(415) 555-2671"),
    "day in figures": Case("2026-11-25", "25-11-2026"),
    "price": Case("$50.00", "50.00$"),
    "share": Case("50%", "%50"),
    "day by strokes": Case("25/11/2026"),
    "hour": Case("09:30"),
    "code": Case("AB12-9"),
    "serial": Case("60022-64"),
    "code of a sitting": Case("07/T3"),
    "address": Case("name@x.org"),
}
WAYS = {"ltr": ltr, "iso": iso, "isolated": isolated}


def line(middle: str, *, direction: str = "rtl") -> str:
    """A page of one line, with something between two Arabic words."""
    said = Template("{{ before }} {{ middle }} {{ after }}").render(
        Context({"before": BEFORE, "middle": middle, "after": AFTER})
    )
    return (
        f'<!doctype html><html lang="ar" dir="{direction}"><head><title>x</title></head>'
        f'<body><main style="white-space:nowrap"><p>{said}</p></main></body></html>'
    )


def printed(html: str) -> list[tuple[float, str]]:
    """Each sign of a paper with how far from the left it stands, nearest first."""
    content = render(html, lang="ar", title="x", css="@page{size:A4}p{font-family:Noto Sans}")
    page = pypdfium2.PdfDocument(content)[0].get_textpage()
    signs = page.get_text_range()
    placed = [(page.get_charbox(at)[0], sign) for at, sign in enumerate(signs) if sign.strip()]
    return sorted(placed)


def from_the_left(html: str) -> str:
    """The ASCII signs of a paper as the eye meets them from the left, without spaces.

    Nor brackets: the reader of the PDF turns them round by itself in a line with Arabic in it.
    Where they stand on a screen is seen in tests/browser/test_bidi.py.
    """
    return "".join(sign for _left, sign in printed(html) if sign.isascii() and sign not in "()")


def bare(said: str) -> str:
    return said.replace(" ", "")


def unbracketed(said: str) -> str:
    return bare(said).translate(dict.fromkeys(map(ord, "()")))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_token_in_an_arabic_line_of_paper_is_read_from_the_left(case, way):
    assert from_the_left(line(WAYS[way](case.typed))) == unbracketed(case.typed)


@pytest.mark.parametrize(
    "case", [one for one in CASES.values() if one.turned], ids=lambda case: case.typed
)
def test_the_measure_sees_what_is_turned_without_isolation(case):
    assert from_the_left(line(case.typed)) == bare(case.turned)


def test_a_bare_bdi_does_not_hold_on_paper():
    """The reason of the rule; once this fails, the layout engine has learnt it."""
    html = line("{}").replace("{}", f"<bdi>{CASES['phone'].typed}</bdi>")
    assert from_the_left(html) == bare("984-1234567 977+")


def test_arabic_name_in_an_english_line_of_paper_turns_nothing_beside_it():
    # languages.md 3: "Call مريم 984-1234567" and "مريم, 3 prints" are turned without isolation.
    page = (
        '<!doctype html><html lang="en"><head><title>x</title></head><body><main>'
        f"<p>{iso('مريم')}, 3 prints: {ltr('984-1234567')}</p></main></body></html>"
    )
    found = printed(page)
    arabic = [left for left, sign in found if not sign.isascii()]
    rest = [(left, sign) for left, sign in found if sign.isascii()]
    assert "".join(sign for _left, sign in rest) == ",3prints:984-1234567"
    assert arabic and max(arabic) < min(left for left, _sign in rest)
    # Read from the right: meem is the rightmost letter of the name, and its last the leftmost.
    name = [sign for _left, sign in found if not sign.isascii()]
    assert "".join(reversed(name)) == "مريم"
