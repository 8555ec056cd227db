"""The whole register leaves by two people and is opened elsewhere; who told us of whom does not."""

import csv
import io
import json
import os
import subprocess
import sys
from contextlib import nullcontext
from itertools import chain
from pathlib import Path

import pytest
import vobject

from relations.people.models import (
    Community,
    Introduction,
    Name,
    NeverRing,
    OutsideIntroducer,
    Participant,
    PhoneLine,
)
from relations.people.values import Standing
from relations.privacy import slots
from relations.privacy.crypt import Cost
from relations.privacy.models import User
from relations.rights import taking_out_views
from relations.rights.in_csv import unguarded
from relations.rights.taking_out_table import TAKEN
from tests.flows.hand import Hand

ROOT = Path(__file__).resolve().parents[2]
OWN, WORDS = "the invented tide comes in twice", "four boats and no harbour"
# Rows in which two people may stand: who sat together, and who speaks for whom.
TWO = {"pictures.Sitting", "people.Speaker"}


@pytest.fixture
def taken(rehearsal, monkeypatch) -> bytes:
    """The artist asks, the keeper confirms, the artist takes it."""
    monkeypatch.setattr(taking_out_views, "snapshot", nullcontext)  # the test is in a transaction
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    somebody = Participant.objects.get(code="12")
    somebody.agreed_word = "olive tree and tide"
    somebody.save()
    Name.objects.create(person=somebody, kind="never_print", text="Danuta of the Two Piers")
    number = "+33465719988"
    through = Participant.objects.get(code="19")
    PhoneLine.objects.create(person=somebody, through=through, as_typed=number, number=number)
    aude = User.objects.get(username="aude")
    aude.set_password(OWN)
    aude.save()
    artist, keeper = Hand(User.objects.get(username="ines")), Hand(aude)
    artist.go("/").follow("The whole register out")
    artist.press("Ask the keeper", reason="To the machine of the book’s printer.")
    keeper.go("/")
    assert keeper.sees("The artist asks to take the whole register out.")
    keeper.follow("The whole register out")
    said = {"password": OWN, **({"code": ""} if aude.asks_code else {})}
    keeper.press("Confirm that it may leave", said)
    artist.go("/")
    assert artist.sees("The keeper confirmed that the whole register may leave.")
    artist.follow("The whole register out")
    artist.press("Take it out now", passphrase=WORDS, again=WORDS)
    made: bytes = artist.answer.content
    assert artist.go("/alarm/register/").sees("Taken by Ines")
    assert keeper.go("/").sees("The whole register was taken out")
    return made


def opened(file: Path, folder: Path, home: Path) -> str:
    """By a process of its own, which knows no home and no database."""
    kept = ("PATH", "LANG", "LD_LIBRARY_PATH")
    done = subprocess.run(
        [sys.executable, "-m", "django", "open_register", str(file), str(folder)],
        cwd=ROOT,
        env={
            **{name: os.environ[name] for name in kept if name in os.environ},
            "DJANGO_SETTINGS_MODULE": "relations.settings",
            "RELATIONS_HOME": str(home),
            "PYTHONDONTWRITEBYTECODE": "1",
        },
        input=f"{WORDS}\n",
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_it_is_opened_elsewhere_without_who_told_us_of_whom(taken, tmp_path):
    file, folder, home = tmp_path / "out.relreg", tmp_path / "open", tmp_path / "no-home"
    file.write_bytes(taken)
    assert f"{Participant.objects.count()} people" in opened(file, folder, home)
    assert not home.exists()
    never = never_in_it()
    for path in (file, *folder.iterdir()):
        for value in never:
            assert value.encode() not in path.read_bytes(), (path.name, value)
    tables = json.loads((folder / "register.json").read_bytes())["tables"]
    assert not pairs(tables)
    assert cards(folder) == {(line.person.call_name, f"tel:{line.number}") for line in to_be_rung()}
    for label, rows in tables.items():
        text = (folder / f"{label}.csv").read_text("utf-8-sig")
        read = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
        assert [row["id"] for row in read] == [row["id"] for row in rows]
        for row, was in zip(read, rows, strict=True):
            for name in TAKEN[label].names:
                if isinstance(was[name], str):
                    assert unguarded(row[name]) == was[name]
                assert not row[name].startswith(tuple("=+-@\t\r"))


def never_in_it() -> set[str]:
    """What says who told us of whom, or opens a door: sealed values, keys of rows, names."""
    kept = {one.text for one in Name.objects.exclude(kind="never_print")}
    kept |= {one.call_name for one in Participant.objects.all()}
    never = {one.text for one in Name.objects.filter(kind="never_print")} - kept
    outside = {one.label for one in OutsideIntroducer.objects.all()} - {""}
    groups = {one.name for one in Community.objects.all()}
    words = {one.agreed_word for one in Participant.objects.all()} - {None}
    people = Participant.objects.all()
    keys = chain(
        Introduction.objects.values_list("pk", flat=True),
        OutsideIntroducer.objects.values_list("pk", flat=True),
        Community.objects.values_list("pk", flat=True),
        people.values_list("log_key", flat=True),
        User.objects.values_list("pk", flat=True),
    )
    lines = PhoneLine.objects.exclude(through=None)
    own = {line.number for line in PhoneLine.objects.filter(through=None)}
    others = {line.number for line in lines} - own - {""}
    marks = {bytes(one).hex() for one in NeverRing.objects.values_list("mark", flat=True)}
    users = set(User.objects.values_list("password", flat=True))
    assert all((outside, groups, marks, users, never, words, others))
    return never | outside | groups | words | others | marks | users | set(map(str, keys))


def pairs(tables) -> list[tuple[str, str]]:
    """Rows that tie two people to each other, in a table where none may."""
    people = {row["id"] for row in tables["people.Participant"]}
    found = []
    for label, rows in tables.items():
        for row in rows if label not in TWO else ():
            text = json.dumps(row)
            if sum(key in text for key in people) > 1:
                found.append((label, row["id"]))
    return found


def to_be_rung() -> list[PhoneLine]:
    """Numbers of those who are rung, theirs alone, read anew from the register."""
    lines = PhoneLine.objects.filter(through=None, ended_on=None, is_shared=False)
    lines = lines.filter(person__condition="well").select_related("person")
    shut = {bytes(one) for one in NeverRing.objects.values_list("mark", flat=True)}
    not_rung = {"named", "said_no", "never_ring", "let_go", "closed", "stepped_back", "spoken_for"}
    return [
        line
        for line in lines
        if line.number
        and bytes(line.mark or b"") not in shut
        and Standing(line.person.standing).value not in not_rung
        and not line.person.holds.filter(lifted_at=None).exists()
    ]


def cards(folder: Path) -> set[tuple[str, str]]:
    """The names and numbers of the cards, as another program reads them."""
    text = (folder / "people.vcf").read_text("utf-8")
    for word in ("NOTE", "ordinary", "raised", "grave"):
        assert word not in text
    return {
        (card.fn.value, tel.value)
        for card in vobject.readComponents(text)
        for tel in card.contents.get("tel", [])
    }
