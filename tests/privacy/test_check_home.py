"""The command that looks over a whole home."""

import io
import os
import time

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.utils import timezone

from relations.documents.models import Scan
from relations.privacy import clock, durable, heads, log
from relations.privacy.files import scans
from relations.privacy.models import AccessEntry
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def scan(tmp_path, settings, monkeypatch):
    settings.RELATIONS_HOME = tmp_path
    monkeypatch.setattr(durable, "forgets", list)
    for _ in range(4):
        log.note(None, "read", "people.phone", None)
    heads.keep(*log.head())
    return make(Scan, file=scans().save(b"signed"))


def check(*options):
    said = io.StringIO()
    call_command("check_home", *options, stdout=said)
    return said.getvalue()


def test_home_that_stands_is_said_in_one_sentence():
    said = check()
    assert said.startswith("The home stands: ")
    assert "4 lines of the access log, compared with 1 heads kept outside." in said
    assert said.count("\n") == 1


def test_every_fault_is_named_and_the_command_fails(scan):
    scans().path_of(scan.file).write_bytes(b"something else")
    AccessEntry.objects.filter(seq=2).update(verb="wrote")
    with pytest.raises(CommandError) as told:
        check("--let-go")
    assert told.value.returncode == 1
    first, second = str(told.value).splitlines()
    assert "access log is broken at line 2" in first
    assert scan.file in second


def test_files_of_cut_off_presses_are_counted_and_let_go_when_asked(scan):
    left = scans().save(b"never acknowledged")
    old = time.time() - 2 * 24 * 3600
    os.utime(scans().path_of(left), (old, old))
    assert "1 sealed files that no row refers to" in check()
    assert left in scans().names()
    assert "were deleted" in check("--let-go")
    assert scans().names() == [scan.file]
    assert "no row refers" not in check()


def test_database_that_forgets_and_a_clock_that_is_behind_are_said(monkeypatch):
    monkeypatch.setattr(durable, "forgets", lambda: ["fsync"])
    monkeypatch.setattr(durable, "checks_pages", lambda: False)
    monkeypatch.setattr(clock, "behind", timezone.now)
    said = check()
    assert "set fsync right" in said
    assert "keeps no checksums" in said
    assert "clock is behind" in said
