"""The test command hands its paths and options to pytest, and its failures back."""

import subprocess
import sys

import pytest

from tests import runner
from tests.runner import PytestRunner


@pytest.fixture
def started(monkeypatch):
    started = []

    def run(command, **options):
        started.append((command, options))
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setattr(runner.subprocess, "run", run)
    return started


def test_paths_and_options_reach_pytest(started):
    made = PytestRunner(failfast=True, marks="bench", names="weigh", coverage=False)
    assert made.run_tests(["tests/bench"]) == 0
    command, _ = started[0]
    assert command == [sys.executable, "-m", "pytest", "-mbench", "-kweigh", "-x", "tests/bench"]


def test_tests_choose_their_settings_themselves(started, monkeypatch):
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "relations.settings")
    PytestRunner().run_tests([])
    assert "DJANGO_SETTINGS_MODULE" not in started[0][1]["env"]


def test_coverage_starts_before_the_first_import_and_its_bars_count(started, monkeypatch):
    monkeypatch.setattr(runner.thresholds, "main", lambda: 2)
    assert PytestRunner(coverage=True).run_tests([]) == 2
    erased, run = (command for command, _ in started)
    assert erased[1:] == ["-m", "coverage", "erase"]
    assert run[1:5] == ["-m", "coverage", "run", "-m"]


def test_failed_tests_are_failures_of_the_command(monkeypatch):
    monkeypatch.setattr(runner.thresholds, "main", lambda: 0)
    gone_wrong = subprocess.CompletedProcess([], 1)
    monkeypatch.setattr(runner.subprocess, "run", lambda *_, **__: gone_wrong)
    assert PytestRunner(coverage=True).run_tests([]) == 1
