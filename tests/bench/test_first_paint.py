"""How soon the first words of a page are seen on a slow telephone, beside an empty page's.

Source of the emulation: the design of the screens, 4: 400 kbit/s, 400 ms, a processor six times
slower, first with an empty store, then again. The empty page in our dress brings style sheet,
scripts and bars and has nothing to say; the bare one brings nothing at all, so that it lacks the
second trip to the site which a style sheet takes, and is only reported.
"""

import pytest
from django.conf import settings
from playwright.sync_api import Browser

from relations.privacy.models import User
from tests.browser.conftest import PHONE, browser, come_in, site  # noqa: F401 - fixtures

MOST_TIMES = 1.5
ROUNDS = 5
DRESSED, BARE = "/uses/stop/done/", "/away/"
PAGES = ("/", "/meetings/rings/", "/prints/", "/outbox/write/")
# In the other languages the two pages that an assistant opens most.
FEWER = ("/", "/outbox/write/")
LANGUAGES = {code: PAGES if code == "en" else FEWER for code, _name in settings.LANGUAGES}
LINE = {"offline": False, "latency": 400, "downloadThroughput": 50_000, "uploadThroughput": 50_000}
PAINTED = """() => new Promise((done) => {
  const look = () => {
    const [paint] = performance.getEntriesByName("first-contentful-paint");
    if (paint) done(paint.startTime / 1000);
    else setTimeout(look, 20);
  };
  look();
})"""

pytestmark = [pytest.mark.needs("chromium"), pytest.mark.whole]


def painted(browser: Browser, site: str, path: str) -> tuple[float, float]:  # noqa: F811
    """Seconds to the first paint: with an empty store, and again."""
    context = browser.new_context(viewport=PHONE, service_workers="block")
    try:
        page = context.new_page()
        page.set_default_timeout(60_000)
        come_in(page, site, "loic")
        line = context.new_cdp_session(page)
        line.send("Network.enable")
        line.send("Network.emulateNetworkConditions", LINE)
        line.send("Emulation.setCPUThrottlingRate", {"rate": 6})
        page.goto(site + path)
        cold = page.evaluate(PAINTED)
        page.goto("about:blank")
        page.goto(site + path)
        return cold, page.evaluate(PAINTED)
    finally:
        context.close()


@pytest.mark.parametrize("code", LANGUAGES)
def test_pages_are_painted_nearly_as_soon_as_an_empty_one(
    code: str,
    browser: Browser,  # noqa: F811
    site: str,  # noqa: F811
    figure,
) -> None:
    """Turn by turn, the least of each: what else the machine does slows them all alike."""
    User.objects.update(language=code)
    pages = LANGUAGES[code]
    found: dict[str, list[tuple[float, float]]] = {}
    for _ in range(ROUNDS):
        for path in (DRESSED, BARE, *pages):
            found.setdefault(path, []).append(painted(browser, site, path))
    least = {
        path: [min(times) for times in zip(*rows, strict=True)] for path, rows in found.items()
    }
    ratios = {}
    for turn, guide, when in ((0, "2.0", "first"), (1, "1.3", "again")):
        figure(f"{when} paint of the bare page, {code}", least[BARE][turn], unit="s")
        figure(
            f"{when} paint of an empty page in our dress, {code}", least[DRESSED][turn], unit="s"
        )
        for path in pages:
            figure(f"{when} paint of {path}, {code}", least[path][turn], unit="s", guide=guide)
            ratios[path, when] = least[path][turn] / least[DRESSED][turn]
    for (path, when), ratio in ratios.items():
        figure(
            f"{path} beside an empty page, {when}, {code}", ratio, unit="x", bar=f"<= {MOST_TIMES}"
        )
    assert {of: ratio for of, ratio in ratios.items() if ratio > MOST_TIMES} == {}
