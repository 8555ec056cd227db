from django.core.checks import run_checks

from relations.documents import checks, fonts


def test_start_up_names_what_papers_lack(monkeypatch):
    monkeypatch.setattr(checks, "SUBSETTER", ("libharfbuzz-absent.so.0",))
    monkeypatch.setattr(fonts, "PACKAGES", ("fontpkg_absent",))
    assert {"documents.W001", "documents.W002"} <= {message.id for message in run_checks()}
