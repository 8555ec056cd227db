"""Somebody at a browser without scripts: opens pages, follows links, presses buttons, counts.

Only what stands on the page can be used: a link or a button that is not there, a field the form
does not have or a choice it does not offer stops the test.
"""

import re
from collections.abc import Iterator
from http import HTTPStatus
from typing import Any
from urllib.parse import urljoin
from xml.etree.ElementTree import Element

from django.test import Client

from relations.languages.direction import strip_marks
from relations.privacy.models import User
from tests.at_the_door import come_in
from tests.parsed import parsed

Typed = dict[str, Any]


class Hand:
    """One signed-in user with one page before them; `presses` counts clicks and submits."""

    def __init__(self, user: User) -> None:
        self.client = Client()
        come_in(self.client, user)
        self.presses = 0

    def go(self, address: str) -> "Hand":
        """Open an address that was kept or typed: no press."""
        return self._show(self.client.get(address, follow=True), address)

    def follow(self, words: str) -> "Hand":
        """Press the link with these words."""
        links = [one for one in self.page.iter("a") if said(one) == words or starts(one, words)]
        assert links, f"no link {words!r} on {self.address}: {self.words}"
        self.presses += 1
        return self.go(urljoin(self.address, links[0].get("href") or ""))

    def follow_to(self, address: str) -> "Hand":
        """Press a link that leads to this address."""
        links = [one for one in self.page.iter("a") if one.get("href") == address]
        assert links, f"no link to {address} on {self.address}: {self.words}"
        self.presses += 1
        return self.go(address)

    def press(self, words: str, typed: Typed | None = None, /, **more: Any) -> "Hand":
        """Press the button with these words after typing; an answer with errors stops the test."""
        self.send(words, typed, **more)
        errors = self.errors
        assert not errors, f"{words!r} on {self.address} was refused: {errors}"
        return self

    def send(self, words: str, typed: Typed | None = None, /, **more: Any) -> "Hand":
        """Press the button with these words after typing, and take any answer."""
        form, button = self._button(words)
        data = {**filled(form), **_checked(form, {**(typed or {}), **more})}
        if button.get("name"):
            data[button.get("name") or ""] = button.get("value", "")
        data = {name: value for name, value in data.items() if value is not None}
        action = urljoin(self.address, form.get("action") or "")
        self.presses += 1
        if (form.get("method") or "get").lower() == "get":
            return self._show(self.client.get(action, data, follow=True), action)
        return self._show(self.client.post(action, data, follow=True), action)

    def sees(self, words: str) -> bool:
        """Whether these words stand on the page."""
        return words in self.words

    @property
    def words(self) -> str:
        """What stands in the page's main part, on one line."""
        return said(next(self.page.iter("main")))

    @property
    def html(self) -> str:
        """The whole page as it was sent."""
        return self.answer.content.decode()

    @property
    def errors(self) -> list[str]:
        """The lines of the error summary."""
        boxes = [one for one in self.page.iter("div") if one.get("class") == "errsum"]
        return [said(line) for box in boxes for line in box.iter("li")]

    def row(self, words: str) -> str:
        """The longest line of a list that begins with these words."""
        rows = [said(one) for one in self.page.iter("li") if starts(one, words)]
        assert rows, f"no line {words!r} on {self.address}"
        return max(rows, key=len)

    def field(self, name: str) -> Element:
        """The field of this name."""
        found = [one for one in self.page.iter() if one.get("name") == name]
        assert found, f"no field {name!r} on {self.address}"
        return found[0]

    def has_button(self, words: str) -> bool:
        """Whether a form on the page has a button that begins with these words."""
        forms = self.page.iter("form")
        return any(name_of(one).startswith(words) for form in forms for one in buttons(form))

    def boxes(self, name: str) -> list[Element]:
        """Every tick or choice of this name."""
        return [one for one in self.page.iter("input") if one.get("name") == name]

    def value(self, name: str) -> Any:
        """What stands in a field now."""
        return filled(self.page)[name]

    def choice(self, name: str, words: str) -> str:
        """The value behind the choice of a field whose words begin with these, as they are seen."""
        labels = {one.get("for"): said(one) for one in self.page.iter("label")}
        offered = {labels.get(box.get("id"), ""): box.get("value") for box in self.boxes(name)}
        if self.field(name).tag == "select":
            offered = {said(one): one.get("value") for one in self.field(name).iter("option")}
        found = [value for label, value in offered.items() if strip_marks(label).startswith(words)]
        assert found, f"{name!r} on {self.address} offers {sorted(offered)}, not {words!r}"
        return found[0] or ""

    def _button(self, words: str) -> tuple[Element, Element]:
        for form in self.page.iter("form"):
            for button in buttons(form):
                if name_of(button) == words or name_of(button).startswith(words):
                    return form, button
        raise AssertionError(f"no button {words!r} on {self.address}: {self.words}")

    def _show(self, answer: Any, address: str) -> "Hand":
        self.answer = answer
        chain = getattr(answer, "redirect_chain", [])
        self.address = urljoin(address, chain[-1][0]) if chain else address
        fine = {HTTPStatus.OK, HTTPStatus.UNPROCESSABLE_ENTITY}
        assert answer.status_code in fine, f"{answer.status_code} from {self.address}"
        if "html" in answer.headers["Content-Type"]:
            self.page: Element = parsed(answer.content.decode())
        return self


