"""A file of contacts as a table: its letters, its separator, its limits."""

import csv
from io import StringIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relations.people import contacts_tables as tables
from relations.people.contacts_cards import CALLED, NUMBER, NotRead
from relations.people.contacts_tables import Table, has_head, read, separator

LINES = "Nom,Tél\nZoé,06 39 98 00 42\n"
ROWS = (("Nom", "Tél"), ("Zoé", "06 39 98 00 42"))


def refused(content: bytes) -> str:
    with pytest.raises(NotRead) as no:
        read(content)
    return no.value.code


@pytest.mark.parametrize(
    "content",
    [
        LINES.encode(),
        LINES.encode("utf-8-sig"),
        LINES.encode("utf-16"),
        LINES.encode("utf-16-le"),
        LINES.encode("utf-16-be"),
        b"\xfe\xff" + LINES.encode("utf-16-be"),
        LINES.encode("cp1252"),
        LINES.replace(",", ";").encode(),
        LINES.replace(",", "\t").replace("\n", "\r\n").encode(),
        LINES.replace("\n", "\r").encode(),
        b'"Nom","T\xc3\xa9l",\n\nZo\xc3\xa9,"06 39 98 00 42"\n',
    ],
)
def test_one_table_in_whatever_letters_and_separators(content: bytes) -> None:
    found = read(content)
    assert (found.rows, found.columns, found.is_cards) == (ROWS, ROWS[0], False)


def test_bytes_that_mean_nothing_in_windows_are_read_as_latin() -> None:
    assert tables.as_text(b"\x81\xe9") == "\x81é"


def test_cards_are_a_table_of_what_may_be_taken_and_empty_columns_are_none() -> None:
    text = "BEGIN:VCARD\nVERSION:3.0\nFN:{}\nTEL:1\nTEL:2\nTEL:1\nADR:x\nEND:VCARD\n"
    found = read("".join(map(text.format, "AB")).encode())
    assert found == Table((CALLED, NUMBER), (("A", "1\n2"), ("B", "1\n2")), True, ("ADR",))


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "nothing_in_it"),
        (b"\xef\xbb\xbf \r\n", "nothing_in_it"),
        (b",,,\n,,\n", "nothing_in_it"),
        (b"Name,Phone\r\n", "nothing_in_it"),  # a head, and nobody under it
        (b"\xff", "nothing_in_it"),
        (b"BEGIN:VCARD\nADR:x\nEND:VCARD\n", "nothing_in_it"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01", "no_text"),
        (b"PK\x03\x04", "no_text"),
        (b"x" * (tables.MOST_BYTES + 1), "too_large"),
        (b"a,b\n" * 502, "too_many_lines"),
        (b"BEGIN:VCARD\nFN:x\nEND:VCARD\n" * 501, "too_many_lines"),
        (b"a,06 39 98 00 42\n" * 501, "too_many_lines"),
        (b"a," * 80 + b"a", "too_wide"),
        ((b"x" * 400 + b"," + b"y" * 400 + b"\n") * 400, "too_wide"),
        (b'"' + b"x" * 140_000, "no_table"),
        (b"BEGIN:VCARD\nFN:x\n", "cut_short"),
    ],
)
def test_what_is_no_list_of_contacts_is_refused(content: bytes, code: str) -> None:
    assert refused(content) == code


def test_the_most_is_taken_with_a_head_and_without() -> None:
    assert len(read(b"Name,Tel\n" + b"a,1\n" * 500).rows) == 501
    assert len(read(b"BEGIN:VCARD\nFN:x\nEND:VCARD\n" * 500).rows) == 500


def test_a_long_cell_is_cut_where_no_page_would_take_it() -> None:
    assert len(read(b"Name,Note\nx," + b"y" * 900).rows[1][1]) == tables.LONGEST


def test_a_cell_in_quotes_keeps_its_lines_and_a_formula_is_text() -> None:
    rows = read(b'Name,Tel\n"Bruno","06 39 98 00 52\n04 65 71 00 52"\n=1+1,@x\n').rows
    assert rows[1:] == (("Bruno", "06 39 98 00 52\n04 65 71 00 52"), ("=1+1", "@x"))


def test_the_separator_is_the_one_that_parts_most_lines_alike() -> None:
    assert separator("Ponte, Nélida;06\nRivas, Maruja;07\n") in (";", ",")
    assert separator("Nélida;quay, left\nMaruja;07\n") == ";"
    assert (separator("a\tb"), separator("alone")) == ("\t", ",")


def test_a_line_with_a_number_in_it_is_no_head() -> None:
    assert has_head(("Name", "Phone 1"))
    assert not has_head(("Bruno", "06.39.98.00.52"))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1,
                max_size=9), min_size=3, max_size=3), min_size=1, max_size=5))  # fmt: skip
def test_what_python_writes_is_read_back(rows: list[list[str]]) -> None:
    """As RFC 4180 has it: every cell in quotes, quotes doubled, lines ended by CRLF."""
    out = StringIO()
    csv.writer(out, quoting=csv.QUOTE_ALL).writerows(rows)
    wanted = tuple(tuple(cell.strip() for cell in row) for row in rows)
    kept = tuple(row for row in wanted if any(row))
    try:
        found = read(out.getvalue().encode("utf-8-sig")).rows
    except NotRead as no:
        assert no.code == "nothing_in_it"
        assert not kept or (len(kept) == 1 and tables.has_head(kept[0]))
    else:
        full = [at for at in range(3) if any(row[at] for row in kept)]
        assert found == tuple(tuple(row[at] for at in full) for row in kept)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=120))
def test_any_bytes_are_a_table_or_a_reason(content: bytes) -> None:
    for begin in (b"", b"BEGIN:VCARD\n", b"\xff\xfe"):
        try:
            found = read(begin + content)
        except NotRead as no:
            assert no.code in {"nothing_in_it", "no_text", "cut_short", "no_table", "too_wide"}
        else:
            assert {len(row) for row in found.rows} == {len(found.columns)}
