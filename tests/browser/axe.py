"""Ask axe-core what is wrong with the page in the browser."""

import hashlib
import json
from functools import cache
from pathlib import Path

from playwright.sync_api import Page

HERE = Path(__file__).resolve().parent
SOURCE = HERE / "axe.min.js"
UNDRESSED = "the style sheet did not load"
# axe leaves these undecided where a page is at fault: a planted double id came only here.
UNDECIDED = {"duplicate-id-aria", "aria-valid-attr-value", "label"}
# Every rule is asked; only of what nobody reads, what is in order, not each place comes back.
RUN = "axe.run({resultTypes: ['violations', 'incomplete']})"


def violations(page: Page) -> list[str]:
    """What axe finds on the page as it stands, one line each: rule, then the place.

    The context must have been made with `bypass_csp=True`; a page without the site's style sheet
    is a fault of its own, since axe would then judge a page nobody sees.
    """
    if not page.evaluate("'axe' in window"):
        page.evaluate(_source())
    answer = page.evaluate(RUN)
    found = answer["violations"] + [
        rule for rule in answer["incomplete"] if rule["id"] in UNDECIDED
    ]
    lines = [f"{rule['id']}: {_places(rule)}" for rule in found]
    styled = page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--paper')")
    return lines if styled else [*lines, UNDRESSED]


def _places(rule: dict) -> str:
    return ", ".join(str(part) for node in rule["nodes"] for part in node["target"])


@cache
def _source() -> str:
    """The script, if it is the one whose digest stands in axe.json."""
    script = SOURCE.read_bytes()
    told = json.loads((HERE / "axe.json").read_text())
    if hashlib.sha256(script).hexdigest() != told["sha256"]:
        raise ValueError("axe.min.js is not the file that axe.json names.")
    return script.decode()
