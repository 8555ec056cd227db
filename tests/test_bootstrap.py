"""On a fresh machine a command brings what it lacks; later it costs nothing to speak of."""

import subprocess
import sys
import time
from pathlib import Path

import pytest

from relations import bootstrap


class Machine:
    """A project folder on an invented machine, and the list of what was run there."""

    def __init__(self, root: Path) -> None:
        self.root, self.ran = root, []
        (root / "tests").mkdir()
        (root / "requirements.txt").write_text("one==1\n")
        (root / "tests" / "requirements.txt").write_text("two==2\n")

    def run(self, command, **_):
        self.ran.append([str(part) for part in command])
        if "venv" in command:
            python = self.root / ".venv" / "bin" / "python"
            python.parent.mkdir(parents=True)
            python.touch()
        return subprocess.CompletedProcess(command, 0)

    @property
    def installed(self):
        return [Path(line[-1]).relative_to(self.root) for line in self.ran if "pip" in line]


@pytest.fixture
def machine(tmp_path, monkeypatch):
    machine = Machine(tmp_path)
    monkeypatch.setattr(bootstrap, "ROOT", tmp_path)
    monkeypatch.setattr(bootstrap, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(bootstrap, "PYTHON", tmp_path / ".venv" / "bin" / "python")
    monkeypatch.setattr(bootstrap, "STAMP", tmp_path / ".venv" / "requirements.stamp")
    monkeypatch.setattr(bootstrap, "missing_packages", lambda *, proving: [])
    monkeypatch.setattr(subprocess, "run", machine.run)
    return machine


def test_fresh_machine_gets_an_environment_and_what_the_site_runs_with(machine, capsys):
    bootstrap.make_ready(["demo"])
    assert machine.ran[0][1:3] == ["-m", "venv"]
    assert machine.installed == [Path("requirements.txt")]
    assert "Making .venv" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["test", "bench"])
def test_proving_command_also_gets_what_tests_need(machine, command):
    bootstrap.make_ready([command])
    assert machine.installed == [Path("requirements.txt"), Path("tests/requirements.txt")]


def test_second_run_runs_nothing(machine):
    bootstrap.make_ready(["test"])
    machine.ran.clear()
    bootstrap.make_ready(["test"])
    bootstrap.make_ready(["demo"])
    assert machine.ran == []


def test_changed_pin_is_installed_again(machine):
    bootstrap.make_ready(["demo"])
    machine.ran.clear()
    (machine.root / "requirements.txt").write_text("one==1.1\n")
    bootstrap.make_ready(["demo"])
    assert machine.installed == [Path("requirements.txt")]


def test_environment_that_was_swept_away_is_made_again(machine):
    bootstrap.make_ready(["demo"])
    bootstrap.PYTHON.unlink()
    bootstrap.PYTHON.parent.rmdir()
    machine.ran.clear()
    bootstrap.make_ready(["demo"])
    assert machine.installed == [Path("requirements.txt")]


def test_step_that_fails_stops_everything_and_leaves_no_stamp(machine, monkeypatch):
    monkeypatch.setattr(subprocess, "run", lambda c, **_: subprocess.CompletedProcess(c, 1))
    with pytest.raises(SystemExit, match="did not work"):
        bootstrap.make_ready(["demo"])
    assert not bootstrap.STAMP.exists()


def test_missing_debian_package_is_installed_by_root(machine, monkeypatch):
    monkeypatch.setattr(bootstrap, "missing_packages", lambda *, proving: ["qpdf"])
    monkeypatch.setattr("os.geteuid", lambda: 0)
    bootstrap.make_ready(["demo"])
    assert [line[:2] for line in machine.ran[:2]] == [["apt-get", "update"], ["apt-get", "install"]]
    assert "qpdf" in machine.ran[1]


def test_others_are_told_the_one_line_to_type(machine, monkeypatch):
    monkeypatch.setattr(bootstrap, "missing_packages", lambda *, proving: ["qpdf", "exiv2"])
    monkeypatch.setattr("os.geteuid", lambda: 1000)
    with pytest.raises(SystemExit, match=r"apt-get update && sudo apt-get install .* qpdf exiv2$"):
        bootstrap.make_ready(["demo"])
    assert machine.ran == []


def test_tools_of_the_tests_are_asked_for_by_a_proving_command_only(monkeypatch):
    monkeypatch.setattr(bootstrap, "find", lambda tool: None)
    monkeypatch.setattr(bootstrap, "_loads", lambda library: False)
    libraries = set(bootstrap.LIBRARIES.values())
    assert set(bootstrap.missing_packages(proving=False)) == libraries
    assert set(bootstrap.missing_packages(proving=True)) == libraries | {*bootstrap.TOOLS.values()}


def test_library_that_is_nowhere_does_not_load():
    assert not bootstrap._loads("libnowhere-to-be-found.so.0")
    assert bootstrap._loads("libc.so.6")


def test_catalogue_older_than_its_words_is_built(machine):
    words = machine.root / "locale" / "fr" / "LC_MESSAGES" / "django.po"
    words.parent.mkdir(parents=True)
    words.touch()
    bootstrap.make_ready(["demo"])
    assert machine.ran[-1][1:4] == ["-m", "django", "build_translations"]
    words.with_suffix(".mo").touch()
    assert bootstrap.stale_translations() == []


def test_command_starts_again_inside_the_environment(machine, monkeypatch):
    started = []
    bootstrap.make_ready(["demo"])
    monkeypatch.setattr("os.execv", lambda *parts: started.append(parts))
    bootstrap.step_inside(["manage.py", "demo", "--no-serve"])
    python = bootstrap.PYTHON
    assert started == [(python, [str(python), "manage.py", "demo", "--no-serve"])]


def test_command_inside_the_environment_goes_on(monkeypatch):
    monkeypatch.setattr(bootstrap, "VENV", Path(sys.prefix))
    monkeypatch.setattr("os.execv", lambda *_: pytest.fail("it was inside already"))
    bootstrap.step_inside(["manage.py", "demo"])


def test_ready_machine_is_looked_at_in_under_50_ms(machine):
    bootstrap.make_ready(["test"])
    seconds = []
    for _ in range(5):
        start = time.process_time()
        bootstrap.make_ready(["test"])
        seconds.append(time.process_time() - start)
    assert min(seconds) < 0.050


def test_looking_costs_no_slow_import():
    slow = {"subprocess", "importlib.util", "ctypes", "shutil", "django"}
    said = subprocess.run(
        [sys.executable, "-S", "-c", "import sys, relations.bootstrap; print(*sys.modules)"],
        cwd=bootstrap.ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert "relations.bootstrap" in said.stdout.split()
    assert not slow.intersection(said.stdout.split())
