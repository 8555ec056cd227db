"""A map for one trusted person: one line or one group, under codes made for this sheet alone."""

from collections import Counter
from dataclasses import replace

from django.template.loader import render_to_string
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from relations.documents.qr import SIDE_MM
from relations.documents.render import render
from relations.languages.direction import isolated
from relations.people.values import Risk, Standing

from . import queries, shared, svg
from .drawing import Drawn
from .drawn import markup
from .geometry import NOBODY_S, SHAPES, Size
from .graph import WITHHELD
from .paging import sheets
from .shared import Whole
from .sharing import Disguised, Part, disguise, fresh_key, of_part
from .values import Known

# An A4 sheet lying down: the drawing, and how high its rows may be under the words of its head.
SIZE = Size(1000, 22, 12, 5, 34, 62, 12, nudge=7)
ROOM = 490
# Who is on no map that is given away; which of these somebody is cannot be told from the stub.
LEFT = (
    *(Standing.SAID_NO, Standing.NEVER_RING, Standing.STEPPED_BACK),
    *(Standing.LET_GO, Standing.CLOSED),
)


def _may(one: Known) -> bool:
    """Whether somebody may stand on a map: not who left, said no or is at grave risk."""
    return one.standing not in LEFT and one.level != Risk.GRAVE


def shown(whole: Whole, part: Part, of: str) -> list[str]:
    """Whom a map of a part shows, by code."""
    found = of_part(whole.web, whole.groups, part, of)
    return [code for code in found if _may(whole.known[code])]


def parts(whole: Whole) -> list[tuple[str, str]]:
    """Every line, then every group as a choice, the largest first, with how many it would show."""
    sizes: Counter[tuple[Part, str]] = Counter()
    for code, one in whole.web.reached.items():
        if _may(whole.known[code]):
            sizes[Part.LINE, one.line] += 1
            sizes[Part.GROUP, whole.groups[code]] += 1
    del sizes[Part.LINE, WITHHELD]
    names = shared.names()
    order = sorted(sizes, key=lambda one: (one[0] != Part.LINE, -sizes[one], one[1]))
    found = []
    for part, of in order:
        words = _("Line of %(code)s") % {"code": of} if part is Part.LINE else isolated(names[of])
        found.append((f"{part}:{of}", f"{words} – {shared.people(sizes[part, of])}"))
    return found


def pdf(whole: Whole, part: Part, of: str) -> bytes:
    """The map of one part as a PDF; its key is forgotten when it is made.

    Its letters are those of codes and years alone, so that they may stand in the SVG itself; all
    else is text of the page.
    """
    codes = shown(whole, part, of)
    marks = queries.drawn(whole.known[code] for code in codes)
    hidden = disguise(whole.web, marks, fresh_key(), only=codes)
    context = {
        "side": SIDE_MM,
        "sheets": [markup(drawn) for drawn in _sheets(hidden, whole)],
        "key": _key(hidden, whole),
        "people": shared.people(len(codes)),
        "left": len(of_part(whole.web, whole.groups, part, of)) - len(codes),
    }
    html = render_to_string("referrals/paper/working_map.html", context)
    return render(html, lang=get_language() or "en", title=_("Working map"))


def _sheets(hidden: Disguised, whole: Whole) -> list[str]:
    outside = {code: code for code in hidden.web.outside}
    drawn = Drawn(hidden.web, hidden.people, outside, _groups(whole))
    said = svg.Said(title=_("Working map"), desc=_("One row a person, half-years across."))
    return [
        svg.write(one, said, replace(svg.FILE, mark=f"m{number}-"))
        for number, one in enumerate(sheets(drawn, SIZE, ROOM))
    ]


def _groups(whole: Whole) -> list[str]:
    """Every group in the order of its shape, which is the same on all drawings."""
    return sorted(set(whole.groups.values()) - {""})


def _key(hidden: Disguised, whole: Whole) -> list[tuple[str, str]]:
    """What the marks mean: the shape of each group on the map, filled, and ringed."""
    names, order = shared.names(), _groups(whole)
    found = [
        (_shape(order.index(key) % SHAPES if key else NOBODY_S), names[key])
        for key in sorted({one.community for one in hidden.people.values()})
    ]
    sat, ringed = _shape(0, has_sat=True), _shape(0, has_sat=True, has_print=True)
    return [*found, (sat, _("has sat")), (ringed, _("print in hand"))]


def _shape(shape: int, *, has_sat: bool = False, has_print: bool = False) -> str:
    return markup(svg.mark(shape, has_sat=has_sat, has_print=has_print))
