"""What a page asks for beyond itself: nothing may, so that a paper touches no file and no line.

The engine passes over some addresses in silence; these are found here, before it starts.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Protocol

# Attributes that hold an address in HTML or SVG; each may only name what lies in the page.
ASKING = {
    *("action", "background", "cite", "codebase", "data", "formaction", "href", "icon"),
    *("longdesc", "manifest", "ping", "poster", "src", "srcset"),
}
INSIDE = ("data:", "#")
# An import, a font of the machine, or an address in a style.
_STYLED = re.compile(r"@import|\blocal\(|url\((?!\s*['\"]?\s*(?:data:|#))", re.IGNORECASE)
# How a picture made of dots begins. A drawing made of lines may ask for more, so none is taken in.
PICTURES = (b"\x89PNG\r\n\x1a\n", b"GIF87a", b"GIF89a", b"\xff\xd8\xff")


class Element(Protocol):
    """What is looked at of an element of the page."""

    tag: object
    attrib: Mapping[str, str]
    text: str | None


def asked(elements: Iterable[Element]) -> list[str]:
    """List the addresses and styles by which a page asks for something beyond itself."""
    return [found for element in elements for found in _of(element)]


def _of(element: Element) -> Iterable[str]:
    for whole, value in element.attrib.items():
        name = whole.rpartition("}")[2].rpartition(":")[2].lower()
        is_address = name in ASKING and not value.strip().lower().startswith(INSIDE)
        if is_address or (name == "style" and _STYLED.search(value)):
            yield value
    # Comments have a function for a tag.
    is_style = isinstance(element.tag, str) and element.tag.rpartition("}")[2] == "style"
    if is_style and _STYLED.search(element.text or ""):
        yield element.text or ""


def is_picture(content: bytes) -> bool:
    """Say whether bytes begin as a PNG, GIF or JPEG does; sources: those formats, from memory."""
    return content.startswith(PICTURES)
