"""Makes the README's pictures: `python3 -m tests.readme` → .pictures/*.png.

A copy of the project sets up its own rehearsal and serves it. A browser walks beside one portrait,
from the day her name is heard to the evening she says stop, and presses what a person would press;
then it looks at pages in other languages, and prints two forms. Needs chromium and pdftoppm.
"""

import io
import shutil
import subprocess
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from relations import bootstrap
from tests import fonts
from tests.clone import ROOT, clone

FOLDER = ROOT / ".pictures"
PORT = 8123
SITE = f"http://127.0.0.1:{PORT}"
PASSWORDS = {"loic": "le scooter du quai", "ines": "lumiere de novembre"}
PHONE, DESK = 360, 1280
TALL = 900  # CSS pixels of a page that are shown
COLOURS = 64  # as many as a page of ours has
HEAVIEST = 120_000  # bytes of one picture


@dataclass(frozen=True)
class Shot:
    """One page as one user sees it."""

    name: str
    username: str
    address: str
    width: int = PHONE
    tall: int = TALL


# Houria, person 04: her portrait is K04.
HEARD = {"call_name": "Houria", "source": "person", "introducer": "03", "heard_on": "2024-06-01"}
SHOWN = (
    {"code": "U8", "use": "exhibition", "place": "The town library", "holder": "the librarian"},
    {"code": "U9", "use": "web", "place": "The project’s site", "holder": "the site’s keeper"},
)
RING = Shot("walk-2-ring", "loic", "/meetings/ring/33/")
WALL = Shot("walk-4-wall", "ines", "/uses/plan/E1/", DESK, 1_000)
PRINT = Shot("walk-5-print", "loic", "/prints/04/K04/")
STOP = Shot("walk-6-stop", "loic", "/uses/stop/04/")
MAP = Shot("introductions", "ines", "/introductions/growth/line/01/", DESK, 1_500)

# One page a language, each another page.
SPOKEN = {
    "fr": Shot("french", "loic", "/"),
    "ar": Shot("arabic", "loic", "/people/new/"),
    "ne": Shot("nepali", "ines", "/uses/plan/E1/"),
}

# The sitter's language stands first.
FORMS = {
    "walk-3-form": ("العربية", "Français"),
    "form-bengali": ("বাংলা", "Français"),
    "form-nepali": ("नेपाली", "English"),
}


def main() -> None:
    """Fill, serve, look, print; the copy is gone afterwards."""
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="relations-pictures-") as folder:
        copy = clone(Path(folder) / "relations")
        server = copy.start("demo", "--port", str(PORT))
        try:
            wait_for(server)
            take_all()
        finally:
            server.terminate()
            server.wait(timeout=30)


def wait_for(server: subprocess.Popen, seconds: int = 1_200) -> None:
    """Wait until the site answers; stop where its process has ended."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if server.poll() is not None:
            raise SystemExit(f"The rehearsal did not start: exit status {server.returncode}.")
        try:
            urlopen(f"{SITE}/in/", timeout=5).close()
        except (URLError, TimeoutError):
            time.sleep(1)
        else:
            return
    raise SystemExit(f"The rehearsal did not answer within {seconds} seconds.")


def take_all() -> None:
    """Every picture; the Stop comes last, since it changes what the others show."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=bootstrap.find("chromium"),
            args=["--headless", "--no-sandbox"],
            env=fonts.environment(),
        )
        assistant, artist = (signed_in(browser, who, PHONE) for who in ("loic", "ines"))
        desk = signed_in(browser, "ines", DESK)
        for code, shot in SPOKEN.items():
            speak(page := assistant if shot.username == "loic" else artist, code)
            take(page, shot)
            speak(page, "en")
        for shot in (WALL, MAP):
            take(desk, shot)
        print_forms(desk)
        hear(assistant)
        take(assistant, RING)
        rings_us(assistant)
        take(assistant, PRINT)
        stop(desk, assistant)
        browser.close()


