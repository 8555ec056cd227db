"""A paper in one language, that of the screen or another one: from its template to a tagged PDF."""

from functools import cache
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string
from django.utils import translation

from relations.languages.direction import direction

from .qr import SIDE_MM
from .render import LaidOut, lay_out


def lay_out_in(
    template: str, context: dict[str, Any], *, style: str, title: str, language: str = ""
) -> LaidOut:
    """Lay out `template` in `language` (BCP 47), by default that of the screen.

    The template is given `language` and `direction` beside its own context; `style` names its
    style sheet, which is given the paper's size and the side of a square code in mm. `title` is
    all that the file says of itself: a code or a day, never a name. Errors: those of `lay_out`.
    """
    spoken = language or translation.get_language() or settings.RELATIONS_OFFICE_LANGUAGE
    said = {**context, "language": spoken, "direction": direction(spoken)}
    with translation.override(spoken):
        html = render_to_string(template, said)
    css = _style(style, settings.RELATIONS_PAPER_SIZE)
    return lay_out(html, lang=spoken, title=title, css=css)


@cache
def _style(template: str, size: str) -> str:
    return render_to_string(template, {"size": size, "side": SIDE_MM})
