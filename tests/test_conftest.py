"""What was left out is said, and is a failure where nobody would read it."""

import os
import subprocess
import sys
from types import SimpleNamespace

import pytest

from tests import conftest

NEEDY = """
import pytest

@pytest.mark.needs("qpdf")
def test_needy():
    pass

def test_free():
    pass

@pytest.mark.long
def test_long():
    raise AssertionError("it was not asked for")

@pytest.mark.django_db
def test_with_rows():
    pass
"""


@pytest.fixture
def run(tmp_path):
    """Run a small file of tests under the project's settings, on a machine without programs."""
    (tmp_path / "test_needy.py").write_text(NEEDY)

    def run(*options, **environment):
        said = {k: v for k, v in os.environ.items() if k not in {"CI", "DJANGO_SETTINGS_MODULE"}}
        python = [sys.executable, "-m", "pytest", "-p", "tests.conftest", "-c", ".pytest.ini"]
        return subprocess.run(
            [*python, "--rootdir", ".", *options, str(tmp_path)],
            cwd=conftest.ROOT,
            env=said | {"PATH": ""} | environment,
            capture_output=True,
            text=True,
            check=False,
        )

    return run


def test_missing_program_is_named_at_the_end_and_fails_in_ci_only(run):
    here, in_ci = run("--database=none"), run("--database=none", CI="true")
    assert (here.returncode, in_ci.returncode) == (0, 1)
    for done in (here, in_ci):
        _, named = done.stdout.split("could not run for want of a program")
        assert "qpdf is missing (Debian: qpdf)" in named
        assert "1 passed, 1 skipped" in done.stdout


def test_database_option_parts_the_tests_in_two(run):
    done = run("--database=only", "--collect-only", "-q")
    assert "test_with_rows" in done.stdout
    assert "test_free" not in done.stdout


def test_what_only_says_something_is_asked_of_one_database_unless_all_is_wanted(run, tmp_path):
    said = "import pytest\n@pytest.mark.django_db\ndef test_page():\n    pass\n"
    marked = said.replace("def test_page", "@pytest.mark.every_database\ndef test_queries")
    (tmp_path / "test_ring_views.py").write_text(said + marked.partition("\n")[2])
    only = run("--database=only", "--collect-only", "-q").stdout
    assert ("test_page" in only, "test_queries" in only) == (False, True)
    assert "test_page" in run("--database=every", "--collect-only", "-q").stdout


def test_long_test_runs_when_its_mark_is_asked_for(run):
    assert "it was not asked for" in run("-m", "long").stdout


@pytest.mark.parametrize(
    "narrowed", ["file_or_dir", "keyword", "markexpr", "database", "half", "maxfail", "collectonly"]
)
def test_narrowed_run_is_not_asked_for_every_template(narrowed):
    whole = SimpleNamespace(getoption=lambda name: None)
    part = SimpleNamespace(getoption=lambda name: "said" if name == narrowed else None)
    assert conftest._is_whole(whole)
    assert not conftest._is_whole(part)


def test_network_is_out_of_reach():
    import socket

    with socket.socket() as one, pytest.raises(OSError, match=r"asked for 192\.0\.2\.1"):
        one.connect(("192.0.2.1", 80))  # TEST-NET-1, RFC 5737: nobody's


def test_halves_part_the_tests_by_whether_a_room_has_them(run):
    rooms, site = (run(f"--half={half}", "--collect-only", "-q") for half in ("rooms", "site"))
    assert "test_free" not in rooms.stdout
    assert "test_free" in site.stdout
