"""Makes the README's pictures: `python3 -m tests.readme` → .pictures/*.png.

A copy of the project sets up its own rehearsal and serves it; a browser looks at five pages of it,
and four forms are printed, one a script. Needs chromium and pdftoppm (poppler-utils).
"""

import os
import shutil
import subprocess
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

from playwright.sync_api import Browser, Page, sync_playwright

from relations import bootstrap
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
            executable_path=bootstrap.find("chromium"), args=["--headless", "--no-sandbox"]
        )
        for shot in SHOTS:
            page = signed_in(browser, shot.username, shot.width)
            take(page, shot)
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


def take(page: Page, shot: Shot) -> None:
    """One page from its top, with the foot bar at the picture's lower edge."""
    page.goto(SITE + shot.address)
    whole = int(page.evaluate("document.documentElement.scrollHeight"))
    page.set_viewport_size({"width": shot.width, "height": min(whole, TALLEST)})
    page.screenshot(path=FOLDER / f"{shot.name}.png")


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
