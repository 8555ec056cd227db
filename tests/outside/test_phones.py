"""Phone numbers set aside for fiction, and odd inputs, as whole ranges and tables.

Source of every value: checks.md 5, run with phonenumbers 9.0.43. Blocks: ARCEP decision
2018-0881 (France; its text not opened), Ofcom (Britain; prefix list from memory), NANPA
555-01XX, ACMA, PTS 2020, ComReg, BNetzA notice 148/2021 as quoted by third parties.
"""

import pytest

from relations.people.phones import Split, international, read, split


@pytest.mark.parametrize("block", ["019900", "026191", "035301", "046571", "053649"])
def test_french_blocks_for_fiction_are_valid(block: str) -> None:
    for end in range(0, 10_000, 7):
        reading = read(f"{block}{end:04d}", "FR")
        assert (reading.is_valid, reading.warning) == (True, "")


def test_french_mobiles_for_fiction_are_possible_and_never_valid() -> None:
    for end in range(0, 10_000, 7):
        reading = read(f"063998{end:04d}", "FR")
        assert reading.e164 == f"+3363998{end:04d}"
        assert (reading.is_possible, reading.is_valid) == (True, False)
        assert reading.warning == "not_valid"


@pytest.mark.parametrize(
    ("country", "typed", "is_valid"),
    [
        ("GB", "020 7946 0958", True),
        ("GB", "0113 496 0123", True),
        ("GB", "0191 498 0123", True),
        ("GB", "028 9649 6123", True),
        ("GB", "029 2018 0123", True),
        ("GB", "0115 496 0123", False),
        ("GB", "07700 900123", False),
        ("GB", "01632 960123", False),
        ("GB", "08081 570123", True),
        ("US", "212-555-0142", True),
        ("CA", "604-555-0199", True),
        ("AU", "0491 570 006", True),
        ("AU", "0491 579 455", True),
        ("AU", "02 5550 4217", True),
        ("SE", "070-1740605", True),
        ("IE", "020 910 0123", False),
        ("DE", "030 23125 042", True),
        ("DE", "0152 28817386", True),
    ],
)
def test_numbers_for_fiction_elsewhere_are_all_taken(
    country: str, typed: str, *, is_valid: bool
) -> None:
    reading = read(typed, country)
    assert reading.problem == ""
    assert (reading.is_possible, reading.is_valid) == (True, is_valid)
    assert reading.warning == ("" if is_valid else "not_valid")


@pytest.mark.parametrize(
    ("typed", "country", "e164", "shown"),
    [
        ("06 39 98 00 42", "FR", "+33639980042", "+33 6 39 98 00 42"),
        ("01 99 00 42 17", "FR", "+33199004217", "+33 1 99 00 42 17"),
        ("020 7946 0958", "GB", "+442079460958", "+44 20 7946 0958"),
        ("07700 900123", "GB", "+447700900123", "+44 7700 900123"),
        ("01632 960123", "GB", "+441632960123", "+44 1632 960123"),
        ("416-555-0142", "CA", "+14165550142", "+1 416-555-0142"),
        ("0491 570 006", "AU", "+61491570006", "+61 491 570 006"),
        ("02 5550 4217", "AU", "+61255504217", "+61 2 5550 4217"),
        ("070-174 06 05", "SE", "+46701740605", "+46 70 174 06 05"),
        ("020 912 3456", "IE", "+353209123456", "+353 20 912 3456"),
        ("030 23125 042", "DE", "+493023125042", "+49 30 23125042"),
        ("02 1234567", "IT", "+39021234567", "+39 02 123 4567"),
    ],
)
def test_formats(typed: str, country: str, e164: str, shown: str) -> None:
    """The Italian number keeps its zero; how it is grouped was run here, not published."""
    assert read(typed, country).e164 == e164
    assert international(e164) == shown


@pytest.mark.parametrize(
    ("typed", "country"),
    [
        ("06.39.98.00.42", "FR"),
        ("0033 6 39 98 00 42", "FR"),
        ("٠٦٣٩٩٨٠٠٤٢", "FR"),
        ("０６３９９８００４２", "FR"),
        ("+33 (0)6 39 98 00 42", "FR"),
        ("\u202a06 39 98 00 42\u202c", "FR"),
        ("06\u00a039\u00a098\u00a000\u00a042", "FR"),
        ("06\u201139\u201198\u201100\u201142", "FR"),
        ("0033639980042", "GB"),
        ("011 33 6 39 98 00 42", "CA"),
    ],
)
def test_odd_inputs_are_the_same_number(typed: str, country: str) -> None:
    assert read(typed, country).e164 == "+33639980042"


@pytest.mark.parametrize(
    ("typed", "country", "problem"),
    [
        ("112", "FR", "too_short"),
        ("06 39 98 00", "FR", "too_short"),
        ("0639980042000000", "FR", "too_long"),
        ("0639980042", None, "country"),
        ("abc", "FR", "letters"),
        ("", "FR", "empty"),
        ("+999123456", None, "country"),
        ("06 39 98 00 42 poste 12", "FR", "letters"),
    ],
)
def test_odd_inputs_that_are_no_number(typed: str, country: str | None, problem: str) -> None:
    """The last is trap 3: the library alone reads +336399800427678312."""
    reading = read(typed, country)
    assert (reading.problem, reading.e164) == (problem, None)


def test_a_trunk_zero_in_brackets_is_dropped() -> None:
    assert read("+44 (0)7700 900123", "GB").e164 == "+447700900123"


