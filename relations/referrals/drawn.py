"""The drawings of the introductions for a page or a paper, with all their words."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from django.http import Http404
from django.utils.safestring import SafeString

from . import drawn_words as say
from .by_line import by_line, spans
from .drawing import CODES, NAMES, Drawn, growth
from .facts import Fact, facts
from .geometry import Curve, Growth
from .graph import Kind, Link
from .scopes import MOST, MOST_LINES, By, House, Scope
from .svg import PAGE, Ink, Said, mark, write
from .values import Person
from .waves import waves


@dataclass(frozen=True)
class Key:
    """One entry of the key: a mark and what it says."""

    svg: SafeString
    words: str


@dataclass(frozen=True)
class Told:
    """One row of the table, in words; `code` names it in addresses."""

    code: str
    label: str
    group: str
    has_sat: bool
    has_print: bool
    month: str
    source: str
    also: str
    only_through: int
    wave: int


@dataclass(frozen=True)
class Picture:
    """All that a page or a paper needs of one drawing.

    `told` are the same in a table, in the order of the drawing; `lines` in their place where
    people are too many. `left_out` counts those with the fewest people behind them, not drawn.
    """

    scope: Scope
    kind: str
    all_people: int
    svg: SafeString
    key: Sequence[Key] = ()
    told: Sequence[Told] = ()
    lines: Sequence[Scope] = ()
    under: Sequence[str] = ()
    left_out: int = 0
    is_named: bool = False
    columns: Sequence[tuple[int, int]] = ()

    @property
    def is_told_again(self) -> bool:
        """Whether somebody was told of by more than one."""
        return any(one.also for one in self.told)


def markup(svg: str) -> SafeString:
    """What `svg.py` wrote, as part of a page: it escapes every word that it is given."""
    return SafeString(svg)


def largest() -> Picture | None:
    """The largest line, for a page that shows one; None where nobody was reached yet."""
    house = House()
    return picture(house, house.scopes[0]) if house.web.reached else None


def picture(house: House, scope: Scope) -> Picture:
    """The drawing "growth" of a scope; of everybody, where they are too many, one by lines."""
    if scope.by == By.WHOLE and scope.people > MOST:
        return _by_lines(house, scope)
    plan, left = house.drawn(scope)
    laid = growth(plan, NAMES if house.names else CODES)
    return _pictured(house, scope, "growth", plan, laid, left)


def by_steps(house: House, scope: Scope) -> Picture:
    """The second view: a column for each step away from us."""
    plan, left = house.drawn(scope)
    found = waves(plan)
    columns = list(enumerate(found.people))
    heads = [(str(step), str(people)) for step, people in columns]
    made = _pictured(house, scope, "waves", plan, found.growth, left, heads)
    return replace(made, columns=columns)


def of_one(house: House, code: str) -> Picture:
    """One person: the way to them, whom they told of, and curves for whoever told again.

    Http404 where nobody told us of them yet, or there is nobody.
    """
    reached = house.web.reached
    if code not in reached:
        raise Http404
    path = [code]
    while (above := reached[path[-1]].first) in reached:
        path.append(above)
    told = {other for other, one in reached.items() if one.first == code}
    again = [
        link
        for link in house.web.links
        if link.kind in (Kind.FURTHER, Kind.SPOKE_FOR)
        and code in (link.person, link.introducer)
        and link.introducer in reached
    ]
    ends = {one for link in again for one in (link.person, link.introducer)}
    scope = Scope(By.LINE, reached[code].line, say.person(code), 1)
    plan, left = house.drawn(scope, {*path, *told, *ends})
    laid = growth(plan, CODES)
    laid = replace(laid, curves=_curves(laid, again))
    return _pictured(house, scope, "person", plan, laid, left)


def _curves(laid: Growth, links: Sequence[Link]) -> list[Curve]:
    places = {spot.code: (spot.x, spot.y) for spot in laid.spots}
    return [
        Curve(
            *places[link.introducer],
            *places[link.person],
            is_later=link.kind is Kind.SPOKE_FOR,
        )
        for link in links
    ]


def _said(scope: Scope, kind: str, told: Sequence[Fact], house: House, laid: Growth) -> Said:
    return Said(
        title=say.title(scope.words, kind),
        desc=say.desc(len(told)),
        names={one.code: say.aloud(one, house.label) for one in told},
        lines={line.root: say.line(line.root, line.people) for line in laid.lines},
        strip=say.strip(),
        ticks=say.tick,
    )


def _pictured(
    house: House,
    scope: Scope,
    kind: str,
    plan: Drawn,
    laid: Growth,
    left: int,
    heads: Sequence[tuple[str, str]] = (),
) -> Picture:
    told = facts(plan, house.known, house.groups)
    words = _said(scope, kind, told, house, laid)
    if laid.size.is_fluid or kind == "waves":
        words = replace(words, lines={}, strip="", heads=heads)
    return Picture(
        scope=scope,
        kind=kind,
        all_people=len(house.web.reached),
        svg=markup(write(laid, words, PAGE)),
        key=key(house, plan, told),
        told=[_told(one, house.label) for one in told],
        under=say.under(house.web, house.known, plan.only, scope.group),
        left_out=left,
        is_named=bool(house.names),
    )


def _told(one: Fact, label: Callable[[str], str]) -> Told:
    return Told(
        code=one.code,
        label=label(one.code),
        group=say.group(one.group),
        has_sat=one.has_sat,
        has_print=one.has_print,
        month=say.month(one.on, is_exact=one.is_exact),
        source=say.named(one.source, label),
        also=say.others(one, label),
        only_through=one.only_through,
        wave=one.wave,
    )


def key(house: House, plan: Drawn, told: Sequence[Fact], ink: Ink = PAGE) -> list[Key]:
    """The groups that are drawn, each by its outline, and what fill and ring say."""
    seen = {one.community for one in told}
    groups = [group for group in (*house.groups, "") if group in seen]
    entries = [
        (plan.shape(Person("", "", group)), False, False, say.group(house.groups.get(group, "")))
        for group in groups
    ]
    entries += [(0, True, False, say.has_sat()), (0, True, True, say.has_print())]
    return [
        Key(markup(mark(shape, has_sat=sat, has_print=ringed, ink=ink)), words)
        for shape, sat, ringed, words in entries
    ]


def _by_lines(house: House, scope: Scope) -> Picture:
    lines = spans(house.web)
    shown = lines[:MOST_LINES]
    labels = {line.code: say.span(line.code, line.people) for line in shown}
    laid = by_line(house.web, shown, labels)
    words = Said(say.title(scope.words, "lines"), say.by_line(len(shown)), ticks=say.tick)
    return Picture(
        scope=scope,
        kind="lines",
        all_people=len(house.web.reached),
        svg=markup(write(laid, words, PAGE)),
        lines=[one for one in house.offered if one.by == By.LINE],
        left_out=sum(line.people for line in lines[MOST_LINES:]),
    )
