"""What may be drawn: a line, a group or everybody, out of all that is known; and its names."""

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

from django.http import Http404

from relations.languages.codes import tidy
from relations.people import access
from relations.people.models import OutsideIntroducer
from relations.privacy.models import User

from . import drawn_words as say
from . import queries
from .drawing import Drawn
from .facts import facts
from .graph import WITHHELD, Web
from .rows import most
from .values import Known, Person

# A drawing with more marks than this is as high as thirty screens and read by nobody.
MOST = 400
# Of so many lines each has a row where people are too many, and a link; the rest are a sentence.
MOST_LINES = 60
WITHHELD_LINE, NO_GROUP, ALL = "withheld", "none", "all"


class By(StrEnum):
    """What is drawn: one line, one group, or everybody."""

    LINE = "line"
    GROUP = "group"
    WHOLE = "whole"


@dataclass(frozen=True)
class Scope:
    """What is drawn as an address says it, in words, and how many people it has."""

    by: By
    of: str
    words: str
    people: int

    @property
    def group(self) -> str | None:
        """The key of the group, "" for those in none; None where it is no group."""
        if self.by != By.GROUP:
            return None
        return "" if self.of == NO_GROUP else self.of


class House:
    """The web and what is known of everybody, read once for a page."""

    def __init__(self, names: Mapping[str, str] | None = None) -> None:
        """Read all of it; `names` stand in the place of codes, opened by a press."""
        self.web: Web = queries.web()
        self.known: dict[str, Known] = queries.known()
        self.names = names or {}
        self.groups: dict[str, str] = queries.group_names()

    @cached_property
    def marks(self) -> dict[str, Person]:
        """Everybody's mark, labelled by code, or by name where names were opened."""
        found = queries.drawn(self.known.values())
        return {code: replace(one, label=self.label(code)) for code, one in found.items()}

    def label(self, code: str) -> str:
        """What somebody is called on this drawing."""
        return self.names.get(code) or code

    @cached_property
    def _lines(self) -> Counter[str]:
        return Counter(one.line for one in self.web.reached.values())

    @cached_property
    def _members(self) -> Counter[str]:
        return Counter(self.known[code].community for code in self.web.reached)

    @cached_property
    def scopes(self) -> list[Scope]:
        """All that may be drawn: lines, then groups, each the largest first; everybody last."""
        lines = [
            Scope(By.LINE, WITHHELD_LINE if code == WITHHELD else code, say.line_of(code), people)
            for code, people in self._lines.most_common()
        ]
        groups = [
            Scope(By.GROUP, key or NO_GROUP, say.group(self.groups.get(key, "")), people)
            for key, people in self._members.most_common()
        ]
        return [*lines, *groups, Scope(By.WHOLE, ALL, say.whole(), len(self.web.reached))]

    @property
    def offered(self) -> list[Scope]:
        """What a page leads on to: the largest lines, every group, and everybody last."""
        lines = [one for one in self.scopes if one.by == By.LINE]
        return [*lines[:MOST_LINES], *self.scopes[len(lines) :]]

    @property
    def unlisted(self) -> int:
        """How many lines are too many to be led on to."""
        return len(self.scopes) - len(self.offered)

    def scope(self, by: str, of: str) -> Scope:
        """What an address names; Http404 where there is nothing of it."""
        wanted = {of, tidy(of)} if by == By.LINE else {of}
        for one in self.scopes:
            if one.by == by and one.of in wanted:
                return one
        raise Http404

    def codes(self, scope: Scope) -> Collection[str] | None:
        """Who belongs to what is drawn; None for everybody."""
        reached = self.web.reached
        if scope.by == By.LINE:
            line = WITHHELD if scope.of == WITHHELD_LINE else scope.of
            return {code for code, one in reached.items() if one.line == line}
        if scope.by == By.GROUP:
            return {code for code in reached if self.known[code].community == scope.group}
        return None

    def drawn(self, scope: Scope, only: Collection[str] | None = None) -> tuple[Drawn, int]:
        """What is drawn of a scope, at most `MOST` people, and how many are left out of it."""
        chosen = self.codes(scope) if only is None else only
        all_of_it = len(self.web.reached) if chosen is None else len(chosen)
        left = max(0, all_of_it - MOST)
        if left:
            chosen = most(self.web, chosen, MOST)
        outside = {code: self.label(code) for code in self.web.outside}
        plain = Drawn(self.web, self.marks, outside, list(self.groups), only=chosen)
        told = facts(plain, self.known, self.groups)
        notes = {one.code: note for one in told if (note := say.note(one, self.label))}
        return replace(plain, notes=notes), left


def opened(user: User, scope: Scope) -> House:
    """Everything with names in the place of codes, for those of one scope alone."""
    house = House()
    within = house.codes(scope)
    people = access.people(user).only("code", "call_name")
    names = {one.code: one.call_name for one in people if within is None or one.code in within}
    outside = {one.code: one.label for one in OutsideIntroducer.objects.all()}
    return House({**names, **outside})
