"""A phone number as typed: what is read, what is asked, what is only warned of."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.digits import to_native
from relations.people.phones import (
    LONGEST,
    Part,
    Reading,
    Split,
    international,
    link,
    numbers_in,
    read,
    split,
)

PAIR = ("04 65 71 00 07", "06 39 98 00 42")


def test_a_number_is_kept_as_typed_and_as_dialled() -> None:
    reading = read(" 04 65 71 00 07 ", "FR")
    assert reading == Reading(
        kept_raw=" 04 65 71 00 07 ", e164="+33465710007", is_possible=True, is_valid=True
    )


def test_a_possible_number_that_is_not_valid_is_taken_with_a_warning() -> None:
    reading = read("06 39 98 00 42", "fr")
    assert reading.e164 == "+33639980042"
    assert (reading.is_possible, reading.is_valid) == (True, False)
    assert (reading.problem, reading.warning) == ("", "not_valid")


@pytest.mark.parametrize(
    "typed",
    [
        "04 65 71 00 07 / 06 39 98 00 42",
        "04 65 71 00 07, 06 39 98 00 42",
        "04 65 71 00 07; 06 39 98 00 42",
        "04 65 71 00 07 ou 06 39 98 00 42",
        "04 65 71 00 07\n06 39 98 00 42",
        "04 65 71 00 07 06 39 98 00 42",
        "٠٤ ٦٥ ٧١ ٠٠ ٠٧ / ٠٦ ٣٩ ٩٨ ٠٠ ٤٢",
    ],
)
def test_two_numbers_in_one_cell_are_found_and_split(typed: str) -> None:
    reading = read(typed, "FR")
    assert reading.problem == "two_numbers"
    assert reading.parts == PAIR
    assert reading.e164 is None
    assert reading.kept_raw == typed


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("0465710007 06 39 98 00 42", ("0465710007", "06 39 98 00 42")),
        ("04 65 71 00 07 0639980042", ("04 65 71 00 07", "0639980042")),
    ],
)
def test_two_numbers_with_only_a_space_between_are_split_there(
    typed: str, parts: tuple[str, str]
) -> None:
    assert read(typed, "FR").parts == parts


@pytest.mark.parametrize("typed", ["06 39 98 00 42 / 43", "06 39 98 00 42, 43"])
def test_a_second_number_cut_short_is_not_lost(typed: str) -> None:
    reading = read(typed, "FR")
    assert reading.problem == "two_numbers"
    assert reading.parts == ("06 39 98 00 42", "43")


@pytest.mark.parametrize("typed", ["06/39/98/00/42", "06.39.98.00.42", "06-39-98-00-42"])
def test_one_number_with_signs_between_is_one(typed: str) -> None:
    assert read(typed, "FR").e164 == "+33639980042"


@pytest.mark.parametrize(
    "typed",
    [
        "06 39 98 00 42 poste 12",
        "06 39 98 00 42 (sister)",
        "06 39 98 OO 42",
        "abc",
        "06 39 98 00 42 أخت",
    ],
)
def test_letters_are_refused_and_never_become_digits(typed: str) -> None:
    reading = read(typed, "FR")
    assert (reading.problem, reading.e164, reading.kept_raw) == ("letters", None, typed)


@pytest.mark.parametrize(
    "typed",
    [
        "04 65 71 00 07 ext. 12",
        "04 65 71 00 07 ext 12",
        "04 65 71 00 07 x12",
        "04 65 71 00 07x12",
        "04 65 71 00 07 #12",
        "tel:+33-4-65-71-00-07;ext=12",
    ],
)
def test_an_extension_is_kept_apart(typed: str) -> None:
    reading = read(typed, "FR")
    assert (reading.e164, reading.extension, reading.problem) == ("+33465710007", "12", "")


@pytest.mark.parametrize(
    ("typed", "country", "problem"),
    [
        ("", "FR", "empty"),
        (" \u200e ", "FR", "empty"),
        ("0639980042", None, "country"),
        ("0639980042", "", "country"),
        ("0639980042", "ZZ", "country"),
        ("+999123456", "FR", "country"),
        ("06 39 98 00", "FR", "too_short"),
        ("0", "FR", "not_a_number"),
        ("+", "FR", "not_a_number"),
        ("06399800420000", "FR", "too_long"),
        ("06399800421234567890", "FR", "too_long"),
        ("06 39 98 00 42" + " " * LONGEST, "FR", "too_long"),
        ("555-0142", "US", "area_code"),
    ],
)
def test_what_cannot_be_dialled_is_named(typed: str, country: str | None, problem: str) -> None:
    reading = read(typed, country)
    assert (reading.problem, reading.e164, reading.kept_raw) == (problem, None, typed)
    assert reading.parts == ()


def test_a_local_number_is_possible_but_wants_its_area() -> None:
    assert read("555-0142", "US").is_possible


def test_a_number_with_its_plus_needs_no_country() -> None:
    assert read("+33 6 39 98 00 42", None).e164 == "+33639980042"
    assert read("+33 6 39 98 00 42", "ZZ").e164 == "+33639980042"


@given(st.integers(0, 9_999), st.sampled_from(["fr", "ar", "fa", "ne", "bn"]))
def test_every_number_set_aside_for_fiction_is_read_in_every_script(end: int, lang: str) -> None:
    typed = to_native(f"0465 71 {end:04d}", lang)
    assert read(typed, "FR").e164 == f"+3346571{end:04d}"


@given(st.text(), st.sampled_from(["FR", "GB", "US", "ZZ", None]))
def test_whatever_is_typed_has_an_answer_and_is_kept(typed: str, country: str | None) -> None:
    reading = read(typed, country)
    assert reading.kept_raw == typed
    assert bool(reading.e164) != bool(reading.problem)
    assert (reading.problem == "two_numbers") == (len(reading.parts) > 1)


@given(st.text("0123456789 +-/,;()x#.", max_size=40))
def test_whatever_looks_like_a_number_has_an_answer(typed: str) -> None:
    reading = read(typed, "FR")
    assert bool(reading.e164) != bool(reading.problem)
    assert (reading.problem == "two_numbers") == (len(reading.parts) > 1)


def test_a_number_is_shown_to_eyes_and_to_a_phone() -> None:
    assert international("+33639980042") == "+33 6 39 98 00 42"
    assert international("+33639980042", "12") == "+33 6 39 98 00 42 ext. 12"
    assert link("+33639980042") == "tel:+33-6-39-98-00-42"
    assert link("+33639980042", "12") == "tel:+33-6-39-98-00-42;ext=12"


@pytest.mark.parametrize(
    ("typed", "parts", "left"),
    [
        (
            "04 65 71 00 07 (sœur) / 06 39 98 00 42 après 18 h",
            (Part("04 65 71 00 07", "sœur"), Part("06 39 98 00 42", "après 18 h")),
            "18",
        ),
        (
            "maison: 04 65 71 00 07 ou 06 39 98 00 42",
            (Part("04 65 71 00 07", "maison"), Part("06 39 98 00 42")),
            "",
        ),
        ("04 65 71 00 07 et", (Part("04 65 71 00 07"),), ""),
        ("or 04 65 71 00 07 or Bruno", (Part("04 65 71 00 07", "Bruno"),), ""),
        (
            "home 04 65 71 00 07, work 06 39 98 00 42 (late)",
            (Part("04 65 71 00 07", "home"), Part("06 39 98 00 42", "work late")),
            "",
        ),
        ("06 39 98 00 42 poste 12", (Part("06 39 98 00 42", "poste 12"),), "12"),
        ("0465710007 06 39 98 00 42", (Part("0465710007"), Part("06 39 98 00 42")), ""),
        ("06 39 98 OO 42", (), ""),
        ("0800 PORTRAIT", (), ""),
        ("06 39", (), ""),
    ],
)
def test_a_line_is_parted_into_numbers_and_their_notes(
    typed: str, parts: tuple[Part, ...], left: str
) -> None:
    assert split(typed, "FR") == Split(parts, left)


def test_a_number_alone_leaves_nothing_to_ask() -> None:
    assert split("04 65 71 00 07 ext. 12", "FR") is None
    assert split("+33 6 39 98 00 42", None) is None


@given(st.text("0123456789 +-/,;()x#.abأب", max_size=60))
def test_no_figure_of_a_line_is_lost_in_parting_it(typed: str) -> None:
    found = split(typed, "FR")
    if found is not None and found.parts:
        kept = "".join(part.number + part.note for part in found.parts)
        assert sum(map(str.isdigit, kept)) == sum(map(str.isdigit, typed))


def test_every_number_that_a_text_may_hold_is_found() -> None:
    typed = "٠٤ ٦٥ ٧١ ٠٠ ٠٧ (or 06 39 98 00 42)"
    assert numbers_in(typed, "FR") == ("+33465710007", "+33639980042")
    assert numbers_in("no number", "FR") == ()


def test_the_large_place_name_data_are_never_loaded() -> None:
    """100 MB and a third of a second (languages.md 4.2)."""
    script = (
        "import sys, relations.people.phones as p; p.read('0465710007', 'FR');"
        "print([m for m in sys.modules if m.endswith(('.geocoder', '.carrier', '.geodata'))])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