def test_an_extension_in_a_link_is_read() -> None:
    reading = read("tel:+33-6-39-98-00-42;ext=12", "FR")
    assert (reading.e164, reading.extension) == ("+33639980042", "12")


# Whole ranges, scanned as the source did; US numbers are 555-0100 to 555-0199 in any area.
RANGES = [
    ("GB", "0207946{:04d}", range(1000), True),
    ("GB", "0113496{:04d}", range(0, 1000, 7), True),
    ("GB", "0115496{:04d}", range(0, 1000, 7), False),
    ("GB", "07700900{:03d}", range(1000), False),
    ("GB", "01632960{:03d}", range(1000), False),
    ("GB", "08081570{:03d}", range(0, 1000, 7), True),
    ("US", "212555{:04d}", range(100, 200), True),
    ("CA", "416555{:04d}", range(100, 200), True),
    ("CA", "514555{:04d}", range(100, 200), True),
    ("AU", "025550{:04d}", range(0, 10_000, 97), True),
    ("AU", "085550{:04d}", range(0, 10_000, 97), True),
    ("SE", "070174{:04d}", range(605, 700), True),
    ("IE", "020910{:04d}", range(0, 1000, 7), False),
    ("DE", "03023125{:03d}", range(0, 1000, 7), True),
    ("DE", "017604069{:03d}", range(0, 1000, 7), True),
    ("DE", "017139200{:02d}", range(100), True),
]


@pytest.mark.parametrize(("country", "shape", "ends", "is_valid"), RANGES)
def test_ranges_for_fiction_are_possible_whether_or_not_they_are_valid(
    country: str, shape: str, ends: range, *, is_valid: bool
) -> None:
    found = [read(shape.format(end), country) for end in ends]
    assert all(reading.e164 and not reading.problem for reading in found)
    assert {reading.is_valid for reading in found} == {is_valid}


# ACMA's list of mobiles for fiction, as two published guides give it.
AUSTRALIAN = (
    "006 156 157 158 159 110 313 737", "266 491 804", "549 665 983", "770 087", "118 632",
    "254 789", "398 801", "426 644", "957 148 888", "212 760 455",
)  # fmt: skip


def test_australian_mobiles_for_fiction_are_valid() -> None:
    for block, ends in enumerate(AUSTRALIAN):
        for end in ends.split():
            assert read(f"0491 57{block} {end}", "AU").is_valid


# languages.md 4.1, the country NP unless said. Nepal sets no numbers aside for fiction: these are
# the table's own.
@pytest.mark.parametrize(
    ("typed", "country", "e164", "extension"),
    [
        ("०९८४१२३४५६७", "NP", "+9779841234567", ""),
        ("٠٥٠ ١٢٣ ٤٥٦٧", "AE", "+971501234567", ""),
        ("၀၉ ၄၂၁ ၂၃၄ ၅၆၇", "MM", "+959421234567", ""),
        ("00977 984-1234567", "NP", "+9779841234567", ""),
        ("977-984-1234567", "NP", "+9779841234567", ""),
        ("+33 (0)6 39 98 00 42", "NP", "+33639980042", ""),
        ("\u202a984-1234567\u202c", "NP", "+9779841234567", ""),
        ("984\u00a01234567", "NP", "+9779841234567", ""),
        ("984\u20111234567", "NP", "+9779841234567", ""),
        ("01-4221234 ext. 12", "NP", "+97714221234", "12"),
    ],
)
def test_the_table_of_numbers_that_are_read(
    typed: str, country: str, e164: str, extension: str
) -> None:
    reading = read(typed, country)
    assert (reading.e164, reading.extension) == (e164, extension)
    assert split(typed, country) is None


@pytest.mark.parametrize(
    ("typed", "parts", "left"),
    [
        # The library alone reads +9779841234567747837.
        ("9841234567 (sister)", [("9841234567", "sister")], ""),
        ("984-1234567 / 985-1234567", [("984-1234567", ""), ("985-1234567", "")], ""),
        ("984-1234567, 985-1234567", [("984-1234567", ""), ("985-1234567", "")], ""),
        # Its matcher finds one number here, and the second is lost without a word.
        ("984-1234567/68", [("984-1234567", ""), ("68", "")], ""),
        (
            "दिदी ९८४१२३४५६७, घर ९८५१२३४५६७",
            [("9841234567", "दिदी"), ("9851234567", "घर")],
            "",
        ),
        (
            "الأخت 9841234567 أو 9851234567",
            [("9841234567", "الأخت"), ("9851234567", "")],
            "",
        ),
        ("9841234567 poste 12", [("9841234567", "poste 12")], "12"),
    ],
)
def test_the_table_of_lines_that_are_asked_about(
    typed: str, parts: list[tuple[str, str]], left: str
) -> None:
    found = split(typed, "NP")
    assert found is not None
    assert [(part.number, part.note) for part in found.parts] == parts
    assert found.left == left


def test_a_number_too_short_is_kept_for_somebody_to_check() -> None:
    reading = read("984123456", "NP")
    assert (reading.kept_raw, reading.e164, reading.problem) == ("984123456", None, "wrong_length")
    assert split("984123456", "NP") == Split()


def test_ethiopic_numerals_have_no_place_value_and_are_no_number() -> None:
    assert read("፱፰፬፩፪፫", "ET").problem == "not_a_number"


def test_the_wrong_country_cannot_be_told() -> None:
    """A Nepali number is valid in India: the page shows the name of the country."""
    assert read("9841234567", "IN").is_valid
