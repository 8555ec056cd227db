"""A photograph leaves the telephone small, and without where and by what it was taken."""

import base64
from io import BytesIO

from PIL import Image

from tests.browser.conftest import Opener, come_in

SHRUNK = """() => new Promise(async (done) => {
  const input = document.querySelector("input[type=file]");
  while (input.files[0].name !== "scan.jpg") await new Promise((next) => setTimeout(next, 50));
  const bytes = new Uint8Array(await input.files[0].arrayBuffer());
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  done([input.files.length, input.files[1].name, btoa(text)]);
})"""


def photograph() -> bytes:
    """Twelve megapixels of noise under a grey page, with a position and a model, on its side."""
    small = Image.effect_noise((400, 300), 60).convert("RGB")
    exif = Image.Exif()
    exif[0x0110], exif[0x0112] = "Telephone of somebody", 6
    exif[0x8825] = {1: "N", 2: (43.0, 17.0, 47.0), 3: "E", 4: (5.0, 22.0, 12.0)}
    out = BytesIO()
    small.resize((4000, 3000)).save(out, "JPEG", quality=95, exif=exif)
    return out.getvalue()


def test_photograph_is_shrunk_and_a_paper_is_left_alone(open_page: Opener, site: str) -> None:
    page = open_page()
    come_in(page, site, "loic")
    page.goto(f"{site}/forms/coming-home/")
    taken = photograph()
    assert b"Telephone of somebody" in taken
    page.locator("input[type=file]").set_input_files(
        [
            {"name": "IMG_2026.jpg", "mimeType": "image/jpeg", "buffer": taken},
            {"name": "scan.pdf", "mimeType": "application/pdf", "buffer": b"%PDF-1.7"},
        ]
    )
    count, other, sent = page.evaluate(SHRUNK)
    shrunk = base64.b64decode(sent)
    with Image.open(BytesIO(shrunk)) as picture:
        assert picture.size == (1500, 2000), "upright, its long side 2000 pixels"
        assert not dict(picture.getexif())
    assert b"Exif" not in shrunk and b"somebody" not in shrunk
    assert len(shrunk) < len(taken) / 3
    assert (count, other) == (2, "scan.pdf")
    assert page.locator("main form button, main form [type=submit]").first.is_enabled()
