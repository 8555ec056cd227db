"""Drawings that stand in for light copies and scans in the rehearsal; nobody real is in them."""

import hashlib
import io
import random

from PIL import Image, ImageDraw, ImageFilter

WIDE, HIGH = 480, 600  # pixels, the 4 x 5 of a sheet of film
_FINE = 2  # drawn larger, then made smaller, so that edges are smooth


def _dice(code: str) -> random.Random:
    """The same picture for the same code, on every machine."""
    return random.Random(hashlib.sha256(code.encode()).digest())  # noqa: S311  a drawing


def _ground(dice: random.Random) -> Image.Image:
    """A grey wall with the light falling from one side."""
    dark, light = dice.randint(60, 90), dice.randint(150, 185)
    ramp = (
        Image.linear_gradient("L")
        .rotate(dice.choice((90, 270)))
        .resize((WIDE * _FINE, HIGH * _FINE))
    )
    return ramp.point([dark + (light - dark) * step // 255 for step in range(256)])


def _sitter(
    draw: ImageDraw.ImageDraw, dice: random.Random, middle: float, broad: float, *, face: bool
) -> None:
    """One figure: shoulders, neck and head, or hands alone where no face is to be shown."""
    skin, cloth = dice.randint(95, 205), dice.randint(18, 75)
    top = HIGH * _FINE * dice.uniform(0.2, 0.3)
    foot = HIGH * _FINE
    shoulder = top + broad * 1.35
    draw.ellipse((middle - broad, shoulder, middle + broad, shoulder + broad * 1.6), fill=cloth)
    draw.rectangle((middle - broad, shoulder + broad * 0.8, middle + broad, foot), fill=cloth)
    if face:
        draw.rectangle(
            (middle - broad * 0.2, top + broad * 0.9, middle + broad * 0.2, shoulder + broad * 0.2),
            fill=skin - 20,
        )
        hair = dice.randint(10, 120)
        draw.ellipse(
            (middle - broad * 0.5, top - broad * 0.12, middle + broad * 0.5, top + broad), fill=hair
        )
        draw.ellipse(
            (middle - broad * 0.42, top + broad * 0.1, middle + broad * 0.42, top + broad * 1.2),
            fill=skin,
        )
    hand = foot - broad * 0.75
    for side in (-1, 1):
        reach = middle + side * broad * 0.3
        draw.ellipse(
            (reach - broad * 0.26, hand - broad * 0.16, reach + broad * 0.26, hand + broad * 0.16),
            fill=skin - 10,
        )


def portrait(code: str, faces: list[bool]) -> bytes:
    """A light copy as WebP: one figure a sitter, left to right; False shows no face."""
    dice = _dice(code)
    sheet = _ground(dice)
    draw = ImageDraw.Draw(sheet)
    room = WIDE * _FINE / len(faces)
    for place, face in enumerate(faces):
        _sitter(draw, dice, room * (place + 0.5), min(room * 0.46, 300), face=face)
    soft = sheet.filter(ImageFilter.GaussianBlur(2)).resize((WIDE, HIGH))
    # The black edge of the film, and its two notches at the upper right.
    framed = Image.new("L", (WIDE + 40, HIGH + 40), 12)
    framed.paste(soft, (20, 20))
    notch = ImageDraw.Draw(framed)
    for place in (0, 22):
        notch.ellipse((WIDE - 60 + place, -8, WIDE - 46 + place, 8), fill=255)
    out = io.BytesIO()
    framed.save(out, "WEBP", quality=45)
    return out.getvalue()


def scan(serial: str, ticks: list[bool]) -> bytes:
    """A scanned page as PNG: the number, one pair of boxes a line with its mark, a signature."""
    dice = _dice(serial)
    page = Image.new("L", (827, 1169), 250)  # A4 at 100 dots an inch
    draw = ImageDraw.Draw(page)
    draw.text((90, 60), serial, fill=20, font_size=34)
    for line, is_yes in enumerate(ticks):
        y = 160 + line * 58
        draw.line((90, y + 20, 90 + dice.randint(330, 480), y + 20), fill=120, width=9)
        for place in (0, 1):
            x = 620 + place * 80
            draw.rectangle((x, y, x + 34, y + 34), outline=30, width=3)
            if (place == 0) == is_yes:
                wobble = dice.randint(-4, 4)
                draw.line((x + 6, y + 18, x + 14, y + 28, x + 30, y + 4 + wobble), fill=40, width=5)
    pen = [(120 + step * 9, 1050 + dice.randint(-22, 22)) for step in range(32)]
    draw.line(pen, fill=50, width=3, joint="curve")
    out = io.BytesIO()
    page.rotate(dice.uniform(-1.2, 1.2), fillcolor=244).save(out, "PNG")
    return out.getvalue()
