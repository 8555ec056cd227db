"""How sizes, money and what came of a print are said on the pages and the slip of the lab."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from babel.numbers import format_decimal
from django import template
from django.utils.functional import Promise as Words
from django.utils.html import conditional_escape
from django.utils.translation import get_language_bidi
from django.utils.translation import gettext as _

from relations.languages.said import written
from relations.languages.templatetags.words import apart, ltr, reader_locale
from relations.prints import sizes, words
from relations.prints.models import LabLine

register = template.Library()

Said = str | Words
HUNDREDTH = Decimal("0.01")


def _rounded(value: Fraction) -> Decimal:
    """A length to the hundredth."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    return exact.quantize(HUNDREDTH, ROUND_HALF_UP)


def _figures(value: Fraction) -> str:
    """A length to the hundredth, in the reader's way."""
    return str(format_decimal(_rounded(value), "#,##0.##", locale=reader_locale()))


def _is_exact(sides: tuple[Fraction, Fraction]) -> bool:
    return all(Fraction(_rounded(side)) == side for side in sides)


def _read(size: str) -> sizes.Size | None:
    try:
        return sizes.read(size)
    except sizes.SizeError:
        return None


@register.filter
def in_both(size: str) -> str:
    """A typed size in inches and in millimetres: "8 × 10 in · 203.2 × 254 mm".

    What is rounded has a sign before it, and comes second. Where the word for inches runs from
    right to left, the figures of each measure keep their order by themselves.
    """
    found = _read(size)
    if found is None:
        return size
    inches, mm = sizes.written(found, _figures)
    both = [
        (_is_exact(found.inches), "%(sign)s" + _("%(size)s in"), inches),
        (_is_exact((found.width, found.height)), "%(sign)s%(size)s", f"{mm} mm"),
    ]
    both.sort(key=lambda one: one[0], reverse=True)
    said = [
        words_of % {"sign": "" if is_exact else "≈ ", "size": apart(figures)}
        for is_exact, words_of, figures in both
    ]
    return conditional_escape(" · ".join(said)) if get_language_bidi() else ltr(" · ".join(said))


@register.filter
def cut_said(line: LabLine) -> str:
    """What falls off a whole sheet of film so that it fills the paper; "" for a crop."""
    found, picture = _read(line.size), line.print.picture
    if found is None or picture is None or picture.crop_of_id:
        return ""
    fit = sizes.fit(sizes.FILM, found)
    if fit.is_same_shape:
        return _("the whole frame")
    cut = max(fit.cut_across, fit.cut_up)
    exact = Decimal(cut.numerator * 100) / Decimal(cut.denominator)
    share = written(str(format_decimal(exact, "#,##0.#", locale=reader_locale())))
    if fit.cut_across:
        return _("fill the paper: %(share)s %% of the frame’s width falls off") % {"share": share}
    return _("fill the paper: %(share)s %% of the frame’s height falls off") % {"share": share}


@register.filter
def money(value: Decimal | None, currency: str = "") -> str:
    """A sum in the reader's way of writing numbers, with the letters of its money behind it."""
    if value is None:
        return ""
    said = format_decimal(value, "#,##0.00", locale=reader_locale())
    return ltr(f"{said} {currency}".strip())


@register.filter
def why_now(code: str) -> Said:
    """Why it is time for an order."""
    return words.WHY_NOW[code]


@register.filter
def came_said(line: LabLine) -> Said:
    """What came of one print of an order."""
    return words.FAULTS[line.fault] if line.fault else words.CAME[line.came]


@register.filter
def surface(code: str) -> Said:
    """The surface of a print."""
    return words.SURFACES[code]


@register.filter
def unusual(code: str) -> Said:
    """What is out of the usual, said gently."""
    return words.UNUSUAL[code]
