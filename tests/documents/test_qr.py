import hmac
from base64 import b32encode, b64decode
from io import BytesIO

import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from relations.documents import qr, serials

KEY = bytes(range(32))
TEXT = qr.payload("F", "70042-74", 1, "A7", key=KEY)


def code_of(text: str, key: bytes = KEY) -> str:
    with pytest.raises(qr.ForeignCodeError) as refused:
        qr.read_payload(text, key=key)
    return refused.value.code


def test_payload_has_five_parts_and_a_check_made_with_the_key():
    # RFC 2104 and RFC 4648 by Python's own modules, beside our path.
    digest = hmac.new(KEY, b"F/70042-74/1/A7", "sha256").digest()
    assert f"F/70042-74/1/A7/{b32encode(digest).decode()[:8]}" == TEXT


def test_payload_is_read_back():
    assert qr.read_payload(TEXT, key=KEY) == qr.PageCode("F", "70042-74", 1, "A7")


@given(
    number=st.integers(10_000, 99_999),
    page=st.integers(1, 99),
    version=st.from_regex(r"[A-Z0-9]{1,4}", fullmatch=True),
    key=st.binary(min_size=32, max_size=32),
)
def test_every_payload_is_read_back_and_fits_the_code(number, page, version, key):
    serial = f"{number}-{serials.check(str(number))}"
    text = qr.payload("F", serial, page, version, key=key)
    assert qr.read_payload(text, key=key) == qr.PageCode("F", serial, page, version)
    assert len(text) <= 38  # alphanumeric room of version 2-M, tests/outside/test_qr_capacity.py


@pytest.mark.parametrize(
    "text", ["", "70042-74", TEXT.lower(), TEXT + "A", TEXT[:-1], "https://example.org/" + TEXT]
)
def test_other_shapes_are_not_ours(text):
    assert code_of(text) == "shape"


def test_serial_with_a_wrong_digit_is_named_before_the_check():
    assert code_of(TEXT.replace("70042", "70043")) == "serial"


@pytest.mark.parametrize("old, new", [("/1/", "/2/"), ("A7", "A8"), ("F/", "G/")])
def test_changed_part_fails_the_check(old, new):
    assert code_of(TEXT.replace(old, new, 1)) == "mac"


def test_code_of_another_home_fails_the_check():
    assert code_of(TEXT, key=bytes(32)) == "mac"


@pytest.mark.parametrize(
    "kind, serial, page, version",
    [("f", "70042-74", 1, "A7"), ("F", "70042-75", 1, "A7"), ("F", "70042-74", 0, "A7"),
     ("F", "70042-74", 1, "a7"), ("F", "70042-74", 1, "A7777")],
)  # fmt: skip
def test_payload_that_could_not_be_read_back_is_not_made(kind, serial, page, version):
    with pytest.raises(ValueError):
        qr.payload(kind, serial, page, version, key=KEY)


def test_picture_is_a_version_2_code_that_reads_back():
    head, data = qr.picture(TEXT).split(",", 1)
    assert head == "data:image/png;base64"
    image = Image.open(BytesIO(b64decode(data)))
    # 25 modules of version 2 and a quiet zone of 4 on each side (ISO/IEC 18004, checks.md 6).
    assert image.size == (33 * qr.DOTS, 33 * qr.DOTS)
    assert pytest.approx(19.8) == qr.SIDE_MM
    found = zxingcpp.read_barcode(image.convert("L"))
    assert found is not None and found.text == TEXT


def test_text_too_long_for_the_code_is_an_error():
    with pytest.raises(ValueError):
        qr.picture("A" * 39)


@pytest.mark.parametrize(
    ("text", "is_ours"), [(TEXT, True), (TEXT[:-1], False), ("HTTPS://EXAMPLE.ORG", False)]
)
def test_shape_of_a_code_is_ours_or_not(text, is_ours):
    assert qr.has_our_shape(text) is is_ours


def test_code_of_a_slip_is_the_smallest_with_the_strongest_correction_and_is_read_back():
    picture = b64decode(qr.slip("ACDEFX").partition(",")[2])
    with Image.open(BytesIO(picture)) as image:
        assert image.size == (21 + 8, 21 + 8)  # version 1 and its quiet zone, ISO/IEC 18004
        (read,) = zxingcpp.read_barcodes(image.convert("L").resize((290, 290), Image.NEAREST))
    assert (read.text, read.ec_level) == ("ACDEFX", "H")
    assert pytest.approx(20.3) == qr.SLIP_SIDE_MM


def test_text_too_long_for_a_slip_is_an_error():
    assert qr.slip("A" * 10)  # the room of version 1-H, tests/outside/test_qr_capacity.py
    with pytest.raises(ValueError, match="data"):
        qr.slip("A" * 11)
