"""Whoever takes the machine reads nothing: not in the home, not beside it, not while it works."""

import json
import os
import re
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from tests.browsing import Browser
from tests.clone import Clone, clone
from tests.privacy.test_server import MARK, MIB, Watch, _free_port, _wait

# Shorter ones are met by chance in what is sealed.
SHORTEST = 5  # bytes
WRITINGS = ("utf-8", "utf-16-le", "utf-16-be")
# Everything that the register keeps in a sealed field, whichever room it is of.
READ_SEALED = """
import json, django
django.setup()
from django.apps import apps
from relations.privacy.fields import SealedDate, SealedJSON, SealedText
from relations.privacy.keys import keyring
keyring.unlock_rehearsal()
def words(value):
    if isinstance(value, dict):
        value = [*value, *value.values()]
    if isinstance(value, (list, tuple)):
        return [word for one in value for word in words(one)]
    return [value.isoformat() if hasattr(value, "isoformat") else value] * bool(value)
found = {}
for model in apps.get_models():
    for field in model._meta.get_fields():
        if isinstance(field, (SealedText, SealedDate, SealedJSON)):
            key = f"{model._meta.label}.{field.name}"
            found[key] = [w for row in model.objects.all() for w in words(getattr(row, field.name))]
print(json.dumps(found))
"""
# A form that the story left brought home and not scanned yet.
SERIAL = "60945-11"
PASSPHRASE = "six words that nobody else guesses"
PASSWORD = "a boat, a lamp, a wall"


def needles(words: set[str]) -> set[bytes]:
    """Each word as it would lie in a file, in every writing."""
    written = {word.encode(writing) for word in words for writing in WRITINGS}
    return {one for one in written if len(one) >= SHORTEST}


def in_clear(folder: Path, sought: set[bytes]) -> dict[str, list[bytes]]:
    """The files under a folder in which something sought stands, and what."""
    found = {}
    for path in folder.rglob("*"):
        content = path.read_bytes() if path.is_file() else b""
        if there := sorted(one for one in sought if one in content):
            found[str(path.relative_to(folder))] = there
    return found


@contextmanager
def served(copy: Clone, *command: str, **settings: str) -> Iterator[tuple[subprocess.Popen, int]]:
    """The real server of a copy on a free port, until the block ends."""
    port = _free_port()
    process = copy.start(*command, "--port", str(port), **settings)
    try:
        _wait(port)
        yield process, port
    finally:
        process.terminate()
        process.wait(20)


@pytest.fixture(scope="module")
def sealed(filled_clone: Clone) -> dict[str, list[Any]]:
    """Every sealed value of the rehearsal in clear, by field."""
    settings = {"RELATIONS_HOME": str(filled_clone.rehearsal)}
    return json.loads(filled_clone.read(READ_SEALED, **settings))


@pytest.fixture(scope="module")
def sought(sealed: dict[str, list[Any]]) -> set[bytes]:
    """What must stand nowhere: names, numbers, birth, places, and whatever else is sealed."""
    words = {str(word) for values in sealed.values() for word in values if not _is_code(word)}
    return needles(words)


def _is_code(word: Any) -> bool:
    """A key or a choice inside sealed JSON: no word of anyone."""
    return not isinstance(word, str) or re.fullmatch(r"[a-z_]+|[A-Z]{2}", word) is not None


def large_scan() -> bytes:
    """A PDF of 20 MB whose one picture, were it opened, reads MARK from end to end."""
    document = pikepdf.new()
    document.add_blank_page(page_size=(595, 842))
    picture = pikepdf.Stream(
        document,
        MARK * (20 * MIB // len(MARK)),
        # Of a kind that is kept as it came: it would be pressed small otherwise.
        Type=pikepdf.Name.XObject,
        Subtype=pikepdf.Name.Image,
        Width=8,
        Height=8,
        ColorSpace=pikepdf.Name.DeviceGray,
        BitsPerComponent=8,
        Filter=pikepdf.Name.DCTDecode,
    )
    document.pages[0].Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(P=picture))
    made = BytesIO()
    document.save(made)
    return made.getvalue()


def test_search_knows_what_the_story_says(sealed: dict[str, list[Any]], sought: set[bytes]) -> None:
    """The control: were one of these written in clear, the search would look for it."""
    story = json.loads((Path(__file__).parents[2] / "fixtures" / "demo.json").read_text("utf-8"))
    told: dict[str, list[dict[str, Any]]] = {}
    for event in story["events"]:
        told.setdefault(event["do"], []).append(event.get("with", {}))
    erased = {"06"}  # who asked never to be rung: name and number are gone
    names = {one["call_name"] for one in told["people.hear"] if one.get("code") not in erased}
    assert names <= set(sealed["people.Participant.call_name"])
    assert len(names) > 35
    typed = {one["typed"] for one in told["people.add_line"] if one["person"] not in erased}
    assert typed <= set(sealed["people.PhoneLine.as_typed"]) | {""}
    assert {one["text"] for one in told["people.add_name"]} <= set(sealed["people.Name.text"])
    assert "+33465710001" in sealed["people.PhoneLine.number"]
    assert {one["place"] for one in told["meetings.fix"]} <= set(sealed["meetings.Meeting.place"])
    assert "+33465710001".encode("utf-16-be") in sought
    assert len(sought) > 500


