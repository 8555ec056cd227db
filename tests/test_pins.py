"""The look at our pins finds what an index may say of them."""

import json
from subprocess import CompletedProcess

import pytest

from tests import pins

TEXT = "Good==1.0  # fine\nbad-one[x]==2.1  # withdrawn\nold_one==3.0.1  # corrected since\n"


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "requirements.txt"
    path.write_text(TEXT)
    return path


def answering(install=None, later=(), advised=None, err=""):
    def run(*command):
        if command[0] == "pip_audit":
            said = {"dependencies": advised} if advised is not None else None
            return CompletedProcess(command, 0, json.dumps(said) if said else "", "No module")
        if command[1] == "list":
            return CompletedProcess(command, 0, json.dumps(later), "")
        if install is None:
            return CompletedProcess(command, 1, "", "ERROR: No matching distribution\n")
        return CompletedProcess(command, 0, json.dumps({"install": install}), err)

    return run


def test_pins_are_read_with_their_extras_and_without_their_reasons():
    assert pins.pins(TEXT) == {"good": "1.0", "bad-one": "2.1", "old-one": "3.0.1"}
    assert all(pins.pins(path.read_text()) for path in pins.FILES)


def test_withdrawn_and_vanished_pins_are_faults(file):
    row = {"is_yanked": True, "metadata": {"name": "bad-one", "version": "2.1"}}
    assert pins.look((file,), answering([row])).faults == ["bad-one 2.1 was withdrawn"]
    warned = "WARNING: The candidate selected for download or install is a yanked version: 'good' c"
    assert pins.look((file,), answering([], err=warned)).faults == ["good was withdrawn"]
    (gone,) = pins.look((file,), answering(None)).faults
    assert "No matching distribution" in gone


def test_later_releases_are_named_and_a_correction_told_apart(file):
    later = [
        {"name": "old_one", "latest_version": "3.0.2"},
        {"name": "Good", "latest_version": "2.0"},
        {"name": "not-ours", "latest_version": "9"},
    ]
    told = pins.look((file,), answering([], later=later))
    assert told.faults == []
    assert told.notes[:2] == [
        "old_one 3.0.1: a correction is out, 3.0.2",
        "Good 1.0: a later release is out, 2.0",
    ]


def test_known_faults_fail_and_an_index_without_advisories_is_not_called_clean(file):
    fault = {"id": "PYSEC-1", "fix_versions": ["1.1"]}
    advised = [
        {"name": "good", "version": "1.0", "vulns": [fault]},
        {"name": "bad-one", "skip_reason": "not found"},
    ]
    told = pins.look((file,), answering([], advised=advised))
    assert told.faults == ["good 1.0: PYSEC-1, mended: 1.1"]
    assert told.notes == ["requirements.txt: the index has no advisories on 1 of 2 pins"]
    assert "not asked for" in pins.look((file,), answering([])).notes[0]
