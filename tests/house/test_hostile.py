"""Every form that anybody is shown, filled by a hostile hand: refused in words, or taken whole.

The forms are found on the pages, so that a new one is filled by itself. Held: no error of the
site's own, nothing written by a refusal, what was typed given back, no answer that leads away.
"""

import logging
import struct
import zlib
from collections.abc import Iterator
from itertools import product
from unittest import mock
from urllib.parse import parse_qsl

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test.client import BOUNDARY, MULTIPART_CONTENT, encode_multipart
from hypothesis import Phase, given, settings

from relations.documents.render import lay_out
from relations.privacy.models import User
from relations.trips import packing
from tests.house import hostile
from tests.house.asking import Asked, Watch, files
from tests.house.pages import WHO, pages, table, wanted

PAGES = pages()
# The first way of each form is as it stands. What is without measure is for the long run.
FEW, MANY = 2, 60
LONG = 20_000
pytestmark = pytest.mark.django_db

LOGGED = {"privacy_accessentry", "privacy_loghead"}
# What a refusal may leave behind, and why.
SPARED = {
    # A wrong password, code or phrase counts as a try, and stands in the log.
    **dict.fromkeys(
        (
            *("privacy:sign_in", "privacy:sure", "privacy:password"),
            *("rights:lost", "rights:confirm_register"),
        ),
        LOGGED | {"privacy_wrongtries"},
    ),
    "uses:open_sheet": LOGGED | {"privacy_wrongtries", "uses_clearancesheet"},
    # The page that asks again shows the names once more, and that is logged.
    **dict.fromkeys(
        (f"referrals:{page}" for page in ("links", "seal", "seal_all", "share")), LOGGED
    ),
}


@pytest.fixture(scope="module")
def quiet() -> Iterator[None]:
    """Without a line in the log for each refusal."""
    logging.disable()
    yield
    logging.disable(logging.NOTSET)


@pytest.fixture
def one_sheet() -> Iterator[None]:
    """A pack of one sheet: nothing that is typed stands in it, and a whole one takes 10 seconds.

    What a pack is printed of, tests/trips/test_packing.py holds.
    """
    paper = lay_out("<html lang=en><p>A sheet</p></html>", lang="en", title="1").content
    with mock.patch.object(packing._Printer, "papers", lambda *_: [paper]):
        yield


def by_page(found: list[hostile.Form]) -> dict[str, list[hostile.Form]]:
    there: dict[str, list[hostile.Form]] = {}
    for form in found:
        there.setdefault(form.page, []).append(form)
    return there


@pytest.fixture(scope="module")
def forms(askers, made_once, django_db_blocker, quiet) -> dict[str, list[hostile.Form]]:
    with django_db_blocker.unblock():
        return by_page(hostile.found(askers, PAGES, made_once, all_roles=False))


@pytest.fixture(scope="module")
def everybodys(askers, made_once, django_db_blocker, quiet) -> dict[str, list[hostile.Form]]:
    """The forms again, with everybody who is shown each."""
    with django_db_blocker.unblock():
        return by_page(hostile.found(askers, PAGES, made_once, all_roles=True))


def fill(form: hostile.Form, asker, known: list[str], times: int) -> None:
    """Fill one form badly in so many ways, the same ones every time."""
    # What fails is sent again in simpler ways only where there is time to look for them.
    phases = (Phase.generate, Phase.shrink) if times == MANY else (Phase.generate,)
    longest = hostile.MEGABYTE if times == MANY else LONG
    there = files()

    @settings(max_examples=times, derandomize=True, database=None, phases=phases)
    @given(hostile.fillings(form, known, longest))
    def filled(pairs: hostile.Pairs) -> None:
        nonlocal there
        asked = hostile.press(asker, form, pairs)
        found = list(hostile.faults(form, pairs, asked, SPARED))
        before, there = there, files()
        if asked.status in hostile.REFUSED and there != before:
            found.append("a refusal wrote a file")
        assert not found, f"{hostile.shown(form)}: {found}"

    filled()


@pytest.mark.once
@pytest.mark.usefixtures("one_sheet")
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_form_filled_badly_is_refused_in_words_or_taken_whole(page, forms, askers, made_once):
    known = sorted(set(made_once.values()))
    for form in forms.get(page.name, ()):
        fill(form, askers[form.roles[0]], known, FEW)


@pytest.mark.long
@pytest.mark.usefixtures("one_sheet")
@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_form_filled_badly_by_everybody_many_times(page, everybodys, askers, made_once):
    known = sorted({*made_once.values(), *map(str, User.objects.values_list("pk", flat=True))})
    for form in everybodys.get(page.name, ()):
        for who in form.roles:
            fill(form, askers[who], known, MANY)


