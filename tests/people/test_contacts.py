"""What would be taken of each line: proposed columns, entries, numbers read, lines refused."""

import pytest

from relations.people.contacts import Entry, Mapped, entries, look, proposed
from relations.people.contacts_tables import read


@pytest.mark.parametrize(
    ("text", "mapped"),
    [
        ("Name,Phone,Note\nA,+33639980042,x\n", Mapped(0, (1,), None, True)),
        ("Note,Téléphone portable,Nom\nx,0639980042,A\n", Mapped(2, (1,), None, True)),
        ("A,06 39 98 00 42\nB,06 39 98 00 43\n", Mapped(0, (1,))),
        ("06 39 98 00 42,A\n", Mapped(1, (0,))),
        ("الاسم,رقم الهاتف\nس,0639980042\n", Mapped(0, (1,), None, True)),
        ("नाम,फोन\nक,9841234567\n", Mapped(0, (1,), None, True)),
        ("Name,Phone\nA,none\n", Mapped(0, (), None, True)),
        ("0639980042\n", Mapped(0, ())),
    ],
)
def test_columns_are_proposed_and_a_note_never(text: str, mapped: Mapped) -> None:
    assert proposed(read(text.encode())) == mapped


def test_of_cards_the_name_and_the_numbers_are_proposed() -> None:
    card = "BEGIN:VCARD\nNICKNAME:Lia\nTEL:1\nNOTE:x\nEND:VCARD\n"
    assert proposed(read(card.encode())) == Mapped(0, (1,))


def test_only_what_was_mapped_is_in_an_entry() -> None:
    table = read(b'N,T,U,X\n" A  b ","1\n2\n",2,secret\nB,,3,y\n')
    assert entries(table, Mapped(0, (1, 2), None, has_head=True)) == [
        Entry("A b", ("1", "2")),
        Entry("B", ("3",)),
    ]
    assert entries(table, Mapped(0, (), 3)) == [
        *(Entry("N", (), "X"), Entry("A b", (), "secret"), Entry("B", (), "y")),
    ]


def test_a_cell_with_two_numbers_is_parted_and_one_that_is_none_says_why() -> None:
    (line,) = look(
        [Entry("A", ("06 39 98 00 42 / 06 39 98 00 43", "no", "tel:+33639980044"))], "FR"
    )
    assert [one.e164 for one in line.readings] == [
        *("+33639980042", "+33639980043", None, "+33639980044"),
    ]
    assert line.entry.numbers[2] == "no"
    assert (line.readings[2].problem, line.refused) == ("letters", "")


def test_more_figures_than_three_numbers_have_are_not_looked_into() -> None:
    (long, wide) = look([Entry("A", ("06 39 98 00 42 " * 5,)), Entry("B", (" " * 81,))], "FR")
    assert (long.readings[0].problem, wide.readings[0].problem) == ("too_long", "too_long")


def test_a_line_cannot_be_taken_twice_without_a_name_or_with_nine_numbers() -> None:
    nine = tuple(f"06 39 98 00 4{at}" for at in range(9))
    found = look(
        [
            Entry("Zoé", ("06 39 98 00 42",)),
            Entry("ZOE", ("+33639980042",)),  # the same, as a name is compared
            Entry("Bruno", ("06 39 98 00 42",)),  # a shared telephone
            Entry("", ("06 39 98 00 43",)),
            Entry("Awa", nine),
            Entry("Nour"),
            Entry("Nour"),
        ],
        "FR",
    )
    refused = ["", "twice", "", "no_name", "many_numbers", "", "twice"]
    assert [line.refused for line in found] == refused
    assert found[4].entry.numbers == nine