def test_search_finds_a_word_in_clear(tmp_path: Path, sought: set[bytes]) -> None:
    for writing in WRITINGS:
        (tmp_path / writing).write_bytes(os.urandom(4096) + "+33465710001".encode(writing) + b"\0")
    assert set(in_clear(tmp_path, sought)) == set(WRITINGS)


def test_nothing_sealed_lies_in_clear_in_the_home(filled_clone: Clone, sought: set[bytes]) -> None:
    home = filled_clone.rehearsal
    assert {"register.db", "scans", "pictures"} <= {path.name for path in home.iterdir()}
    assert in_clear(home, sought) == {}
    assert (home / "register.db").read_bytes()[:16] != b"SQLite format 3\0"


def test_nothing_lies_in_clear_while_a_large_scan_goes_up_and_comes_down(
    filled_clone: Clone, sought: set[bytes], tmp_path: Path
) -> None:
    scan, home = large_scan(), filled_clone.rehearsal
    assert len(scan) > 20 * MIB - 1024
    some = sorted(sought)[:: len(sought) // 20]
    with served(filled_clone, "demo", TMPDIR=str(tmp_path)) as (process, port):
        ines = Browser(port)
        ines.send("/in/", username="ines", password="lumiere de novembre")
        with Watch(process, (MARK, *some)) as watch:
            filed = ines.send_file(
                "/forms/file/", "scan", scan, "application/pdf", serial=SERIAL, code=""
            )
            assert (filed.status, SERIAL in filed.address) == (200, True), filed.text
            came = ines.ask(f"/forms/{SERIAL}/scan/1/")
            person = ines.ask("/person/01/")
        assert (came.status, came.body.count(MARK) > 1_000_000) == (200, True)
        assert "Marcel" in person.text
        assert watch.looks > 5
        assert watch.found == []
        # While it still runs: with what the register has not yet taken over from its journal.
        assert (home / "register.db-wal").exists()
        assert in_clear(home, sought | {MARK}) == {}
        assert list(tmp_path.iterdir()) == []


def begin(copy: Clone, home: Path) -> str:
    """Make a real home as a person would at the keyboard; what was said on the way."""
    process = subprocess.Popen(
        copy.command("begin"),
        cwd=copy.root,
        env=copy.environment(RELATIONS_HOME=str(home), PYTHONUNBUFFERED="1"),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    assert process.stdin
    assert process.stdout
    process.stdin.write(f"{PASSPHRASE}\n{PASSPHRASE}\n")
    process.stdin.flush()
    said = ""
    while not (code := re.search(r"^ +((?:[0-9A-Z]{4}-){6}[0-9A-Z]{4})$", said, re.MULTILINE)):
        line = process.stdout.readline()
        assert line, said
        said += line
    answers = [code[1], "", "mara", "Mara Quellenbach", PASSWORD, PASSWORD, "", ""]
    rest, _ = process.communicate("".join(f"{answer}\n" for answer in answers))
    assert process.returncode == 0, said + rest
    return said + rest


def test_wrong_passphrase_opens_nothing_and_the_right_one_opens_the_home(tmp_path: Path) -> None:
    copy, home = clone(tmp_path / "relations"), tmp_path / "real"
    said = begin(copy, home)
    assert "The home is made. 1 may sign in." in said
    kept = needles({"Mara Quellenbach", PASSPHRASE, PASSWORD})
    assert in_clear(home, kept) == {}
    assert (home / "register.db").read_bytes()[:16] != b"SQLite format 3\0"
    with served(copy, "serve", "--locked", RELATIONS_HOME=str(home)) as (_, port):
        mara = Browser(port)
        locked = {path: mara.ask(path) for path in ("/", "/in/", "/static/site.css", "/nowhere")}
        assert {answer.status for answer in locked.values()} == {503}
        assert all("Passphrase" in answer.text for answer in locked.values())
        assert mara.send("/", passphrase=PASSPHRASE + "!").status == 403
        assert mara.ask("/in/").status == 503
        assert not (home / "register.db-wal").exists(), "nobody has opened the register"
        opened = _after_the_wait(mara)
        assert (opened.status, "Passphrase" in opened.text) == (200, False)
        mara.send("/in/", username="mara", password=PASSWORD)
        # An artist sets up a device that shows codes before anything else.
        first = mara.ask("/")
        assert first.address.endswith("/own/")
        assert "Mara Quellenbach" in first.text
        assert in_clear(home, kept) == {}


def _after_the_wait(mara: Browser) -> Any:
    """The right passphrase; a wrong one before it made the next try wait a little."""
    import time

    for _ in range(30):
        answer = mara.send("/", passphrase=PASSPHRASE)
        if answer.status != 403:
            return answer
        time.sleep(1)
    raise AssertionError(answer.text)
