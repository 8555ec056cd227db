"""The test command hands its paths and options to pytest, and its failures back."""

import sys
from pathlib import Path

import pytest

from tests import runner
from tests.runner import PytestRunner


@pytest.fixture
def started(monkeypatch):
    """What would be run; each process ends well and has rendered every template."""
    started = []

    class Process:
        def __init__(self, command, **options):
            started.append((command, options))
            for file in (said for said in command if said.startswith("--rendered=")):
                there = [path for path in runner.TEMPLATES.rglob("*") if path.is_file()]
                names = [f"{path.relative_to(runner.TEMPLATES)}\n" for path in there]
                Path(file.partition("=")[2]).write_text("".join(names), encoding="utf-8")

        def wait(self):
            return 0

    monkeypatch.setattr(runner.subprocess, "Popen", Process)
    monkeypatch.setattr(
        runner.subprocess, "run", lambda command, **how: started.append((command, how))
    )
    monkeypatch.delenv("RELATIONS_DATABASE_URL", raising=False)
    return started


def test_paths_and_options_reach_pytest(started):
    made = PytestRunner(failfast=True, marks="bench", names="weigh", coverage=False)
    assert made.run_tests(["tests/bench"]) == 0
    command, _ = started[0]
    assert command == [sys.executable, "-m", "pytest", "-mbench", "-kweigh", "-x", "tests/bench"]


def test_tests_choose_their_settings_themselves(started, monkeypatch):
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "relations.settings")
    PytestRunner().run_tests([])
    assert all("DJANGO_SETTINGS_MODULE" not in options["env"] for _, options in started)


def test_whole_run_goes_in_two_halves_on_the_embedded_database(started, monkeypatch):
    assert PytestRunner().run_tests([]) == 0
    assert [command[3] for command, _ in started] == ["--half=rooms", "--half=site"]
    started.clear()
    monkeypatch.setenv("RELATIONS_DATABASE_URL", "postgresql://127.0.0.1/relations")
    assert PytestRunner().run_tests([]) == 0
    assert [command[3:] for command, _ in started] == [[]]


def test_template_that_neither_half_rendered_is_a_failure(started, monkeypatch, capsys):
    monkeypatch.setattr(runner.Recorder, "never_rendered", lambda *_: ["unseen.html"])
    assert PytestRunner().run_tests([]) == 1
    assert "unseen.html" in capsys.readouterr().out


def test_coverage_starts_before_the_first_import_and_its_bars_count(started, monkeypatch):
    monkeypatch.setattr(runner.thresholds, "main", lambda: 2)
    assert PytestRunner(coverage=True).run_tests([]) == 2
    erased, rooms, site = (command for command, _ in started)
    assert erased[1:] == ["-m", "coverage", "erase"]
    assert rooms[1:7] == ["-m", "coverage", "run", "-m", "pytest", "--half=rooms"]
    assert site[1:4] == ["-m", "pytest", "--half=site"]


def test_failed_tests_are_failures_of_the_command(started, monkeypatch):
    monkeypatch.setattr(runner.thresholds, "main", lambda: 0)
    monkeypatch.setattr(runner.subprocess.Popen, "wait", lambda _: 1)
    assert PytestRunner(coverage=True).run_tests([]) == 2


@pytest.mark.parametrize(("part", "measured"), [("rooms", True), ("site", False)])
def test_gate_runs_the_same_halves_one_by_one(started, tmp_path, part, measured):
    assert runner.main(part, str(tmp_path / "heard")) == 0
    *_, (command, _) = started
    assert ("coverage" in command) == measured
    assert command[-2:] == [f"--half={part}", f"--rendered={tmp_path / 'heard'}"]


def test_gate_asks_at_the_end_what_both_halves_reached(started, tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(runner.thresholds, "main", lambda: 2)
    heard = tmp_path / "heard"
    heard.write_text("base.html\n")
    assert runner.main("reached", str(heard)) > 2
    assert "Templates no test rendered:" in capsys.readouterr().out
    runner.main("site", str(heard))  # the fake has rendered them all
    assert runner.main("reached", str(heard)) == 2