@pytest.mark.once
def test_every_page_that_takes_a_form_was_filled(forms):
    """Whatever the table of pages says is answered with 422 has a form here."""
    rows = table()
    taking = {
        page.name
        for page in PAGES
        if any(wanted(rows[page.name][who], "POST") == "422" for who in WHO)
    }
    assert sorted(taking - forms.keys()) == []
    assert len(taking) > 100
    assert any(form.files for there in forms.values() for form in there)


def png(width: int, height: int) -> bytes:
    """The head of a picture of so many dots, and nothing of it."""
    said = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + said + struct.pack(">I", zlib.crc32(said))
        + b"\x00\x00\x00\x01IDATx"
    )  # fmt: skip


FILES = {
    "empty": b"",
    "one letter": b"\xff",
    "words": b"From: me. Not an image at all.",
    "the head of a picture": png(9, 9),
    "a picture of nine billion dots": png(94_000, 94_000),
    "a picture of no dots": png(0, 0),
    "half a JPEG": b"\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01",
    "a JPEG that is no more": b"\xff\xd8\xff" + b"\xff" * 5000,
    "a PDF in name": b"%PDF-1.7 and then nothing",
    "a page and a script in one": b"GIF89a/*<script>alert(1)</script>%PDF-1.7*/",
    "a packed file": b"PK\x03\x04" + bytes(200),
    "half a TIFF": b"II*\x00\xff\xff\xff\x7f",
    "a sound": b"RIFF\x24\x00\x00\x00WAVEfmt ",
    "half a WebP": b"RIFF\x24\x00\x00\x00WEBPVP8 ",
}
NAMES = (
    "../../x.png",
    "a\0b.pdf",
    "x" * 300 + ".png",
    "\u202egnp.exe",
    "=1+1.jpg",
    "",
    "C:\\x\\y.tif",
)


@pytest.mark.once
def test_file_that_is_none_is_refused_and_nothing_of_it_is_kept(forms, askers):
    """In every form that takes a file, under names that mean harm."""
    with_files = [form for there in forms.values() for form in there if form.files]
    assert len(with_files) > 4
    for form, (what, content) in product(with_files, FILES.items()):
        name = NAMES[len(what) % len(NAMES)]
        sent = {one: SimpleUploadedFile(name or "x", content) for one in form.files}
        body = encode_multipart(BOUNDARY, {**form.base, **sent})
        before = files()
        asked = askers[form.roles[0]].send(form.address, body, MULTIPART_CONTENT)
        told = f"{hostile.shown(form)}, {what}: {asked.status}"
        assert asked.status in hostile.REFUSED, told
        assert (asked.stayed, files()) == (frozenset(), before), told


def test_fault_is_found():
    """Else the tests above could not fail."""
    form = hostile.Form("a:b", "/", "POST", {"at": ["1"]}, {"word": "text", "at": "hidden"}, {})
    pairs = [(b"word", b"<lost>"), (b"at", b"1")]
    answer = HttpResponse("&lt;other&gt;", status=422)
    said = list(hostile.faults(form, pairs, Asked(answer, {"x"}, stayed=frozenset({"x"})), {}))
    assert "answered 422 and yet wrote to x" in said
    assert "word: '<lost>' is lost" in said
    leads = HttpResponse(status=302, headers={"Location": "//elsewhere.example/"})
    assert "leads to //elsewhere.example/" in list(
        hostile.faults(form, [], Asked(leads, set()), {})
    )
    assert "answered 500" in list(
        hostile.faults(form, [], Asked(HttpResponse(status=500), set()), {})
    )


def test_form_is_written_as_a_browser_writes_it():
    every = [(bytes([at]), bytes([at]) * 3) for at in range(256)]
    assert parse_qsl(hostile.encoded(every).decode(), encoding="latin-1") == [
        (name.decode("latin-1"), value.decode("latin-1")) for name, value in every
    ]


def test_what_a_savepoint_undid_did_not_stay():
    went = ['SAVEPOINT "a"', 'INSERT INTO "one" x', 'SAVEPOINT "b"', 'UPDATE "two" x']
    assert Watch([*went, 'ROLLBACK TO SAVEPOINT "b"', 'RELEASE SAVEPOINT "a"']).stayed == {"one"}
    assert Watch([*went, 'RELEASE SAVEPOINT "b"']).stayed == {"one", "two"}
    assert Watch([*went, 'ROLLBACK TO SAVEPOINT "a"']).stayed == set()
    assert Watch([*went, 'ROLLBACK TO SAVEPOINT "b"', 'DELETE FROM "three"']).stayed == {
        "one",
        "three",
    }
