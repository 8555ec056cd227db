"""One-time codes against the published values, through the site's own code."""

import math
from base64 import b32encode

import pytest
from cryptography.hazmat.primitives.hashes import SHA1
from cryptography.hazmat.primitives.twofactor.totp import TOTP
from hypothesis import given
from hypothesis import strategies as st

from relations.privacy import codes

# The secret of both documents: the ASCII figures 1 to 0, twice.
SECRET = b32encode(b"12345678901234567890").decode()


def test_secret_is_written_as_devices_take_it() -> None:
    assert SECRET == "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ"


# RFC 4226, appendix D; [P] pyotp and oathtool say the same.
COUNTED = [
    *("755224", "287082", "359152", "969429", "338314"),
    *("254676", "287922", "162583", "399871", "520489"),
]


@pytest.mark.parametrize(("counter", "code"), list(enumerate(COUNTED)))
def test_code_of_a_counter(counter: int, code: str) -> None:
    assert codes.hotp(SECRET, counter) == code


# RFC 6238, appendix B, SHA-1 ([P] pyotp and oathtool): seconds since 1970, eight figures. The step
# between them, in hexadecimal, is worked by hand: seconds / 30.
TIMED = [
    (59, "0000000000000001", "94287082"),
    (1111111109, "00000000023523EC", "07081804"),
    (1111111111, "00000000023523ED", "14050471"),
    (1234567890, "000000000273EF07", "89005924"),
    (2000000000, "0000000003F940AA", "69279037"),
    (20000000000, "0000000027BC86AA", "65353130"),
]


@pytest.mark.parametrize(("seconds", "step", "code"), TIMED)
def test_code_of_a_moment(seconds: int, step: str, code: str) -> None:
    assert codes.step_at(seconds) == int(step, 16)
    assert codes.hotp(SECRET, codes.step_at(seconds), digits=8) == code


@pytest.mark.parametrize(("seconds", "_step", "code"), TIMED)
def test_code_of_six_figures_is_taken_at_its_moment(seconds: int, _step: str, code: str) -> None:
    # The last six figures of the published eight: a device shows the same number, cut shorter.
    assert codes.accepted_step(SECRET, code[2:], seconds, -1) == codes.step_at(seconds)


# The document's columns for SHA-256 and SHA-512 have no place here: the site knows SHA-1 only, the
# one that every device's application takes, and says no other to them.
def test_device_is_asked_for_the_hash_that_is_used() -> None:
    assert "algorithm" not in codes.device_address(SECRET, "loic").casefold()


def device(secret: bytes, digits: int = codes.DIGITS) -> TOTP:
    """Another implementation, that of `cryptography`."""
    return TOTP(secret, digits, SHA1(), codes.STEP_SECONDS)  # noqa: S303  the hash of RFC 6238


@given(st.binary(min_size=20, max_size=20), st.integers(0, 2**33), st.sampled_from([6, 8]))
def test_codes_equal_those_of_another_package(secret: bytes, seconds: int, digits: int) -> None:
    ours = codes.hotp(b32encode(secret).decode(), codes.step_at(seconds), digits)
    assert ours.encode() == device(secret, digits).generate(seconds)


@given(st.binary(min_size=20, max_size=20), st.integers(60, 2**33), st.integers(-60, 90))
def test_what_another_package_shows_is_taken_within_a_step(
    secret: bytes, seconds: int, late: int
) -> None:
    shown = device(secret).generate(seconds).decode()
    step, now = codes.step_at(seconds), codes.step_at(seconds + late)
    window = range(max(now - codes.DRIFT, 0), now + codes.DRIFT + 1)
    said = b32encode(secret).decode()
    alike = [one for one in window if codes.hotp(said, one) == shown]
    assert (step in alike) == (step in window)
    assert codes.accepted_step(said, shown, seconds + late, -1) == (alike[-1] if alike else None)


# NIST SP 800-63B-4, 3.1.2.2, and ASVS 5.0, 6.5.4: 20 bits; below 112 it is kept as a slow hash.
def test_code_on_paper_is_worth_more_than_twenty_bits() -> None:
    made = codes.new_paper_codes()
    random_signs = {len(code) - 1 for code in made}  # the first is the number of the code
    assert random_signs == {codes.PAPER_SIGNS - 1}
    assert {sign for code in made for sign in code} <= set(codes.SIGNS)
    assert 20 < (codes.PAPER_SIGNS - 1) * math.log2(len(codes.SIGNS)) < 112
