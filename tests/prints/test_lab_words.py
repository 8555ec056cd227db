"""Sizes, sums and what came of a print, as a page says them."""

from decimal import Decimal

import pytest
from django.utils import translation

from relations.pictures.models import Picture
from relations.prints.models import LabLine, Print
from relations.prints.templatetags import lab_words as said


def line(size: str, **picture) -> LabLine:
    return LabLine(size=size, print=Print(picture=Picture(code="K12", **picture)))


@pytest.mark.parametrize(
    ("size", "words"),
    [
        ("8x10 in", ("8 × 10 in", "203.2 × 254 mm")),
        ("A4", ("≈ 8.27 × 11.69 in", "210 × 297 mm")),
        ("8 1/8 x 10 in", ("≈ 8.13 × 10 in", "≈ 206.38 × 254 mm")),
        ("small", ("small",)),
    ],
)
def test_a_size_is_said_in_both_measures(size, words):
    for expected in words:
        assert expected in said.in_both(size)


def test_a_size_keeps_the_order_of_its_figures_from_right_to_left():
    """An Arabic word for inches would turn the millimetres behind it."""
    with translation.override("ar"):
        assert said.in_both("8x10 in") == ("\u20668 × 10\u2069 بوصة · \u2066203.2 × 254 mm\u2069")
        assert said.in_both("A4") == ("\u2066210 × 297 mm\u2069 · ≈ \u20668.27 × 11.69\u2069 بوصة")


@pytest.mark.parametrize(
    ("size", "first"), [("8x10 in", " in"), ("20,3 x 25,4 cm", " mm"), ("8 1/8 x 10 in", " in")]
)
def test_what_is_exact_comes_first(size, first):
    assert first in said.in_both(size).partition(" · ")[0]


def test_what_falls_off_a_whole_sheet_is_said():
    assert said.cut_said(line("16 x 20 in")) == "the whole frame"
    wide, high = said.cut_said(line("11 x 14 in")), said.cut_said(line("20 x 24 in"))
    assert "1.8 % of the frame’s width" in wide
    assert "4 % of the frame’s height" in high
    assert said.cut_said(line("11 x 14 in", crop_of=Picture(code="K1"))) == ""
    assert said.cut_said(line("small")) == ""
    assert said.cut_said(LabLine(size="A4", print=Print())) == ""


def test_a_sum_is_written_in_the_readers_way():
    assert "1,234.50 EUR" in said.money(Decimal("1234.5"), "EUR")
    with translation.override("fr"):
        assert "1\u202f234,50 EUR" in said.money(Decimal("1234.5"), "EUR")
    assert "3.00" in said.money(Decimal(3))
    assert said.money(None, "EUR") == ""


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (said.why_now("old"), "One of them has waited for two weeks."),
        (said.came_said(LabLine(came="lost")), "The lab cannot find it"),
        (said.came_said(LabLine(came="faulty", fault="colour")), "The colour is wrong"),
        (said.surface("matt"), "matt"),
        (said.unusual("long_sittings"), "The sittings were longer than is usual."),
    ],
)
def test_filter_says_it_in_words(found, words):
    assert str(found) == words
