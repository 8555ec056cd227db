"""The two forms of sharing: a kind of file, and one line or one group."""

import uuid

import pytest

from relations.referrals.share_forms import MapForm, ShareForm
from relations.referrals.sharing import Part

PARTS = [("line:01", "Line of 01 – 19 people"), ("group:", "No group – 2 people")]
TOKEN = str(uuid.uuid4())


@pytest.mark.parametrize(("file", "is_taken"), [("pdf", True), ("svg", True), ("png", False)])
def test_a_drawing_is_made_as_pdf_or_svg_and_nothing_else(file, is_taken):
    form = ShareForm({"file": file, "token": TOKEN}, path="/there/")
    assert form.is_valid() is is_taken
    assert form.helper.form_action == "/there/"


@pytest.mark.parametrize(
    ("part", "cut", "of"), [("line:01", Part.LINE, "01"), ("group:", Part.GROUP, "")]
)
def test_a_map_is_of_one_line_or_one_group_that_is_offered(part, cut, of):
    form = MapForm({"map-part": part, "map-token": TOKEN}, parts=PARTS, path="/map/")
    assert form.is_valid()
    assert (form.cut, form.of) == (cut, of)


@pytest.mark.parametrize("part", ["", "line:02", "whole:", "group:oak"])
def test_no_other_part_is_taken(part):
    form = MapForm({"map-part": part, "map-token": TOKEN}, parts=PARTS, path="/map/")
    assert not form.is_valid()
    assert list(form.errors) == ["part"]
