"""The words for codes of the consent room, its stamps, and countries by name."""

from typing import Any

from django import template
from django.utils.functional import Promise

from relations.consent import words
from relations.consent.countries import territories
from relations.consent.refusals import REFUSALS
from relations.consent.waiting import WAITING
from relations.documents.words import PAPERS
from relations.languages.said import listed

register = template.Library()

Said = str | Promise


@register.inclusion_tag("_stamp.html")
def paper_stamp(code: str) -> dict[str, Any]:
    """A form's state as a stamp: drawn mark, word and weight."""
    weight, mark = words.STAMPS.get(code, ("", ""))
    return {"weight": weight, "mark": mark, "word": words.STATES.get(code, "")}


@register.inclusion_tag("_stamp.html")
def clause_stamp(code: str) -> dict[str, Any]:
    """A clause's state as a stamp."""
    weight, mark = words.CLAUSE_STAMPS[code]
    return {"weight": weight, "mark": mark, "word": words.CLAUSES[code]}


@register.filter
def paper(code: str) -> Said:
    """What a kind of printed paper is called: "Stop card"."""
    return PAPERS.get(code, "")


@register.filter
def form_kind(code: str) -> Said:
    """For whom a form is printed: "for a child"."""
    return words.KINDS.get(code, "")


@register.filter
def use(code: str) -> Said:
    """A way of showing a picture: "Exhibition wall"."""
    return words.USES.get(code, "")


@register.filter
def use_letter(code: str) -> str:
    """The letter by which we call a use."""
    return words.LETTERS.get(code, "")


@register.filter
def way(code: str) -> Said:
    """How a form was given: "spoken, on record"."""
    return words.WAYS.get(code, "")


@register.filter
def name_form(code: str) -> Said:
    """How somebody is named: "first name only"."""
    return words.NAME_FORMS.get(code, "")


@register.filter
def place_word(code: str) -> Said:
    """How finely a place is named: "city"."""
    return words.PLACE_WORDS.get(code, "")


@register.filter
def wish(code: str) -> Said:
    """What shall happen when they cannot answer: "ask"."""
    return words.WISHES.get(code, "")


@register.filter
def authority(code: str) -> Said:
    """By what right somebody answers for a child: "parent"."""
    return words.AUTHORITIES.get(code, "")


@register.filter
def countries(codes: list[str] | None) -> str:
    """Countries by name, as the reader's language lists them."""
    names = territories()
    return listed(names.get(code, code) for code in codes or [])


@register.filter
def refusal(code: str) -> Said:
    """Why something cannot be done, as a sentence."""
    return REFUSALS.get(code, code)


@register.filter
def waits(code: str) -> Said:
    """What a page of the tray waits for, as a sentence."""
    return WAITING.get(code, code)
