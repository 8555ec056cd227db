"""The words for the codes of the eight answers, and for the people in them."""

from collections.abc import Container, Mapping

from django import template
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from relations.languages.said import decimal
from relations.languages.templatetags.words import code_shown
from relations.referrals.graph import WITHHELD
from relations.referrals.threads import Rule

register = template.Library()

RULES: dict[str, Promise] = {
    Rule.PRINT_OWED: _("Their print is promised and not in their hands"),
    Rule.NOT_MET: _("Asked and not met, of a group in which sitters are missing"),
    Rule.NOT_ASKED: _(
        "Sat, told us of nobody and was never asked to, of a group in which sitters are missing"
    ),
}
SHORT: dict[str, Promise] = {
    Rule.PRINT_OWED: _("Prints promised and not in their hands"),
    Rule.NOT_MET: _("Asked and not met"),
    Rule.NOT_ASKED: _("Sat, and were never asked whether they know somebody"),
}


@register.filter
def rule(code: str) -> Promise | str:
    """The rule that puts somebody among the open threads, in words."""
    return RULES.get(code, "")


@register.filter
def rule_short(code: str) -> Promise | str:
    """The same in a few words."""
    return SHORT.get(code, "")


@register.filter
def group(key: str, names: Mapping[str, str]) -> Promise | str:
    """The neutral name of a group by its key: "Aulne"; of none, that it is not known."""
    return names.get(key) or _("not known")


@register.filter
def hundredth(share: float) -> int:
    """A share of one, 0 to 1, as so many of a hundred."""
    return round(100 * share)


@register.filter
def tenth(value: float) -> str:
    """A number with one figure after the point of the reader's language: "12.7"."""
    return decimal(value, 1)


@register.simple_tag
def whom(code: str, outside: Container[str]) -> str:
    """Somebody of the web by code, with a way to their page; whoever is outside has none."""
    if code == WITHHELD:
        return gettext("somebody withheld")
    if not code:
        return gettext("the artist")
    return code_shown(code, "" if code in outside else reverse("people:detail", args=[code]))
