"""One-time codes: once each, a little early or late, and never an older one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.privacy import codes

SECRET = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ"
AT = 1_800_000_000
NOW = codes.step_at(AT)


def accepted(said: str, used: int = -1, at: float = AT) -> int | None:
    return codes.accepted_step(SECRET, said, at, used)


@pytest.mark.parametrize(("steps", "fits"), [(-2, 0), (-1, 1), (0, 1), (1, 1), (2, 0)])
def test_code_may_be_one_step_early_or_late(steps: int, fits: int) -> None:
    said = codes.hotp(SECRET, NOW + steps)
    assert accepted(said) == (NOW + steps if fits else None)


def test_code_that_was_used_and_every_older_one_is_refused() -> None:
    assert accepted(codes.hotp(SECRET, NOW), used=NOW) is None
    assert accepted(codes.hotp(SECRET, NOW - 1), used=NOW) is None
    assert accepted(codes.hotp(SECRET, NOW + 1), used=NOW) == NOW + 1


@pytest.mark.parametrize("said", ["", "figures", "12345", "²²²²²²", "é" * 40])
def test_what_is_no_code_is_refused(said: str) -> None:
    assert accepted(said) is None


def test_code_is_taken_in_other_figures_and_with_spaces() -> None:
    said = codes.hotp(SECRET, NOW)
    arabic = said.translate({ord("0") + n: chr(0x660 + n) for n in range(10)})
    assert accepted(f" {arabic[:3]} {arabic[3:]} ") == NOW


def test_first_moment_of_all_has_no_step_before_it() -> None:
    assert accepted(codes.hotp(SECRET, 0), at=0) == 0


@given(st.integers(min_value=0, max_value=2**62))
def test_code_always_has_six_figures(counter: int) -> None:
    assert len(codes.hotp(SECRET, counter)) == 6


def test_secret_is_160_random_bits() -> None:
    made = {codes.new_secret() for _ in range(20)}
    assert len(made) == 20
    assert {len(secret) for secret in made} == {32}


def test_device_is_told_the_secret_and_whose_it_is() -> None:
    assert codes.device_address("ABCD", "loïc k") == (
        "otpauth://totp/Portraits%3Alo%C3%AFc%20k?secret=ABCD&issuer=Portraits"
    )
    assert codes.in_groups("ABCDEFGHIJ") == "ABCD EFGH IJ"


def test_ten_paper_codes_are_numbered_and_differ() -> None:
    made = codes.new_paper_codes()
    assert [codes.paper_number(code) for code in made] == list(range(10))
    assert len({code[1:] for code in made}) == 10
    assert {len(code) for code in made} == {12}


@pytest.mark.parametrize("said", ["0abc-defg-h1o2", " 0ABC DEFG HIO2", "０abcdefghlo2"])
def test_paper_code_is_read_however_it_is_typed(said: str) -> None:
    assert codes.paper_text(said) == "0ABCDEFGH102"


@pytest.mark.parametrize("said", ["", "123456", "ABCDEFGHJKMN", "0ABCDEFGH1022"])
def test_what_cannot_be_a_paper_code_has_no_number(said: str) -> None:
    assert codes.paper_number(said) is None
