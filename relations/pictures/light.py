"""Light copies: a picture made small, and nothing in it but the picture."""

import warnings
from dataclasses import dataclass
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

from relations.documents.filing import LARGEST_PIXELS
from relations.privacy.refused import Refused

# Enough to know a picture by, too little to print from.
LONGEST_SIDE = 1200
QUALITY = 85
# First bytes to the one reader they call for: never one that runs a program.
KINDS = {b"\xff\xd8\xff": "JPEG", b"\x89PNG\r\n\x1a\n": "PNG", b"RIFF": "WEBP"}
TYPES = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}


@dataclass(frozen=True)
class LightCopy:
    """The small picture as bytes, and its media type."""

    content: bytes
    media_type: str


def make(content: bytes) -> LightCopy:
    """Shrink a JPEG, PNG or WebP to 1200 px at most, turned upright, without EXIF, XMP or comment.

    Of a moving picture the first frame is kept. Refused: not_a_picture, too_many_pixels, broken.
    """
    kind = next((name for begins, name in KINDS.items() if content.startswith(begins)), "")
    if not kind:
        raise Refused("not_a_picture")
    try:
        with warnings.catch_warnings():
            # Pixels are counted below, before one is read; a damaged note of a camera goes anyway.
            warnings.simplefilter("ignore")
            with Image.open(BytesIO(content), formats=[kind]) as image:
                return LightCopy(_small(image, kind), TYPES[kind])
    except Image.DecompressionBombError as error:
        raise Refused("too_many_pixels") from error
    except UnidentifiedImageError as error:
        raise Refused("not_a_picture") from error
    except (OSError, SyntaxError, ValueError, EOFError) as error:
        raise Refused("broken") from error


def _small(image: Image.Image, kind: str) -> bytes:
    if image.width * image.height > LARGEST_PIXELS:
        raise Refused("too_many_pixels")
    image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    upright = ImageOps.exif_transpose(image)
    has_alpha = kind != "JPEG" and ("A" in upright.mode or "transparency" in upright.info)
    plain = upright.convert("RGBA" if has_alpha else "RGB")
    plain.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    # What a file says beside its pixels: camera, place, comment.
    plain.info.clear()
    small = BytesIO()
    plain.save(small, kind, **({} if kind == "PNG" else {"quality": QUALITY}))
    return small.getvalue()
