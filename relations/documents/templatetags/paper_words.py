"""Words of a paper by their key, and days set into them in the language of their column."""

from collections.abc import Mapping
from datetime import date

from django import template
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString

from relations.documents.columns import Cell, Line
from relations.languages.paper_days import paper_day
from relations.languages.templatetags.words import iso

register = template.Library()


@register.filter
def at(lines: Mapping[str, Line], key: str) -> Line:
    """The line with this key; a key that the wording lacks is a fault, not an empty line."""
    return lines[key]


@register.filter
def dated(value: date | None, lang: str) -> SafeString:
    """A day in the language of a column, with its readers' own calendar where they have one."""
    return iso("" if value is None else paper_day(value, lang))


@register.simple_tag
def filled(cell: Cell, value: date) -> SafeString:
    """The words of a cell with the day in their place: "done on {day}"."""
    before, _slot, after = cell.words.partition("{day}")
    said = [conditional_escape(before), dated(value, cell.lang), conditional_escape(after)]
    return SafeString("".join(said))
