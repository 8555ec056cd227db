"""Files of contacts beside the standards' own examples, and beside another reader of cards."""

import pytest
import vobject

from relations.people import phones
from relations.people.contacts_cards import CALLED, NOTE, NUMBER, cards, parts, plain
from relations.people.contacts_tables import read


def card(*lines: str, end: str = "\r\n") -> dict[str, list[str]]:
    (found,) = cards(end.join(("BEGIN:VCARD", *lines, "END:VCARD", "")))
    return found.values


def test_folding_of_rfc_6350() -> None:
    """RFC 6350, 3.2: one line, and the same one folded at any place, white space kept."""
    whole = "NOTE:This is a long description that exists on a long line."
    folded = ("NOTE:This is a long description", "  that exists o", " n a long line.")
    assert card(whole) == card(*folded)
    assert card(*folded)[NOTE] == ["This is a long description that exists on a long line."]


def test_escapes_of_rfc_6350() -> None:
    """RFC 6350, 3.4 and 6.7.2: a comma, a semicolon, a backslash and a line break in a value.

    The second value is that of checks.md 4.2.
    """
    said = card("NOTE:Mythical Manager\\nHyjinx Software Division\\nBabsCo\\, Inc.\\n")[NOTE]
    assert said == ["Mythical Manager\nHyjinx Software Division\nBabsCo, Inc."]
    assert card("NOTE:a\\nb\\;c")[NOTE] == ["a\nb;c"]
    assert plain("\\\\n") == "\\n"


def test_a_number_as_a_uri_of_rfc_6350() -> None:
    """RFC 6350, 6.4.1, its two examples: an extension, and a quoted list of types."""
    said = card(
        'TEL;VALUE=uri;PREF=1;TYPE="voice,home":tel:+1-555-555-5555;ext=5555',
        "TEL;VALUE=uri;TYPE=home:tel:+33-01-23-45-67",
    )
    first, second = said[NUMBER]
    reading = phones.read(first, None)
    assert (reading.e164, reading.extension) == ("+15555555555", "5555")
    assert second == "tel:+33-01-23-45-67"


def test_a_name_of_rfc_6350() -> None:
    """RFC 6350, 6.2.2: family, given, additional, prefixes, suffixes."""
    name = "Stevenson;John;Philip,Paul;Dr.;Jr.,M.D.,A.C.P."
    assert parts(name, ";")[:2] == ["Stevenson", "John"]
    assert card(f"N:{name}")[CALLED] == ["John Stevenson"]


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        # RFC 4180, 2.1 and 2.2: with and without a line break at the end.
        ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", (("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx"))),
        ("aaa,bbb,ccc\r\nzzz,yyy,xxx", (("aaa", "bbb", "ccc"), ("zzz", "yyy", "xxx"))),
        # 2.5 and 2.6: quotes, and a line break in them.
        ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', (("aaa", "b\nbb", "ccc"), ("zzz", "yyy", "xxx"))),
        # 2.7: a quote in quotes is doubled. One line alone would be a head and nobody.
        ('"aaa","b""bb","ccc"\r\nzzz,yyy,xxx', (("aaa", 'b"bb', "ccc"), ("zzz", "yyy", "xxx"))),
    ],
)
def test_lines_of_rfc_4180(text: str, rows: tuple[tuple[str, ...], ...]) -> None:
    assert read(text.encode()).rows == rows


CARDS = [
    ("VERSION:3.0", "N:Ponte;Nélida;;;", "FN:Nélida\\, Ponte", "TEL;TYPE=CELL:+33 6 39 98 00 51"),
    ("VERSION:4.0", "FN:Zoé", 'TEL;VALUE=uri;TYPE="voice,cell":tel:+33639980042', "NOTE:a\\nb"),
    ("VERSION:4.0", "FN:Mar", " uja", "item1.TEL:+33639980043", "item1.X-ABLABEL:home"),
    ("VERSION:3.0", "FN:عمر", "TEL:1", "TEL:2", "NOTE:x\\;y"),
    ("VERSION:2.1", "FN;ENCODING=QUOTED-PRINTABLE;CHARSET=UTF-8:N=C3=A9lida", "TEL;CELL:1"),
]  # fmt: skip


@pytest.mark.parametrize("lines", CARDS, ids=[" ".join(one[:2]) for one in CARDS])
def test_another_reader_reads_the_same(lines: tuple[str, ...]) -> None:
    """vobject 0.9.9; of the oldest cards it needs to be told that they may be quoted-printable."""
    text = "\r\n".join(("BEGIN:VCARD", *lines, "END:VCARD", ""))
    (other,) = vobject.readComponents(text, allowQP="VERSION:2.1" in text)
    theirs = {
        name.upper(): [line.value for line in other.contents.get(name, [])]
        for name in ("fn", "tel", "note")
    }
    ours = card(*lines)
    wanted = {key: said for key, said in theirs.items() if said}
    assert {key: ours[key] for key in wanted} == wanted
