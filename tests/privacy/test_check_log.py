"""The command that names the first line of the access log which does not stand."""

import io
from datetime import timedelta

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.utils import timezone

from relations.privacy import heads, log
from relations.privacy.models import AccessEntry, LogHead

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def lines(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    for _ in range(4):
        log.note(None, "read", "people.phone", None)
    heads.keep(*log.head())


def check(*options):
    said = io.StringIO()
    call_command("check_log", *options, stdout=said)
    return said.getvalue()


def test_a_log_that_stands_is_said_with_its_head():
    said = check()
    assert f"4 lines, head {log.head()[1]}" in said
    assert "1 heads kept outside" in said
    assert "The ledger of what was erased stands: 0 lines." in said


def test_the_first_broken_line_is_named():
    AccessEntry.objects.filter(seq__gte=2).update(verb="wrote")
    with pytest.raises(CommandError, match=r"broken at line 2: .* taken out\.$"):
        check()


def test_a_cut_end_is_named_with_where_the_log_ends():
    AccessEntry.objects.filter(seq__gt=2).delete()
    LogHead.objects.update(seq=2, mac=AccessEntry.objects.get(seq=2).mac)
    with pytest.raises(CommandError, match=r"broken at line 3.* ends at line 2\."):
        check()


def test_pruning_lets_go_what_is_older_than_twelve_months(monkeypatch):
    later = timezone.now() + timedelta(days=367)
    monkeypatch.setattr(timezone, "now", lambda: later)
    assert "4 lines older than twelve months" in check("--prune")
    assert "5 lines" in check()
    assert AccessEntry.objects.count() == 2


def test_a_broken_log_is_never_pruned(monkeypatch):
    AccessEntry.objects.filter(seq=2).update(verb="wrote")
    later = timezone.now() + timedelta(days=367)
    monkeypatch.setattr(timezone, "now", lambda: later)
    with pytest.raises(CommandError, match="line 2"):
        check("--prune")
    assert AccessEntry.objects.count() == 4


def test_an_empty_log_stands():
    AccessEntry.objects.all().delete()
    LogHead.objects.all().delete()
    (heads.home().root / "log.heads").unlink()
    assert "0 lines, head none yet" in check()
