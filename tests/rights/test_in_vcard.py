"""Cards against RFC 6350 and as the vobject package reads them (checks.md 4.2)."""

import re
from uuid import UUID

import vobject
from hypothesis import given
from hypothesis import strategies as st

from relations.rights.in_vcard import Card, Number, written

KEY = str(UUID("00000000-0000-4000-8000-000000000007"))
NUMBER = Number("+33639980042")


def test_a_card_is_as_the_standard_asks():
    """Section 3.1 (VERSION first), 6.2.1 FN, 6.2.2 N of five parts, 6.4.1 TEL as a URI, 6.7.6."""
    card = Card(KEY, "Olga", ("pt-BR", "fr"), (NUMBER, Number("+33639980043", "12", is_text=True)))
    assert written([card]).decode().split("\r\n") == [
        "BEGIN:VCARD", "VERSION:4.0", f"UID:urn:uuid:{KEY}", "FN:Olga", "N:;Olga;;;",
        "LANG;PREF=1:pt-BR", "LANG;PREF=2:fr",
        "TEL;VALUE=uri;TYPE=voice:tel:+33639980042",
        "TEL;VALUE=uri;TYPE=text:tel:+33639980043;ext=12", "END:VCARD", "",
    ]  # fmt: skip


def test_vobject_reads_it_and_writes_it_again():
    """The value of checks.md 4.2: tel:+33639980042."""
    one = vobject.readOne(written([Card(KEY, "Zoë; d’Arc, “Zo”", (), (NUMBER,))]).decode())
    assert one.fn.value == "Zoë; d’Arc, “Zo”"
    assert (one.tel.value, one.tel.params["VALUE"]) == ("tel:+33639980042", ["uri"])
    assert one.serialize()


def test_what_is_no_number_and_no_language_is_left_out():
    odd = (Number("0639980042"), Number("+33\r\nNOTE:x"), Number("+33639980042", "1\r\n2"))
    text = written([Card(KEY, "Olga", ("fr\r\nNOTE:x",), odd)]).decode()
    assert "NOTE" not in text
    assert text.count("TEL;") == 1
    assert "ext" not in text


LETTERS = st.text(
    st.characters(exclude_categories=("Cs", "Cc"), include_characters="\n"), min_size=1
)


@given(LETTERS)
def test_no_name_breaks_out_of_its_line_and_none_is_cut_inside_a_letter(name):
    whole = written([Card(KEY, name)])
    pieces = whole.split(b"\r\n")
    assert max(map(len, pieces)) <= 75
    assert all(piece.decode() is not None for piece in pieces)
    unfolded = whole.decode().replace("\r\n ", "").split("\r\n")
    assert [line.split(":")[0] for line in unfolded if line] == [
        *("BEGIN", "VERSION", "UID", "FN", "N", "END")
    ]
    said = re.sub(r"\\(.)", lambda found: found[1].replace("n", "\n"), unfolded[3])
    assert said == f"FN:{name}"
