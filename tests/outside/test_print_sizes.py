"""Inches, millimetres, paper sizes and enlargements against values from outside (checks.md 6)."""

from fractions import Fraction

import pytest

from relations.prints.sizes import FILM, fit, in_inches, in_mm, iso_a

# Source: ISO 216; A0 to A6 agree with what paperconf of Debian's libpaper gives.
ISO_216 = [
    *((841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210)),
    *((105, 148), (74, 105), (52, 74), (37, 52), (26, 37)),
]
# Source: 1 in = 25.4 mm exactly (the international inch of 1959, from memory); products by hand.
INCHES = {
    (4, 5): ("101.6", "127.0"),
    (8, 10): ("203.2", "254.0"),
    (11, 14): ("279.4", "355.6"),
    (16, 20): ("406.4", "508.0"),
    (20, 24): ("508.0", "609.6"),
    (40, 50): ("1016", "1270"),
}
# How much longer a 4x5 sheet becomes, side by side. Source: worked by hand.
FROM_4X5 = {
    (8, 10): ("2", "2"),
    (11, 14): ("2.75", "2.8"),
    (16, 20): ("4", "4"),
    (20, 24): ("5", "4.8"),
    (40, 50): ("10", "10"),
}


@pytest.mark.parametrize(("number", "sides"), list(enumerate(ISO_216)))
def test_a_sizes_are_those_of_iso_216(number, sides):
    assert iso_a(number) == in_mm(*sides)


@pytest.mark.parametrize(("inches", "mm"), INCHES.items())
def test_inches_are_exact_in_millimetres(inches, mm):
    assert in_inches(*inches) == in_mm(*mm)
    assert in_mm(*mm).inches == inches


@pytest.mark.parametrize(("paper", "scales"), FROM_4X5.items())
def test_a_4x5_sheet_grows_by_what_was_worked_by_hand(paper, scales):
    found = fit(FILM, in_inches(*paper))
    assert (found.across, found.up) == tuple(map(Fraction, scales))
    assert found.is_same_shape == (scales[0] == scales[1])


def test_a_4x5_sheet_to_40x50_is_ten_times_as_long_and_of_the_same_shape():
    found = fit(FILM, in_inches(40, 50))
    assert (found.scale, found.scale**2, found.is_same_shape) == (10, 100, True)
    assert FILM.height / FILM.width == Fraction("1.25")


def test_of_11x14_and_20x24_what_is_cut_is_said():
    narrow, wide = fit(FILM, in_inches(11, 14)), fit(FILM, in_inches(20, 24))
    assert (narrow.cut_across, narrow.cut_up) == (Fraction(1, 56), 0)
    assert (wide.cut_across, wide.cut_up) == (0, Fraction(1, 25))


def test_40x50_inches_at_300_an_inch_are_180_million_pixels():
    """That is a scan of the whole 4x5 inches at 3,000 an inch."""
    wanted = [300 * side for side in in_inches(40, 50).inches]
    assert wanted == [12_000, 15_000] == [3000 * side for side in FILM.inches]
    assert wanted[0] * wanted[1] == 180_000_000
