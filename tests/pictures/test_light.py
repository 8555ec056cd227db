"""A light copy is small, upright and holds nothing but the picture."""

import json
import subprocess
from io import BytesIO

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from relations.pictures import light
from relations.privacy.refused import Refused

ORIENTATION, MAKER, GPS = 0x0112, 0x010F, 0x8825


def image(kind="JPEG", size=(1600, 800), mode="RGB", **how):
    """An invented picture as bytes."""
    file = BytesIO()
    Image.new(mode, size, 128 if mode == "L" else None).save(file, kind, **how)
    return file.getvalue()


def refusal(content):
    with pytest.raises(Refused) as caught:
        light.make(content)
    return caught.value.codes


@pytest.mark.parametrize(
    ("kind", "media_type"),
    [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")],
)
def test_longest_side_is_1200_and_the_kind_stays(kind, media_type) -> None:
    copy = light.make(image(kind))
    assert copy.media_type == media_type
    with Image.open(BytesIO(copy.content)) as small:
        assert (small.size, small.format) == ((1200, 600), kind)


def test_small_picture_is_not_made_larger() -> None:
    with Image.open(BytesIO(light.make(image(size=(300, 200))).content)) as small:
        assert small.size == (300, 200)


def test_camera_place_and_comment_are_gone_and_the_picture_is_upright() -> None:
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKER] = 6, "Invented Camera"
    exif[GPS] = {1: "N", 2: (43.0, 26.0, 12.0)}
    xmp = b"<x:xmpmeta>Invented Place</x:xmpmeta>"
    given = image(exif=exif.tobytes(), comment=b"Invented Name", xmp=xmp, size=(400, 200))
    assert b"Invented Camera" in given
    copy = light.make(given)
    with Image.open(BytesIO(copy.content)) as small:
        assert small.size == (200, 400)
        assert not dict(small.getexif())
        assert "comment" not in small.info
    assert b"Invented" not in copy.content


# What exiftool says of any file at all: its kind and size, and how its pixels are written.
OF_THE_PIXELS = (
    "SourceFile",
    "ExifTool:",
    "System:",
    "File:",
    "JFIF:",
    "PNG:",
    "RIFF:",
    "Composite:",
)


@pytest.mark.needs("exiftool", "exiv2")
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_other_readers_find_nothing_in_it_but_the_pixels(kind, tmp_path) -> None:
    """Source: checks.md 0, trap 11: to take places out alone leaves owner, serial and XMP there."""
    exif = Image.Exif()
    exif[MAKER] = "Invented Camera"
    exif[GPS] = {1: "N", 2: (43.0, 26.0, 12.0)}
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    given = image(kind, exif=exif.tobytes(), icc_profile=profile, size=(40, 20))
    for name, content in (("given", given), ("copy", light.make(given).content)):
        file = tmp_path / f"{name}.{kind.lower()}"
        file.write_bytes(content)
        run = {"capture_output": True, "text": True, "check": False}
        said = json.loads(subprocess.run(["exiftool", "-j", "-G1", "-a", str(file)], **run).stdout)
        others = [key for key in said[0] if not key.startswith(OF_THE_PIXELS)]
        exiv2 = subprocess.run(["exiv2", "-pa", str(file)], **run).stdout
        assert (bool(others), bool(exiv2.strip())) == ((name == "given"),) * 2, (others, exiv2)


def test_text_in_a_png_is_gone() -> None:
    said = PngImagePlugin.PngInfo()
    said.add_text("Author", "Invented Name")
    given = image("PNG", pnginfo=said)
    assert b"Invented" in given
    assert b"Invented" not in light.make(given).content


@pytest.mark.parametrize("mode", ["RGBA", "P", "L", "1"])
def test_other_modes_of_a_png_are_read(mode) -> None:
    with Image.open(BytesIO(light.make(image("PNG", mode=mode)).content)) as small:
        assert small.mode == ("RGBA" if mode == "RGBA" else "RGB")


@pytest.mark.parametrize("content", [b"", b"%PDF-1.7", b"GIF89a", b"RIFF\0\0\0\0WAVEfmt "])
def test_what_is_no_picture_is_refused(content) -> None:
    assert refusal(content) == ("not_a_picture",)


def test_cut_picture_is_refused() -> None:
    given = image("PNG", size=(400, 400), mode="L")
    assert refusal(given[: len(given) // 2]) == ("broken",)


@pytest.mark.parametrize(("width", "height"), [(20_000, 10_001), (65_000, 65_000)])
def test_too_many_pixels_are_refused_before_they_are_read(width, height) -> None:
    given = bytearray(image("PNG", size=(1, 1), mode="L"))
    # Width and height stand in the header chunk (PNG, ISO/IEC 15948, 11.2.2); its check follows.
    given[16:24] = width.to_bytes(4, "big") + height.to_bytes(4, "big")
    import zlib

    given[29:33] = zlib.crc32(bytes(given[12:29])).to_bytes(4, "big")
    assert refusal(bytes(given)) == ("too_many_pixels",)
