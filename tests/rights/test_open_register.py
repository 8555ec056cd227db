"""`manage.py open_register`: opens a register elsewhere, or says in one sentence why not."""

import io
import json

import pytest
from django.core.management import CommandError, call_command

from relations.privacy import opening, slots
from relations.privacy.crypt import Cost
from relations.rights import taking_out_file
from relations.rights.management.commands import open_register
from relations.rights.taking_out_rows import FORMAT
from relations.rights.taking_out_table import TAKEN

WORDS = "four boats and no harbour"


@pytest.fixture(autouse=True)
def typed(monkeypatch):
    said = [WORDS]
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    monkeypatch.setattr(open_register, "ask", lambda *_, **__: said[0])
    monkeypatch.setattr(open_register, "guard_process", lambda: None)
    assert opening.guard_process is not open_register.guard_process
    return said


@pytest.fixture
def file(tmp_path):
    document = {"format": FORMAT, "tables": {label: [] for label in TAKEN}}
    path = tmp_path / "2026-11-23.relreg"
    path.write_bytes(taking_out_file.seal([json.dumps(document).encode()], WORDS))
    return path


def run(*words):
    out = io.StringIO()
    call_command("open_register", *map(str, words), stdout=out)
    return out.getvalue()


def test_it_says_how_much_lies_there_in_clear_and_how_to_remove_it(file, tmp_path):
    said = run(file, tmp_path / "open")
    assert "0 people, 0 rows in all" in said
    assert "in clear" in said
    assert f"rm -r '{tmp_path / 'open'}'" in said
    assert (tmp_path / "open" / "register.json").is_file()


def refused(file, folder, what):
    with pytest.raises(CommandError, match=what) as error:
        run(file, folder)
    assert str(error.value).startswith("Nothing was written.")
    assert not folder.is_dir() or any(folder.iterdir())


def test_each_way_to_fail_has_its_sentence_and_writes_nothing(file, tmp_path, typed):
    folder = tmp_path / "open"
    whole = file.read_bytes()
    typed[0] = "another passphrase"
    refused(file, folder, "The passphrase does not open this file")
    typed[0] = WORDS
    file.write_bytes(whole[:-3])
    refused(file, folder, "The file was cut or changed")
    file.write_bytes(b"%PDF-1.7")
    refused(file, folder, "This is no register that was taken out")
    refused(tmp_path / "absent", folder, "No such file")
    file.write_bytes(whole)
    folder.mkdir()
    (folder / "mine").write_text("kept")
    refused(file, folder, "There is something at")