def tell_from_elsewhere(password: str, what: str) -> tuple[Client, Any]:
    """Say what was lost at a browser that never was here, its checks on: look, type, send."""
    borrowed = Client(enforce_csrf_checks=True)
    page = borrowed.get("/alarm/lost/").content.decode()
    assert "<script" not in page
    typed = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]+)"', page))
    told = {"username": "loic", "password": password, "what": what, **typed}
    return borrowed, borrowed.post("/alarm/lost/", told)


def said(element: Element) -> str:
    """The words of an element and all in it, on one line."""
    return re.sub(r"\s+", " ", "".join(element.itertext())).strip()


def starts(element: Element, words: str) -> bool:
    """Whether an element's words begin with these."""
    return said(element).startswith(words)


def buttons(form: Element) -> Iterator[Element]:
    """What sends a form."""
    yield from form.iter("button")
    yield from (one for one in form.iter("input") if one.get("type") == "submit")


def name_of(button: Element) -> str:
    """The words on a button."""
    return said(button) or button.get("value") or ""


def filled(form: Element) -> Typed:
    """What a browser would send of a form as it stands, buttons left out."""
    data: Typed = {}
    for field in form.iter():
        name, kind = field.get("name"), field.get("type", "text")
        if not name or field.tag not in {"input", "select", "textarea"} or kind == "submit":
            continue
        if field.tag == "textarea":
            data[name] = (field.text or "").removeprefix("\n")
        elif field.tag == "select":
            data[name] = _selected(field)
        elif kind in {"checkbox", "radio"}:
            if field.get("checked") is not None:
                data[name] = _added(data.get(name), field.get("value", "on"), kind)
        elif kind != "file":
            data[name] = field.get("value", "")
    return data


def _selected(field: Element) -> Any:
    options = list(field.iter("option"))
    chosen = [one for one in options if one.get("selected") is not None] or options[:1]
    return chosen[0].get("value", "") if chosen else None


def _added(before: Any, value: str, kind: str) -> Any:
    return value if kind == "radio" or before is None else [*_several(before), value]


def _several(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _checked(form: Element, typed: Typed) -> Typed:
    """What is typed, if the form has fields and choices for it."""
    return {name: _one(form, name, value) for name, value in typed.items()}


def _one(form: Element, name: str, value: Any) -> Any:
    fields = [one for one in form.iter() if one.get("name") == name]
    assert fields, f"the form has no field {name!r}: {sorted(filled(form))}"
    kind = fields[0].get("type")
    if kind in {"checkbox", "radio"} and isinstance(value, bool):
        return fields[0].get("value", "on") if value else None
    offered = {one.get("value", "on") for one in fields} if kind in {"checkbox", "radio"} else None
    if fields[0].tag == "select":
        offered = {one.get("value") for one in fields[0].iter("option")}
    for part in _several(value) if offered is not None else ():
        assert part in offered, f"{name!r} offers {sorted(map(str, offered))}, not {part!r}"
    return value
