"""A register that was taken out, written into a folder whole or not at all."""

import csv
import io
import json
import stat

import pytest
import vobject

from relations.rights import opening_out
from relations.rights.in_csv import unguarded
from relations.rights.taking_out_table import TAKEN

PEOPLE = {"id": "0000", "languages": "pt fr", "text_only": False}
LINE = {"number": "+33465710036", "extension": "", "may_be_rung": True}


def row(label, **said):
    return dict.fromkeys(opening_out.columns(label)) | said


def document(**tables):
    return json.dumps({"tables": {label: [] for label in TAKEN} | tables}).encode()


@pytest.fixture
def said():
    person = row("people.Participant", **PEOPLE, call_name="=Olga", code="51")
    nameless = row("people.Participant", **PEOPLE | {"id": "0001"}, call_name="", code="52")
    line = row("people.PhoneLine", **LINE, id="0002", person="0000")
    shut = row("people.PhoneLine", **LINE | {"may_be_rung": False}, id="0003", person="0000")
    return document(**{"people.Participant": [person, nameless], "people.PhoneLine": [line, shut]})


def test_tables_json_and_cards_lie_there_for_their_owner_alone(said, tmp_path):
    folder = tmp_path / "out" / "open"
    counts = opening_out.write(said, folder)
    assert (counts["people.Participant"], sum(counts.values())) == (2, 4)
    names = {path.name for path in folder.iterdir()}
    wanted = {"read-me.txt", "register.json", "people.vcf", *(f"{label}.csv" for label in TAKEN)}
    assert names == wanted
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert {stat.S_IMODE(path.stat().st_mode) for path in folder.iterdir()} == {0o600}
    assert (folder / "register.json").read_bytes() == said
    text = (folder / "people.Participant.csv").read_text("utf-8-sig")
    first = next(iter(csv.DictReader(io.StringIO(text, newline=""))))
    assert (first["call_name"], unguarded(first["call_name"])) == ("'=Olga", "=Olga")
    cards = list(vobject.readComponents((folder / "people.vcf").read_text("utf-8")))
    assert [(card.fn.value, card.tel.value) for card in cards] == [("=Olga", "tel:+33465710036")]
    assert len(cards[0].contents["tel"]) == 1
    assert not list(folder.parent.glob(".part-*"))


@pytest.mark.parametrize("what", ["full", "file", "link"])
def test_a_folder_that_holds_something_is_left_as_it_is(said, tmp_path, what):
    folder = tmp_path / "open"
    if what == "full":
        folder.mkdir()
        (folder / "mine").write_text("kept")
    elif what == "file":
        folder.write_text("kept")
    else:
        folder.symlink_to(tmp_path)
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(opening_out.Taken):
        opening_out.write(said, folder)
    assert sorted(tmp_path.rglob("*")) == before


def test_an_empty_folder_is_taken_and_what_was_cut_short_before_is_gone(said, tmp_path):
    folder, part = tmp_path / "open", tmp_path / ".part-open"
    folder.mkdir()
    part.mkdir()
    (part / "half").write_text("half")
    opening_out.write(said, folder)
    assert (folder / "people.vcf").is_file()
    assert not part.exists()


def test_a_disk_that_is_full_leaves_nothing(said, tmp_path, monkeypatch):
    def full(path, content):
        path.write_bytes(content[:3])
        if path.name == "register.json":
            raise OSError(28, "No space left on device", str(path))

    monkeypatch.setattr(opening_out, "_write", full)
    with pytest.raises(OSError, match="No space"):
        opening_out.write(said, tmp_path / "open")
    assert list(tmp_path.iterdir()) == []
