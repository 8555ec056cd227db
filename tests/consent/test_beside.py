"""Boxes are read from scans by their places, cut out small, and never from another paper."""

import sys
from io import BytesIO

import cv2
import numpy as np
import pytest
from PIL import Image

from relations.consent import beside, proposed
from relations.documents.marks import Mark
from relations.documents.models import Sheet
from relations.privacy.keys import keyring
from tests.consent import desk, trials

GATE = {
    "150 dpi": (trials.flat(150), 4),
    "200 dpi, any angle": (trials.flat(200, any_angle=True), 6),
    "300 dpi": (trials.flat(300), 2),
}
WHOLE = {
    "150 dpi": trials.flat(150),
    "200 dpi": trials.flat(200),
    "300 dpi": trials.flat(300),
    "150 dpi, any angle": trials.flat(150, any_angle=True),
    "200 dpi, any angle": trials.flat(200, any_angle=True),
    "300 dpi, any angle": trials.flat(300, any_angle=True),
}


def hold(name, counts):
    """The bars of the issue; the counts are printed whatever they are."""
    sys.stdout.write(f"\n{trials.told(name, counts)}\n")
    assert counts["found"] == counts["pages"]
    assert counts["not on the layout"] == 0
    assert trials.share(counts, "ordinary", "empty") <= 0.001
    assert trials.share(counts, "ordinary", "unsure") <= 0.03
    assert trials.share(counts, "empty", "marked") <= 0.01
    assert trials.share(counts, "empty", "unsure") <= 0.03


@pytest.mark.parametrize("name", GATE)
def test_marks_on_a_few_scans_are_read(name):
    scanned, pages = GATE[name]
    hold(name, trials.trial(scanned, pages, seed=11))


@pytest.mark.long
@pytest.mark.parametrize("seed", [20_000, 30_000])
@pytest.mark.parametrize("name", WHOLE)
def test_marks_on_sixty_scans_of_each_kind_are_read(name, seed):
    hold(name, trials.trial(WHOLE[name], 60, seed=seed))


MARKS = ("uses.web.yes", "uses.book.no", "no_face")


def look(*contents: tuple[bytes, int], sheet: Sheet | None = None) -> beside.Beside:
    return beside.look(sheet or trials.printed().sheet, contents)


def marked(seen: beside.Beside) -> set[str]:
    return {code for code, mark in seen.marks().items() if mark != Mark.EMPTY}


def test_boxes_of_both_pages_are_read_from_one_scan():
    seen = look((trials.filled(*MARKS), 2))
    assert set(seen.pages) == {1, 2}
    assert marked(seen) == set(MARKS)
    start = seen.proposed()
    assert set(start) == set(proposed.ALL)
    assert start["uses.web"] == proposed.Proposed(None, is_open=True, saw="yes")
    assert start["uses.book"] == proposed.Proposed(False)


def test_pages_may_come_in_two_scans_and_the_newer_one_counts():
    older, newer = trials.filled(*MARKS), trials.filled("uses.jury.no", pages=(1,))
    seen = look((older, 2), (newer, 1))
    assert set(seen.pages) == {1, 2}
    assert marked(seen) == {"uses.jury.no", "no_face"}


def test_page_that_is_not_there_is_read_by_hand():
    seen = look((trials.filled("no_face", pages=(2,)), 1))
    assert set(seen.pages) == {2}
    assert "uses.web" not in seen.proposed()
    assert "no_face" in seen.proposed()


def test_paper_without_a_layout_is_not_looked_at():
    seen = look((b"never opened", 1), sheet=Sheet(serial=trials.SERIAL, version="A7"))
    assert (seen.layout, seen.pages, seen.proposed()) == (None, {}, {})
    assert beside.tiles(None) == []


@pytest.mark.parametrize(
    "content", [b"%PDF-1.7 no more than this", desk.scan(200)], ids=["torn", "empty"]
)
def test_scan_that_shows_no_page_gives_none(content):
    assert look((content, 1)).pages == {}


def test_page_is_never_read_by_the_layout_of_another_version_serial_or_page():
    """The code on the page says which it is, so that a layout from elsewhere is not tried."""
    content, held = trials.filled(*MARKS), trials.printed().sheet
    assert set(look((content, 2)).pages) == {1, 2}
    assert look((content, 2), sheet=trials.newer().sheet).pages == {}
    other = Sheet(serial=desk.serial(70_043), version="A7", layout=held.layout)
    assert look((content, 2), sheet=other).pages == {}
    first_alone = trials.filled(*MARKS, pages=(1,))
    assert set(look((first_alone, 1)).pages) == {1}


def test_code_of_an_earlier_key_is_known_and_of_a_strangers_is_not(monkeypatch):
    content, key = trials.filled(*MARKS), keyring.subkey("mark")
    trials.printed()
    monkeypatch.setattr(type(keyring), "mark_keys", lambda self: [b"k" * 32, key])
    assert set(look((content, 2)).pages) == {1, 2}
    monkeypatch.setattr(type(keyring), "mark_keys", lambda self: [b"k" * 32])
    assert look((content, 2)).pages == {}


def test_no_more_than_a_dozen_pages_are_looked_at(monkeypatch):
    looked = []

    def nothing(content, page):
        looked.append(page)
        raise IndexError(page)

    monkeypatch.setattr(beside.split, "look", nothing)
    assert look((b"stack", 200)).pages == {}
    assert looked == [*range(1, beside.MOST_PAGES + 1)]


def test_every_box_of_a_reading_has_one_tile_and_no_two_share_a_place():
    layout = trials.printed().sheet.layout
    tiles = beside.tiles(layout)
    wanted = [code for box in proposed.ALL for code in proposed.boxes(box)]
    assert sorted(tile.code for tile in tiles) == sorted(wanted)
    width, height = beside.size(tiles)
    taken = np.zeros((height, width), int)
    for tile in tiles:
        taken[tile.top : tile.top + tile.height, tile.left : tile.left + tile.width] += 1
    assert taken.max() == 1


def test_picture_shows_each_box_in_its_tile_and_is_light():
    """Fifty boxes in the weight of one small photograph: a weak line carries it in two seconds."""
    seen = look((trials.filled(*MARKS, pages=(1,)), 1))
    picture = seen.picture()
    assert len(picture) <= 12_000
    with Image.open(BytesIO(picture)) as opened:
        grey = np.asarray(opened.convert("L"))
    for tile in beside.tiles(seen.layout):
        inner = grey[tile.top + 12 : tile.top + tile.height - 12][
            :, tile.left + 12 : tile.left + tile.width - 12
        ]
        if tile.page == 2:
            assert inner.min() > 230, tile.code
        else:
            assert (inner.min() < 160) == (tile.code in MARKS), tile.code


def test_photograph_of_a_page_is_read_too():
    of = trials.printed()
    ink, _ = trials.marked(1, of, 3)
    picture = trials.photographed(250)(ink, np.random.default_rng(3))
    encoded = cv2.imencode(".jpg", picture)[1].tobytes()
    assert set(look((encoded, 1)).pages) == {1}
