"""Makes the README's pictures: `python3 -m tests.readme` → .pictures/*.png.

A copy of the project sets up its own rehearsal and serves it; a browser looks at five pages of it,
then at four in every language of the screens, and four forms are printed, one a script. Needs
chromium and pdftoppm (poppler-utils).
"""

import os
import shutil
import subprocess
import tempfile
import time
from dataclasses import dataclass, replace
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
# Long pages are cut below what a reader of the README takes in at once.
TALLEST = 1_500


@dataclass(frozen=True)
class Shot:
    """One page as one user sees it."""

    name: str
    username: str
    address: str
    width: int


SHOTS = (
    Shot("today-360", "loic", "/", 360),
    Shot("prints-360", "loic", "/prints/", 360),
    Shot("weigh-1280", "ines", "/uses/plan/E1/", 1280),
    Shot("person-1280", "ines", "/person/21/", 1280),
    Shot("introductions-1280", "ines", "/introductions/growth/line/01/", 1280),
)


# A telephone's view of four pages in every language; the form is looked at once it is filled.
LANGUAGES = ("en", "fr", "ar", "ne")
IN_EVERY = (
    Shot("today", "loic", "/", 360),
    Shot("new", "loic", "/people/new/", 360),
    Shot("person", "ines", "/person/21/", 360),
    Shot("weigh", "ines", "/uses/plan/E1/", 360),
)
TYPED = {"call_name": "Amal – أمل", "heard_on": "2026-11-22"}
TALLEST_SMALL, COLOURS = 1_000, 64

# One form a script; the sitter's language stands first.
FORMS = {
    "form-fr-ar": ("العربية", "Français"),
    "form-en-ne": ("नेपाली", "English"),
    "form-fr-bn": ("বাংলা", "Français"),
    "form-en-es": ("Español", "English"),
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


def wait_for(server: subprocess.Popen, seconds: int = 300) -> None:
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
    """Every picture, each user signing in once a width."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=bootstrap.find("chromium"),
            args=["--headless", "--no-sandbox"],
            env=fonts.environment(),
        )
        for shot in SHOTS:
            page = signed_in(browser, shot.username, shot.width)
            take(page, shot)
            page.context.close()
        for username in PASSWORDS:
            page = signed_in(browser, username, 360)
            for code in LANGUAGES:
                take_in(page, username, code)
            page.context.close()
        print_forms(signed_in(browser, "ines", 1280))
        browser.close()


def signed_in(browser: Browser, username: str, width: int) -> Page:
    """A page on which somebody has come in by the door."""
    context = browser.new_context(
        viewport={"width": width, "height": 800}, color_scheme="light", locale="en-GB"
    )
    page = context.new_page()
    page.goto(f"{SITE}/in/")
    page.fill("[name=username]", username)
    page.fill("[name=password]", PASSWORDS[username])
    page.locator("main button").first.click()
    page.locator("nav.bar").wait_for()
    return page


def take(page: Page, shot: Shot, typed: dict[str, str] | None = None) -> None:
    """One page from its top, with the foot bar at the picture's lower edge."""
    page.set_viewport_size({"width": shot.width, "height": 800})
    page.goto(SITE + shot.address)
    for name, words in (typed or {}).items():
        page.fill(f"[name={name}]", words)
    whole = int(page.evaluate("document.documentElement.scrollHeight"))
    tallest = TALLEST if typed is None else TALLEST_SMALL
    page.set_viewport_size({"width": shot.width, "height": min(whole, tallest)})
    page.evaluate("scrollTo(0, 0)")  # typing scrolled down
    page.screenshot(path=FOLDER / f"{shot.name}.png")


def take_in(page: Page, username: str, code: str) -> None:
    """A user's pages in one language, which they choose on their own page; few colours do."""
    page.goto(f"{SITE}/own/")
    page.locator(f"button[name=language][value={code}]").click()
    page.locator(f"html[lang={code}]").wait_for(state="attached")
    for shot in IN_EVERY:
        if shot.username == username:
            named = replace(shot, name=f"{shot.name}-{code}-{shot.width}")
            take(page, named, TYPED if shot.name == "new" else {})
            lighten(FOLDER / f"{named.name}.png")


def lighten(picture: Path) -> None:
    """Keep as many colours as a page of ours has."""
    with Image.open(picture) as drawn:
        few = drawn.convert("RGB").quantize(COLOURS)
    few.save(picture, optimize=True)


def print_forms(page: Page) -> None:
    """Print a form for nobody yet in each script by the site's own page, and draw its first side.

    A picture is named by both languages: `FORMS` says which of them stands first.
    """
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
    with tempfile.TemporaryDirectory() as folder:
        paper = Path(folder) / "form.pdf"
        paper.write_bytes(pdf)
        tool = shutil.which("pdftoppm") or "pdftoppm"
        subprocess.run(
            [tool, "-png", "-r", "80", "-f", "1", "-l", "1", "-singlefile", paper, FOLDER / name],
            check=True,
            env=os.environ,
        )


if __name__ == "__main__":
    main()
