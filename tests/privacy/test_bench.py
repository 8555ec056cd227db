"""The measuring command runs tests/bench and nothing else, and a missed bar fails it."""

import pytest
from django.core.management import CommandError, call_command

from tests.runner import PytestRunner


@pytest.fixture
def measured(monkeypatch):
    """What the runner was asked for; it answers with `failures`."""
    asked = {"failures": 0}

    def run(runner, paths):
        asked.update(options=runner.options, paths=paths)
        return asked["failures"]

    monkeypatch.setattr(PytestRunner, "run_tests", run)
    return asked


def test_only_measurements_run(measured):
    call_command("bench")
    assert measured["paths"] == ["tests/bench"]
    assert measured["options"] == ["-mbench"]


def test_one_measurement_may_be_asked_for_by_name(measured):
    call_command("bench", names="weighing")
    assert "-kweighing" in measured["options"]


def test_missed_bar_fails_the_command(measured):
    measured["failures"] = 1
    with pytest.raises(CommandError, match="missed its bar"):
        call_command("bench")
