"""Cards read for names, numbers and notes: folds, escapes, quoted-printable, and hostile ones."""

import time
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relations.people.contacts_cards import (
    CALLED,
    GIVEN,
    NICKNAME,
    NOTE,
    NUMBER,
    Card,
    NotRead,
    cards,
    parts,
    plain,
    unfolded,
)


def card(*lines: str) -> Card:
    """The one card of these lines."""
    (found,) = cards("\r\n".join(("BEGIN:VCARD", *lines, "END:VCARD", "")))
    return found


def test_a_group_a_case_and_a_quoted_parameter_change_nothing() -> None:
    said = card('item1.tel;TYPE="voice:home;x":+33 6 39 98 00 42', "fn:Zoé").values
    assert said == {CALLED: ["Zoé"], NUMBER: ["+33 6 39 98 00 42"]}


def test_a_name_without_a_whole_one_is_put_together_of_its_parts() -> None:
    assert card("N:Huarcaya Ponte;Nélida;;;").values[CALLED] == ["Nélida Huarcaya Ponte"]
    assert card("N:;Nélida").values == {CALLED: ["Nélida"], GIVEN: ["Nélida"]}
    assert card("N:Ponte").values == {CALLED: ["Ponte"]}
    assert card("ORG:Quay").values == card().values == {}


def test_the_first_of_several_names_is_taken_and_every_number() -> None:
    said = card("FN:Lia", "FN:Nélida", "NICKNAME:Li\\,a,Nel", "TEL:1", "TEL:2", "NOTE:a\\nb").values
    assert said == {CALLED: ["Lia"], NICKNAME: ["Li,a"], NUMBER: ["1", "2"], NOTE: ["a\nb"]}


def test_what_is_never_taken_is_named_and_not_opened() -> None:
    found = card("FN:A", "VERSION:4.0", "EMAIL:a@example.org", "X-FAITH:x", "É:x", "no colon", ":x")
    assert (found.left, set(found.values)) == ({"EMAIL", "X-FAITH"}, {CALLED})


def test_words_of_the_oldest_cards_are_read_in_the_letters_they_name() -> None:
    said = card(
        "VERSION:2.1",
        "N;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:;N=C3=A9lida;;;",
        "FN;CHARSET=UTF-8;QUOTED-PRINTABLE:N=C3=A9=",
        "lida",
        "TEL;CELL;PREF:+33639980042",
        "NOTE;ENCODING=QUOTED-PRINTABLE;CHARSET=ISO-8859-1:=E9t=E9",
        "PHOTO;ENCODING=BASE64;JPEG:/9j/4AAQSkZJRgABAQ",
        " AAAA=",
        "",
    ).values
    assert said == {
        CALLED: ["Nélida"],
        GIVEN: ["Nélida"],
        NUMBER: ["+33639980042"],
        NOTE: ["été"],
    }


@pytest.mark.parametrize(
    ("charset", "printable", "read"),
    [
        ("UTF-8", "=E9", "é"),  # it says UTF-8 and is not
        ("UNICODE-OF-NOBODY", "=C3=A9", "é"),
        ("WINDOWS-1256", "=C7", "ا"),
        ("US-ASCII", "=81", "\x81"),  # nothing in Windows-1252 either
    ],
)
def test_letters_that_are_not_what_they_say_are_still_read(charset, printable, read) -> None:
    said = card(f"FN;CHARSET={charset};ENCODING=QUOTED-PRINTABLE:a{printable}b").values
    assert said[CALLED] == [f"a{read}b"]


def test_a_fold_keeps_its_space_in_the_oldest_cards_only() -> None:
    assert list(unfolded(["FN:a", " b", "\tc", "TEL:1"])) == ["FN:abc", "TEL:1"]
    assert list(unfolded(["FN:a", " b"], keep=True)) == ["FN:a b"]
    assert card("VERSION:2.1", "FN:Maria", " Chambergo").values[CALLED] == ["Maria Chambergo"]
    assert card("VERSION:4.0", "FN:Maria", "  Chambergo").values[CALLED] == ["Maria Chambergo"]


def test_a_card_in_a_card_is_left_out_and_one_without_an_end_refuses_all() -> None:
    inner = "BEGIN:VCARD\nFN:inner\nEND:VCARD\n"
    (found,) = cards(f"END:VCARD\nBEGIN:VCARD\nFN:outer\nAGENT:\n{inner}END:VCARD\n")
    assert found.values == {CALLED: ["outer"]}
    with pytest.raises(NotRead) as no:
        list(cards(f"BEGIN:VCARD\nFN:cut\n{inner}"))
    assert no.value.code == "cut_short"


def test_other_ends_of_a_line_than_those_of_the_standard_end_nothing() -> None:
    assert card("NOTE:a\u2028TEL:1\x0bTEL:2").values == {NOTE: ["a\u2028TEL:1\x0bTEL:2"]}


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet='ab;,\\":=\n\r\t é', max_size=12), max_size=12))
def test_junk_is_read_or_refused_and_parts_lose_nothing(lines: list[str]) -> None:
    try:
        list(cards("BEGIN:VCARD\n" + "\n".join(lines) + "\nEND:VCARD\n"))
    except NotRead as no:
        assert no.code == "cut_short"
    for line in lines:
        assert ";".join(parts(line, ";")) == line
        assert "\\" not in plain(line.replace("\\", ""))


@pytest.mark.parametrize("junk", ["x\n ", "=41=\n", ';"', "N:;;\\;\n", "BEGIN:VCARD\n"])
def test_twice_as_much_junk_takes_no_more_than_thrice_as_long(junk: str) -> None:
    """One walk, not one a line; the least of two runs, as a machine may be busy."""

    def took(times: int) -> float:
        text = f"BEGIN:VCARD\nFN;QUOTED-PRINTABLE:{junk * times}\nEND:VCARD\n"
        least = 9.0
        for _ in range(2):
            begin = time.process_time()
            with suppress(NotRead):
                list(cards(text))
            least = min(least, time.process_time() - begin)
        return least

    assert took(6_000) < 3 * took(3_000) + 0.02
