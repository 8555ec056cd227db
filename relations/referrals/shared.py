"""What is shared of the introductions: in numbers, in words, as a drawing and on paper."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from html import escape

from django.template.loader import render_to_string
from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _

from relations.documents.qr import SIDE_MM
from relations.documents.render import render
from relations.languages.said import figures

from . import queries, share_svg
from .blocks import K, say
from .drawn import markup
from .graph import Web
from .models import Shared
from .said import NOTHING, Row, Said, first_day, from_json
from .shapes import Shapes, apart
from .share_svg import Picture, Words
from .sharing import Part, Sharing, counts, within_and_across
from .values import Known

# On an A4 sheet lying down, inside its margins.
PAPER_WIDTH, PAPER_HEIGHT = 1010, 680


def last_said() -> Said:
    """What the newest drawing said; nothing where there is none."""
    last = Shared.objects.filter(kind=Sharing.DRAWING).first()
    return from_json(last.said) if last else NOTHING


@dataclass(frozen=True)
class Whole:
    """All that is shared of is cut from this: the web, what is known, the group of each."""

    web: Web
    known: Mapping[str, Known]
    groups: Mapping[str, str]


def whole() -> Whole:
    """Read everything once."""
    known = queries.known()
    return Whole(queries.web(), known, {code: one.community for code, one in known.items()})


def now_said(whole: Whole) -> Said:
    """What a drawing made now would say."""
    web, groups = whole.web, whole.groups
    within, across = within_and_across(web, groups)
    return say(counts(web, groups), last_said(), within=within, across=across)


def shapes(whole: Whole) -> Shapes:
    """How many could be told apart on a map of everybody without names."""
    return apart(whole.web.beside, whole.groups)


def names() -> dict[str, str]:
    """The name of each group by its key, and what no group is called."""
    return {**queries.group_names(), "": _("No group")}


def row_name(row: Row, names: Mapping[str, str]) -> str:
    """What a row is called: a group, since when if not from the start, or the other groups."""
    if row.is_joined:
        return _("Other groups")
    name = names.get(row.groups[0], _("No group"))
    return (
        _("%(group)s, from %(half)s") % {"group": name, "half": half(row.since)}
        if row.since
        else name
    )


def half(number: int) -> str:
    """A half-year as the month in which it begins."""
    day = first_day(number)
    words = _("July %(year)s") if day.month > 1 else _("January %(year)s")
    return words % {"year": figures(day.year)}


def end_of(number: int) -> str:
    """A half-year as the month in which it ends."""
    words = _("December %(year)s") if number % 2 else _("June %(year)s")
    return words % {"year": figures(number // 2)}


def people(number: int) -> str:
    """So many people."""
    return ngettext("%(n)s person", "%(n)s people", number) % {"n": figures(number)}


def about(number: int) -> str:
    """A number that was rounded down."""
    if number:
        return _("%(n)s or a few more") % {"n": figures(number)}
    return _("fewer than %(k)s") % {"k": figures(K)}


def sentences(said: Said) -> list[str]:
    """All that a drawing says in sentences."""
    if not said.rows:
        return [
            _("People reached so far: %(about)s.") % {"about": about(said.about)},
            _("While they are fewer than thirty, nothing more is told."),
        ]
    return [
        _("People reached so far: %(n)s.") % {"n": figures(said.people)},
        _("First told of by somebody of their own group: %(within)s; of another one: %(across)s.")
        % {"within": about(said.within), "across": about(said.across)},
        _(
            "No mark stands for one person: the area of a block is its number of people, five at "
            "the least."
        ),
        _(
            "Half-years with fewer are joined, and so are groups. A number stays as it was until "
            "five people have come or gone."
        ),
    ]


def words(said: Said) -> Words:
    """The words of a drawing, in the language of the page."""
    known = names()
    rows = [(row_name(row, known), people(row.total)) for row in share_svg.drawn(said)]
    return Words(rows, _("July"), sentences(said), lambda number: str(figures(number)))


def picture(said: Said) -> Picture:
    """The drawing of what is said."""
    return share_svg.lay(said, words(said))


@dataclass(frozen=True, slots=True)
class Line:
    """One block as a line of a table: the row it belongs to, from when to when, how many."""

    name: str
    first: str
    last: str
    count: int


def table(said: Said) -> list[Line]:
    """The same facts as a table."""
    known = names()
    return [
        Line(row_name(row, known), half(block.first), end_of(block.last), block.count)
        for row in share_svg.drawn(said)
        for block in row.blocks
        if block.count
    ]


def svg(said: Said) -> bytes:
    """The drawing as a file of its own."""
    return share_svg.svg(picture(said)).encode()


def on_page(said: Said) -> str | None:
    """The drawing without its sentences, as wide as the page; nothing where it has no blocks."""
    if not said.people:
        return None
    drawn = share_svg.lay(said, replace(words(said), foot=()))
    label = _("People reached, by group and half-year")
    return markup(share_svg.svg(drawn, f'role="img" aria-label="{escape(label)}"'))


@dataclass(frozen=True, slots=True)
class Earlier:
    """Something that was made to be shown before, in words."""

    number: int
    at: datetime
    by: str
    is_drawing: bool
    words: str


def earlier() -> list[Earlier]:
    """All that was made to be shown, the newest first."""
    known = names()
    rows = Shared.objects.select_related("by")
    return [
        Earlier(row.number, row.at, row.by.called, row.kind == Sharing.DRAWING, _told(row, known))
        for row in rows
    ]


def _told(row: Shared, known: Mapping[str, str]) -> str:
    """What one of them said, in short."""
    if row.kind == Sharing.DRAWING:
        said = from_json(row.said)
        return people(said.people) if said.rows else about(said.about)
    kept = row.said
    what = _("a line") if kept["part"] == Part.LINE else known.get(kept["group"], _("No group"))
    return f"{what}, {people(kept['people'])}"


def pdf(said: Said) -> bytes:
    """The drawing on one A4 sheet: marks as SVG, words as text over them in any script."""
    drawn = picture(said)
    scale = min(1.0, PAPER_WIDTH / drawn.width, PAPER_HEIGHT / drawn.height)
    html = render_to_string(
        "referrals/paper/share.html",
        {
            "side": SIDE_MM,
            "picture": drawn,
            "marks": markup(share_svg.marks(drawn)),
            "width": f"{drawn.width * scale:.1f}",
            "height": f"{drawn.height * scale:.1f}",
            "texts": [share_svg.placed(text, scale) for text in drawn.texts],
        },
    )
    # Its title says what it is and no more; the engine writes neither author nor day.
    title = _("People reached, by group and half-year")
    return render(html, lang=get_language() or "en", title=title)
