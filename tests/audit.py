"""Our own look at a page's HTML: it parses strictly, and every label and description has an end.

`faults(html)` lists what is wrong, one line each; page tests assert that the list is empty.
"""

from collections import Counter
from xml.etree.ElementTree import Element

import html5lib

Found = list[str]
NAMED_BY_LABEL = {"input", "select", "textarea"}
REFERENCES = ("aria-describedby", "aria-labelledby", "aria-controls", "headers")


def faults(html: str) -> Found:
    """Faults of one whole page, empty when there are none. Source: HTML Living Standard."""
    parser = html5lib.HTMLParser(namespaceHTMLElements=False)
    tree: Element = parser.parse(html)
    found = [f"parse: {code} at {place}" for place, code, _ in parser.errors]
    elements = list(tree.iter())
    ids = Counter(element.get("id") for element in elements if element.get("id") is not None)
    found += [f"id twice: {name}" for name, times in ids.items() if times > 1]
    for check in (_references, _labels, _groups, _inline, _page):
        found += check(elements, set(ids))
    return found


def _is(element: Element, *tags: str) -> bool:
    return isinstance(element.tag, str) and element.tag in tags


def _references(elements: list[Element], ids: set[str | None]) -> Found:
    found = []
    for element in elements:
        for name in REFERENCES:
            found += [
                f"{name} of <{element.tag}> points at nothing: {part}"
                for part in (element.get(name) or "").split()
                if part not in ids
            ]
        href = element.get("href") or ""
        if href.startswith("#") and len(href) > 1 and href[1:] not in ids:
            found.append(f"link to nothing: {href}")
    return found


def _labels(elements: list[Element], ids: set[str | None]) -> Found:
    labels = {element.get("for") for element in elements if _is(element, "label")}
    found = [f"label for nothing: {name!r}" for name in sorted(map(str, labels - ids))]
    for element in elements:
        if not _is(element, *NAMED_BY_LABEL) or element.get("type") == "hidden":
            continue
        if element.get("id") not in labels and not element.get("aria-label"):
            found.append(f"no label: {element.get('name')}")
    return found


def _groups(elements: list[Element], ids: set[str | None]) -> Found:
    """Radio buttons and several ticks of one name stand in a fieldset that opens with a legend."""
    found, inside = [], set()
    for box in (element for element in elements if _is(element, "fieldset")):
        inside |= {id(element) for element in box.iter()}
        if not len(box) or not _is(box[0], "legend") or not "".join(box[0].itertext()).strip():
            found.append(f"fieldset without a legend: {box.get('id')}")
    times = Counter(
        element.get("name") for element in elements if element.get("type") == "checkbox"
    )
    for element in elements:
        several = element.get("type") == "radio" or (
            element.get("type") == "checkbox" and times[element.get("name")] > 1
        )
        if several and id(element) not in inside:
            found.append(f"choice outside a fieldset: {element.get('name')}")
    return found


def _inline(elements: list[Element], ids: set[str | None]) -> Found:
    """Nothing the site's own policy would block: style attributes, handlers, inline scripts."""
    found = []
    for element in elements:
        found += [
            f"inline {name}" for name in element.attrib if name == "style" or name[:2] == "on"
        ]
        if _is(element, "style") or (_is(element, "script") and not element.get("src")):
            found.append(f"inline <{element.tag}>")
    return found


def _page(elements: list[Element], ids: set[str | None]) -> Found:
    """One main, one filled h1, a language, a title, images with words."""
    counts = Counter(element.tag for element in elements)
    found = [f"{counts[tag]} <{tag}>, not one" for tag in ("main", "h1") if counts[tag] != 1]
    for element in elements:
        if _is(element, "h1", "h2", "h3", "title") and not "".join(element.itertext()).strip():
            found.append(f"empty <{element.tag}>")
        if _is(element, "html") and not (element.get("lang") and element.get("dir")):
            found.append("<html> without lang and dir")
        if _is(element, "img") and element.get("alt") is None:
            found.append(f"image without alt: {element.get('src')}")
    return found
