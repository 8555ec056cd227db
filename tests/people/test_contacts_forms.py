"""What may be typed on the way of a telephone's contacts: labels, rows, and what is dropped."""

import pytest

from relations.people.contacts_forms import ColumnsForm, left
from relations.people.contacts_tables import read

CARD = "BEGIN:VCARD\nFN:{}\nTEL:+33639980042\nNOTE:x\nEMAIL:x\nX-FAITH:x\nEND:VCARD\n"


def columns(content: str, **typed: object) -> ColumnsForm:
    table = read(content.encode())
    if not typed:
        return ColumnsForm(carried="sealed", table=table)
    sent = {"token": "0" * 32, "carried": "sealed", "called": "0", "country": "FR", **typed}
    return ColumnsForm(sent, carried="sealed", table=table)


def test_a_column_is_shown_with_the_begin_of_what_stands_in_it() -> None:
    long = "x" * 31
    said = [str(label) for _at, label in columns(f"A,B\n{long},\n").fields["called"].choices]
    assert said == [
        f"Column 1: \u2068A\u2069, then \u2068{'x' * 30}…\u2069",
        "Column 2: \u2068B\u2069",
    ]
    (whole, *_rest) = columns(CARD.format("Zoé")).fields["called"].choices
    assert str(whole[1]) == "The whole name, such as \u2068Zoé\u2069"


def test_a_note_is_chosen_only_by_a_hand_and_cards_have_no_head() -> None:
    form = columns(CARD.format("Zoé"))
    assert form.fields["note"].choices[0][0] == ""
    assert "note" not in form.initial
    assert "has_head" not in form.fields
    assert [str(one) for one in left(form.table)] == ["e-mail addresses", "X-FAITH"]


@pytest.mark.parametrize(
    ("content", "typed", "dropped"),
    [
        (CARD.format("A"), {"numbers": ["1"]}, ["The note", "e-mail addresses", "X-FAITH"]),
        (CARD.format("A"), {"note": "2"}, ["The telephone numbers", "e-mail addresses", "X-FAITH"]),
        ("N,T,F\na,b,c\n", {"has_head": "on", "numbers": ["1"]}, ["F"]),
        ("N,T,F\na,b,c\n", {"numbers": ["1"]}, ["Column 3"]),
    ],
)
def test_what_is_not_mapped_is_named(content: str, typed: dict, dropped: list[str]) -> None:
    form = columns(content, **typed)
    assert form.is_valid(), form.errors
    assert form.dropped == dropped
