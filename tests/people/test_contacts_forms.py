"""What may be typed on the way of a telephone's contacts: labels, rows, and what is dropped."""

import pytest

from relations.people.contacts import Entry
from relations.people.contacts_forms import ColumnsForm, TakeForm, left
from relations.people.contacts_tables import read
from relations.privacy.refused import Refused
from tests import cast

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


@pytest.mark.django_db
def test_a_clock_is_asked_only_where_a_number_has_several() -> None:
    entries = [Entry("Awa", ("+1 212 555 0142", "06 39 98 00 42"), "her sister")]
    (line,) = TakeForm(user=cast.artist(), entries=entries, country="FR").lines
    assert [name for name in line.fields if name[:4] in ("zone", "numb", "note")] == [
        *("number_0", "note_0", "zone_0", "number_1", "note_1"),
    ]
    assert (line.initial["note_0"], line.initial["call_name"]) == ("her sister", "Awa")
    assert line.fields["zone_0"].required
    empty = {"0-call_name": "Awa", "0-number_0": "", "country": "FR"}
    assert [*TakeForm(empty, user=cast.artist()).lines[0].fields][-1] == "note_0"


@pytest.mark.django_db
def test_no_more_lines_are_read_than_a_page_of_ours_has() -> None:
    sent = {f"{at}-call_name": "A" for at in range(40)}
    assert len(TakeForm(sent, user=cast.artist()).lines) == 20


@pytest.mark.django_db
def test_a_refusal_stands_beside_its_line_or_over_all() -> None:
    form = TakeForm({"0-call_name": "A", "0-number_0": "1"}, user=cast.artist())
    form.is_valid()
    form.refuse(Refused("project_closed"))
    assert "project_closed" not in form.errors
    assert len(form.non_field_errors()) == 1
    form.at = form.lines[0]
    form.refuse(Refused("already_theirs", "project_closed"))
    (line,) = form.lines
    assert "This number stands here already." in line.errors["number_0"]
    assert line.non_field_errors() == form.non_field_errors()
