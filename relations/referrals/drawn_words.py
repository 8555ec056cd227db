"""The words of the drawings in the reader's language: short ones beside marks, whole ones aloud."""

from collections.abc import Callable, Collection, Iterator, Mapping
from datetime import date

from django.utils.translation import gettext as _
from django.utils.translation import ngettext, pgettext

from relations.languages.direction import isolated
from relations.languages.said import comma, filled, listed
from relations.languages.templatetags.words import day

from .facts import Fact
from .geometry import Tick
from .graph import ARTIST, WITHHELD, Kind, Web
from .values import Known

Label = Callable[[str], str]


def line_of(code: str) -> str:
    """What a line is called."""
    if code == WITHHELD:
        return _("Through somebody withheld")
    return _("Line of %(code)s") % {"code": code}


def group(name: str) -> str:
    """What a group is called."""
    return name or _("No group noted")


def whole() -> str:
    """What everybody together is called."""
    return _("Everybody")


def person(code: str) -> str:
    """What the view of one person is called: by code, also where names are shown."""
    return _("The way to %(code)s") % {"code": code}


def title(scope: str, kind: str) -> str:
    """What a drawing is called aloud."""
    words = {
        "growth": _("%(of)s: by the day their name was heard"),
        "waves": _("%(of)s: by steps away from us"),
        "person": _("%(of)s, and whom they told us of"),
        "lines": _("%(of)s: by lines"),
    }
    return words[kind] % {"of": scope}


def desc(people: int) -> str:
    """What a drawing shows, and where the same can be read."""
    words = ngettext(
        "%(n)d person. The same facts stand in the table below.",
        "%(n)d people, one mark each. The same facts stand in the table below.",
        people,
    )
    return filled(words, n=people)


def by_line(lines: int) -> str:
    """The same of a drawing without a mark for each person."""
    words = ngettext(
        "%(n)d line, from its first day to its last.",
        "%(n)d lines, one row each, from its first day to its last.",
        lines,
    )
    return filled(words, n=lines)


def span(code: str, people: int) -> str:
    """What stands at the end of the row of a line."""
    label = _("withheld") if code == WITHHELD else code
    return filled(pgettext("a line and its people", "%(code)s: %(n)d"), code=label, n=people)


def line(code: str, people: int) -> tuple[str, str]:
    """What stands at the left of a line: whose it is, by code, and how many it has."""
    count = filled(ngettext("%(n)d person", "%(n)d people", people), n=people)
    return _("line of %(code)s") % {"code": code}, count if people > 1 else ""


def strip() -> str:
    """What the bars over the axis count."""
    return _("heard each month")


def has_sat() -> str:
    """What a filled mark says."""
    return _("has sat")


def has_print() -> str:
    """What a ring says."""
    return _("print in hand")


def tick(at: Tick) -> str:
    """What stands at the first day of a year or a quarter."""
    return day(at.on, "y" if at.is_year else "MMM")


def month(on: date, *, is_exact: bool = True) -> str:
    """The month in which a name was heard; only the year where no more was noted."""
    return day(on, "MMM y" if is_exact or (on.month, on.day) != (1, 1) else "y")


def named(code: str, label: Label) -> str:
    """Who told us: a code or a name, us, or somebody withheld."""
    if code == ARTIST:
        return _("ourselves")
    return _("somebody withheld") if code == WITHHELD else label(code)


def _all(codes: Collection[str], label: Label) -> str:
    return listed(named(code, label) for code in codes)


def _set_in(code: str, said: str) -> str:
    """A name that stands among our words, so that it keeps its own direction; codes keep theirs."""
    return said if said == code else isolated(said)


def note(fact: Fact, label: Label) -> str:
    """What stands small after a label: only what the drawing itself cannot show."""
    source = _set_in(fact.source, label(fact.source)) if fact.is_cut else ""
    parts = [
        isolated(fact.group) if fact.is_doubled else "",
        _("word from %(who)s") % {"who": source} if source else "",
        others(fact, label),
        _("first of %(group)s") % {"group": isolated(fact.opened)} if fact.opened else "",
    ]
    return comma().join(part for part in parts if part)


def others(fact: Fact, label: Label) -> str:
    """Who else told us of somebody, and who spoke for them once we had met."""
    parts = [
        _("also %(who)s") % {"who": _all(fact.also, label)} if fact.also else "",
        _("spoken for by %(who)s") % {"who": _all(fact.spoke, label)} if fact.spoke else "",
    ]
    return comma().join(part for part in parts if part)


def source(fact: Fact, label: Label) -> str:
    """Who first told us, as part of a sentence."""
    if fact.source == ARTIST:
        return _("met by ourselves")
    return _("word from %(who)s") % {"who": named(fact.source, label)}


def aloud(fact: Fact, label: Label) -> str:
    """All of a mark in one breath, for whoever does not see it."""
    parts = [
        label(fact.code),
        group(fact.group),
        has_sat() if fact.has_sat else _("has not sat"),
        has_print() if fact.has_print else "",
        source(fact, label),
        _("heard %(month)s") % {"month": month(fact.on, is_exact=fact.is_exact)},
        others(fact, label),
    ]
    if many := fact.only_through:
        words = ngettext(
            "%(n)d person reached only through them",
            "%(n)d people reached only through them",
            many,
        )
        parts.append(filled(words, n=many))
    return comma().join(part for part in parts if part)


def under(
    web: Web, known: Mapping[str, Known], only: Collection[str] | None, key: str | None
) -> list[str]:
    """What cannot be drawn, in sentences: told of too early, or noted without any word.

    `only` are those who are drawn, None for everybody; `key` is the group that is drawn, if one is.
    """
    early = [
        link
        for link in web.links
        if link.kind is Kind.TOO_EARLY
        and (only is None or link.introducer in only or link.person in only)
    ]
    found = [_early(link.person, link.introducer, link.person in web.reached) for link in early]
    told = {link.person for link in web.links}
    left = list(_unknown(known, told, is_whole=only is None, key=key))
    if left:
        found.append(_("Nobody noted who told us of %(codes)s.") % {"codes": listed(left)})
    return found


def _early(person: str, introducer: str, is_drawn: bool) -> str:
    words = (
        _("%(who)s told us of %(person)s before we knew %(who)s: not drawn, but a question.")
        if is_drawn
        else _("%(person)s is not drawn: %(who)s told us before we knew %(who)s.")
    )
    return words % {"who": introducer, "person": person}


def _unknown(
    known: Mapping[str, Known], told: Collection[str], *, is_whole: bool, key: str | None
) -> Iterator[str]:
    """Those of whom no word is noted, where they belong to what is drawn."""
    for code, one in known.items():
        if code not in told and (is_whole or one.community == key):
            yield code
