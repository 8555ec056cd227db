"""The first reading beside its boxes, in a browser: one small picture, seen on every screen."""

import pytest

from relations.consent import actions
from relations.documents import layouts
from relations.people.models import Participant
from relations.privacy.models import User
from tests.browser.axe import violations
from tests.browser.conftest import DESK, PHONE, Opener, come_in, scrolls_sideways
from tests.consent import desk, trials

CROSSED = ("may_keep.yes", "uses.web.yes", "uses.book.no", "name_form.first", "no_face")
# Two seconds on a line of 64 kbit a second.
LIGHT = 16_000


@pytest.fixture
def address(site: str) -> str:
    """A form of the rehearsal that came home with pen marks on it."""
    held = trials.printed().sheet
    form = desk.paper(70_042, Participant.objects.get(code="12"))
    form.sheet.layout = layouts.keep(trials.anchors(held.layout))
    form.sheet.version = held.version
    form.sheet.save()
    loic = User.objects.get(username="loic")
    content = trials.filled(*CROSSED, unsure=("uses.jury.yes",))
    actions.file(serial=trials.SERIAL, content=content, by=loic, at=desk.AT)
    return f"{site}/forms/{trials.SERIAL}/read/"


def test_all_boxes_come_in_one_small_picture(site: str, open_page: Opener, address: str) -> None:
    page = open_page(viewport=PHONE)
    come_in(page, site, "loic")
    sent: list[int] = []
    said: list[str] = []
    page.on(
        "response",
        lambda answer: answer.url.endswith("/boxes/") and sent.append(len(answer.body())),
    )
    page.on("console", lambda line: said.append(line.text))
    page.goto(address)
    page.wait_for_load_state("networkidle")
    assert len(sent) == 1
    assert 1_000 < sent[0] <= LIGHT
    # The worker of the outbox has no place in these pages.
    assert [line for line in said if "Service Worker" not in line] == []
    assert page.locator(".onpaper image").count() > 40
    assert page.locator("input[name=use_web]:checked").count() == 0
    assert page.locator("input[name=use_book]:checked").get_attribute("value") == "no"
    assert page.locator("input[name=use_jury]:checked").get_attribute("value") == "blank"


@pytest.mark.parametrize("language", ["en", "ar"])
def test_boxes_stand_beside_their_fields_on_every_screen(
    site: str, open_page: Opener, address: str, language: str
) -> None:
    User.objects.filter(username="loic").update(language=language)
    page = open_page(axe=True)
    come_in(page, site, "loic")
    page.goto(address)
    for view, scheme in ((PHONE, "light"), (DESK, "dark")):
        page.set_viewport_size(view)
        page.emulate_media(color_scheme=scheme)
        assert violations(page) == []
        assert not scrolls_sideways(page)
        field = page.locator("#div_id_use_web").bounding_box()
        for box in page.locator("#div_id_use_web svg").all():
            inside = box.bounding_box()
            assert field["x"] <= inside["x"]
            assert inside["x"] + inside["width"] <= field["x"] + field["width"]
            assert inside["width"] == pytest.approx(37, abs=3)
