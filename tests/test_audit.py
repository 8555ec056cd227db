"""The audit finds a fault of each kind on a page made bad on purpose, and none on a good page."""

import pytest

from tests.audit import faults

GOOD = """<!doctype html>
<html lang="en" dir="ltr"><head><title>Person 21</title></head><body><main><h1>Nélida</h1>
<form method="post"><label for="a">Code</label><input id="a" name="a" aria-describedby="h">
<p id="h">As it is printed.</p>
<fieldset><legend>Answer</legend><input type="radio" id="y" name="x"><label for="y">Yes</label>
</fieldset><input type="hidden" name="t"></form><a href="#a">Code</a></main></body></html>"""

PLANTED = {
    "parse": ("<p id=", "<p <p id="),
    "id twice: a": ('id="h"', 'id="a"'),
    "aria-describedby of <input> points at nothing: h": ('<p id="h">', "<p>"),
    "link to nothing: #b": ('href="#a"', 'href="#b"'),
    "label for nothing: 'z'": ('<label for="y">', '<label for="z">'),
    "label for nothing: ''": ('<label for="y">', '<label for="">'),
    "no label: a": ('<label for="a">Code</label>', "Code"),
    "fieldset without a legend: None": ("<legend>Answer</legend>", ""),
    "choice outside a fieldset: w": ("<a href", '<input type="radio" name="w"><a href'),
    "inline style": ("<h1>", '<h1 style="color:red">'),
    "inline onclick": ("<h1>", '<h1 onclick="x()">'),
    "inline <script>": ("<h1>", "<script>x()</script><h1>"),
    "2 <h1>, not one": ("</h1>", "</h1><h1>Again</h1>"),
    "empty <title>": ("Person 21", ""),
    "<html> without lang and dir": (' dir="ltr"', ""),
    "image without alt: k.webp": ("<h1>", '<img src="k.webp"><h1>'),
}


def test_a_good_page_has_no_fault() -> None:
    assert faults(GOOD) == []


@pytest.mark.parametrize("fault", PLANTED)
def test_each_planted_fault_is_found(fault: str) -> None:
    before, after = PLANTED[fault]
    assert before in GOOD
    assert any(line.startswith(fault) for line in faults(GOOD.replace(before, after, 1)))
