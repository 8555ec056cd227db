"""Tables for spreadsheets against RFC 4180 and OWASP ASVS 5.0, 1.2.10 (checks.md 4.4)."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.rights.in_csv import guarded, unguarded, written


def read(content):
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True))


def test_a_table_is_as_rfc_4180_writes_it():
    """Section 2: a heading, CRLF, quotation marks doubled, breaks and commas inside them."""
    rows = [{"a": 'say "no", now', "b": "two\r\nlines"}, {"a": None, "b": True}]
    assert written(["a", "b"], rows) == (
        b'\xef\xbb\xbf"a","b"\r\n"say ""no"", now","two\r\nlines"\r\n"","true"\r\n'
    )


def test_lists_stand_in_their_cell_as_json():
    said = {"a": ["é", 1], "b": {"x": None}}
    assert read(written(["a", "b"], [said]))[1] == ['["é", 1]', '{"x": null}']


# The signs of ASVS 1.2.10 (the zero sign from memory), a break, and the wide forms of four.
@pytest.mark.parametrize("sign", [*"=+-@\t\r\n\0", *"＝＋－＠"])
def test_no_cell_begins_as_a_formula_does(sign):
    cell = f"{sign}HYPERLINK(A1)"
    assert guarded(cell) == f"'{cell}"
    assert unguarded(guarded(cell)) == cell


def test_a_negative_number_is_guarded_too_and_an_empty_cell_is_empty():
    assert read(written(["n", "e"], [{"n": -5, "e": ""}]))[1] == ["'-5", ""]


@given(st.text(max_size=12))
def test_what_was_guarded_is_given_back_whole(text):
    cell = guarded(text)
    assert unguarded(cell) == text
    assert cell[:1] not in set("=+-@\t\r\n\0")


def test_a_row_without_a_column_is_a_mistake():
    with pytest.raises(KeyError):
        written(["a"], [{}])
