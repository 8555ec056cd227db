"""Find every whole number that a template prints in running text without the reader's figures.

Django's rendering of values is listened to: a plain number comes out between two private marks,
with the place it was printed at. What of it stands in an attribute, a style or a script is no
text; what stands in text went past `figures` of `relations/languages/templatetags/words.py`.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from unittest import mock

from django.template import base
from django.template.base import VariableNode
from django.templatetags import i18n
from django.templatetags.i18n import BlockTranslateNode

from relations.languages.said import Figure
from tests.parsed import parsed

# Private use (Unicode, Co): no page of ours holds them otherwise.
OPENS, CLOSES = "\ue0f0", "\ue0f1"
MARKED = re.compile(f"{OPENS}(\\d+){CLOSES}")
SILENT = ("script", "style", "svg")


class Listener:
    """Where plain numbers were printed so far: each place once, and marked by its number."""

    def __init__(self) -> None:
        self.places: list[str] = []
        self.node: Any = None

    def mark(self, value: object) -> str:
        """The mark that stands after a plain number."""
        origin, token = getattr(self.node, "origin", None), getattr(self.node, "token", None)
        name = str(getattr(origin, "name", "?")).rpartition("/templates/")[2]
        place = f"{name}:{getattr(token, 'lineno', 0)} {getattr(token, 'contents', '')}"
        if place not in self.places:
            self.places.append(place)
        return f"{value}{OPENS}{self.places.index(place)}{CLOSES}"

    def printed(self, html: str) -> set[str]:
        """The places whose numbers stand in the text of a page."""
        page = parsed(html)
        found = MARKED.findall("\n".join(_text(page)))
        return {self.places[int(number)] for number in found}


def _text(element: Any) -> Iterator[str]:
    if element.tag in SILENT:
        return
    yield element.text or ""
    for inside in element:
        if isinstance(inside.tag, str):
            yield from _text(inside)
        yield inside.tail or ""


def is_plain(value: object) -> bool:
    """A number that says nothing of how it is to be written."""
    return isinstance(value, int | float) and not isinstance(value, bool | Figure)


@contextmanager
def listening() -> Iterator[Listener]:
    """Mark every plain number that a template prints until the block ends."""
    heard = Listener()
    written = base.render_value_in_context

    def rendered(value: Any, context: Any) -> str:
        return heard.mark(value) if is_plain(value) else written(value, context)

    def at(node: type) -> Any:
        render = node.render

        def told(self: Any, *args: Any, **kwargs: Any) -> str:
            before, heard.node = heard.node, self
            try:
                return render(self, *args, **kwargs)
            finally:
                heard.node = before

        return mock.patch.object(node, "render", told)

    with (
        mock.patch.object(base, "render_value_in_context", rendered),
        mock.patch.object(i18n, "render_value_in_context", rendered),
        at(VariableNode),
        at(BlockTranslateNode),
    ):
        yield heard