def signed_in(browser: Browser, username: str, width: int) -> Page:
    """A page on which somebody has come in by the door; a telephone's is drawn finer."""
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        device_scale_factor=1.5 if width == PHONE else 1,
        color_scheme="light",
        locale="en-GB",
    )
    context.set_default_timeout(120_000)  # a busy machine
    page = context.new_page()
    page.goto(f"{SITE}/in/")
    page.fill("[name=username]", username)
    page.fill("[name=password]", PASSWORDS[username])
    page.locator("main button").first.click()
    page.locator("nav.bar").wait_for()
    return page


def take(page: Page, shot: Shot) -> None:
    """One page from its top."""
    page.goto(SITE + shot.address)
    look(page, shot)


def look(page: Page, shot: Shot) -> None:
    """What stands on a page now, with the foot bar at the picture's lower edge."""
    page.set_viewport_size({"width": shot.width, "height": shot.tall})
    page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")  # typing scrolled down
    keep(page.screenshot(), shot.name)


def keep(drawn: bytes, name: str) -> None:
    """Lay a picture down in few colours, small enough for whoever reads by telephone."""
    path = FOLDER / f"{name}.png"
    with Image.open(io.BytesIO(drawn)) as picture:
        picture.convert("RGB").quantize(COLOURS).save(path, optimize=True)
    if (heavy := path.stat().st_size) > HEAVIEST:
        raise SystemExit(f"{path.name} has {heavy} bytes, over {HEAVIEST}.")


def speak(page: Page, code: str) -> None:
    """Choose a language of the screens, on the user's own page."""
    page.goto(f"{SITE}/own/")
    page.locator(f"button[name=language][value={code}]").click()
    page.locator(f"html[lang={code}]").wait_for(state="attached")


def hear(page: Page) -> None:
    """The word that came through of her, as it was typed on its day and not yet saved."""
    page.goto(f"{SITE}/people/new/")
    page.check(f"[name=source][value={HEARD['source']}]")
    for name in ("call_name", "introducer", "heard_on"):
        page.fill(f"[name={name}]", HEARD[name])
    look(page, Shot("walk-1-heard", "loic", "/people/new/"))


def rings_us(page: Page) -> None:
    """She rings, which lets the assistant see her again for a day."""
    page.goto(f"{SITE}/people/rang-us/")
    page.fill("[name=typed]", "04")
    page.locator("main button").first.click()
    page.wait_for_load_state()


def stop(artist: Page, assistant: Page) -> None:
    """Her portrait hangs and is on a site, and everything is stopped."""
    for shown in SHOWN:
        artist.goto(f"{SITE}/uses/shown/new/")
        artist.select_option("[name=use]", shown["use"])
        artist.check("[name=pictures][value=K04]")
        for name in ("code", "place", "holder"):
            artist.fill(f"[name={name}]", shown[name])
        artist.fill("[name=starts_on]", "2026-11-02")
        artist.locator("main button").first.click()
        artist.wait_for_url("**/uses/shown/**")
    assistant.goto(SITE + STOP.address)
    assistant.locator("main button").first.click()
    assistant.wait_for_url("**/uses/undo/04/")
    look(assistant, STOP)


def print_forms(page: Page) -> None:
    """Print a form for nobody yet by the site's own page, and draw its first side."""
    for name, languages in FORMS.items():
        page.goto(f"{SITE}/forms/print/")
        for field, language in zip(("first", "second"), languages, strict=True):
            choice = page.locator(f"[name={field}] option", has_text=language).first
            page.select_option(f"[name={field}]", choice.get_attribute("value"))
        page.locator("main button").first.click()
        page.wait_for_url("**/forms/*-*/")
        draw(page.context.request.get(f"{page.url}pdf/").body(), name)


def draw(pdf: bytes, name: str) -> None:
    """The first side of a paper as a picture."""
    tool = shutil.which("pdftoppm") or "pdftoppm"
    drawing = [tool, "-png", "-r", "96", "-f", "1", "-l", "1", "-singlefile", "-"]
    keep(subprocess.run(drawing, input=pdf, capture_output=True, check=True).stdout, name)


if __name__ == "__main__":
    main()
