"""A file for the lab holds the picture, as it was compressed, and says nothing else."""

import json
import struct
import subprocess
import zlib
from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms, PngImagePlugin

from relations.prints import stripping
from relations.prints.stripping import EXIF, StripError, ending, stripped

ORIENTATION, MAKER, GPS = 0x0112, 0x010F, 0x8825
SAYS = b"Invented"


def image(kind="JPEG", size=(64, 48), mode="RGB", **how):
    """An invented picture as bytes, of no single colour."""
    file = BytesIO()
    Image.radial_gradient("L").resize(size).convert(mode).save(file, kind, **how)
    return file.getvalue()


def telling(kind, turn=1, **how):
    """A picture that says camera, place, hour and names."""
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKER] = turn, "Invented Camera"
    exif[GPS] = {1: "N", 2: (43.0, 26.0, 12.0)}
    return image(kind, exif=exif.tobytes(), xmp=b"<x:xmpmeta>Invented Place</x:xmpmeta>", **how)


def pixels(content):
    with Image.open(BytesIO(content)) as opened:
        return opened.size, opened.mode, opened.tobytes()


def refusal(content):
    with pytest.raises(StripError) as caught:
        stripped(content)
    return caught.value.code


def with_words(png):
    """The same PNG with words, an hour and something behind its end."""
    said = [(b"tEXt", b"Author\0Invented Name"), (b"tIME", b"\x07\xea\x0b\x17\x09\x00\x00")]
    parts = [
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in said
    ]
    return png[:33] + b"".join(parts) + png[33:] + b"Invented trailer"


GIVEN = [
    pytest.param(telling("JPEG", comment=b"Invented Name"), id="jpeg"),
    pytest.param(telling("JPEG", progressive=True) + b"Invented trailer", id="progressive"),
    pytest.param(telling("JPEG", mode="CMYK"), id="cmyk"),
    pytest.param(with_words(image("PNG")), id="png"),
    pytest.param(with_words(image("PNG", mode="P")), id="palette"),
    pytest.param(telling("WEBP"), id="webp"),
    pytest.param(telling("WEBP", lossless=True, mode="RGBA"), id="webp without loss"),
]


@pytest.mark.parametrize("given_file", GIVEN)
def test_no_word_is_left_and_no_pixel_is_touched(given_file):
    assert SAYS in given_file
    clean = stripped(given_file)
    assert SAYS not in clean
    assert pixels(clean) == pixels(given_file)
    assert stripped(clean) == clean


@pytest.mark.needs("exiftool")
@pytest.mark.parametrize("given_file", GIVEN)
def test_exiftool_finds_nothing_but_the_picture(given_file):
    ran = subprocess.run(
        ["exiftool", "-j", "-G1", "-a", "-u", "-U", "-"],
        input=stripped(given_file),
        capture_output=True,
        check=True,
    )
    (said,) = json.loads(ran.stdout)
    groups = {key.split(":")[0] for key in said} - {"SourceFile"}
    assert groups <= {"ExifTool", "System", "File", "JFIF", "PNG", "RIFF", "Composite", "Adobe"}
    assert not [value for value in said.values() if "Invented" in str(value)]


@pytest.mark.parametrize("turn", range(1, 9))
def test_how_the_picture_lies_is_all_that_is_still_said(turn):
    with Image.open(BytesIO(stripped(telling("JPEG", turn)))) as clean:
        assert dict(clean.getexif()) == ({} if turn == 1 else {ORIENTATION: turn})


def test_nonsense_about_how_it_lies_is_let_go():
    with Image.open(BytesIO(stripped(telling("JPEG", 77)))) as clean:
        assert not dict(clean.getexif())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_colours_are_those_that_were_meant(kind):
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    with Image.open(BytesIO(stripped(image(kind, icc_profile=profile)))) as clean:
        assert clean.info["icc_profile"] == profile


def test_pixels_an_inch_stay_and_a_small_copy_goes():
    plain = image(dpi=(300, 300))
    at = plain.index(b"JFIF\0")
    thumb = plain[: at + 12] + b"\x01\x01" + b"\xab\xcd\xef" + plain[at + 14 :]
    thumb = thumb[: at - 2] + struct.pack(">H", 16 + 3) + thumb[at:]
    clean = stripped(thumb)
    assert b"\xab\xcd\xef" not in clean[:40]
    with Image.open(BytesIO(clean)) as opened:
        assert opened.info["dpi"] == (300, 300)
    assert pixels(clean) == pixels(plain)


def test_whole_sheet_of_film_is_not_taken_for_a_bomb():
    """Four by five inches at 6000 dots an inch: more pixels than the library opens."""
    plain = telling("JPEG", turn=6)
    at = plain.index(b"\xff\xc0") + 5
    large = plain[:at] + struct.pack(">HH", 30000, 24000) + plain[at + 4 :]
    with pytest.raises(Image.DecompressionBombError):
        Image.open(BytesIO(large))
    assert b"\xff\xc0" in stripped(large)
    assert SAYS not in stripped(large)


def test_filling_before_a_part_is_let_go():
    plain = image()
    assert stripped(plain[:2] + b"\xff\xff" + plain[2:]) == stripped(plain)


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"%PDF-1.7", b"RIFF\0\0\0\0WAVE"])
def test_what_is_no_picture_is_refused(content):
    assert refusal(content) == "not_a_picture"


def test_words_inside_text_chunks_of_pillow_go_too():
    said = PngImagePlugin.PngInfo()
    said.add_itxt("Title", "Invented Title")
    assert SAYS not in stripped(image("PNG", pnginfo=said))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_half_a_file_is_refused(kind):
    whole = image(kind, size=(300, 200))
    for length in (12, 20, len(whole) // 2, len(whole) - 3):
        assert refusal(whole[:length]) in {"broken", "not_a_picture"}


def test_a_file_of_other_parts_than_it_begins_with_is_refused():
    assert refusal(b"\xff\xd8\xff\xe0\x00\x04ab" + b"nothing") == "broken"
    plain = image()
    at = plain.index(b"\xff\xda")
    assert refusal(plain[:at] + b"\x00\x00" + plain[at:]) == "broken"
    assert refusal(plain[:at] + b"\xff\xe5\xff\xf0ab") == "broken"
    said = EXIF + b"no table"
    assert refusal(plain[:2] + b"\xff\xe1" + struct.pack(">H", len(said) + 2) + said) == "broken"


@given(st.binary(max_size=200))
def test_no_bytes_do_worse_than_being_refused(content):
    for begins in stripping.ENDINGS:
        try:
            clean = stripped(begins + content)
        except StripError as error:
            assert error.code in {"broken", "not_a_picture"}
        else:
            assert ending(clean) == ending(begins)
