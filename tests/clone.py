"""The project a second time, in a folder of its own: its commands run there and harm nothing."""

import atexit
import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
NOT_COPIED = shutil.ignore_patterns("var", "__pycache__", ".*", "tests")
# What would let a command of the copy reach back: the tests' own home, day and measuring.
OURS = ("RELATIONS_", "COVERAGE_", "COV_", "DJANGO_", "PYTEST_")


@cache
def compiled() -> dict[str, str]:
    """Where processes of the tests keep what Python compiles: nothing of it is left behind.

    Compiling the site takes a process half a second; the first one does it for all.
    """
    folder = os.environ.get("PYTHONPYCACHEPREFIX")
    if not folder:
        folder = tempfile.mkdtemp(prefix="relations-compiled-")
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return {"PYTHONPYCACHEPREFIX": folder, "PYTHONDONTWRITEBYTECODE": ""}


@dataclass(frozen=True)
class Clone:
    """A copy of the project at `root`, without homes; it shares the environment only."""

    root: Path
    settings: dict[str, str] = field(default_factory=dict)

    @property
    def rehearsal(self) -> Path:
        """Where `demo` keeps the rehearsal home."""
        return self.root / "var" / "rehearsal"

    def command(self, *arguments: str) -> list[str]:
        """The line that runs a command of the copy."""
        return [sys.executable, str(self.root / "manage.py"), *arguments]

    def environment(self, **more: str) -> dict[str, str]:
        """This process's environment, without what belongs to its tests."""
        plain = {key: said for key, said in os.environ.items() if not key.startswith(OURS)}
        return plain | compiled() | self.settings | more

    def run(self, *arguments: str, typed: str = "", **more: str) -> subprocess.CompletedProcess:
        """Run a command to its end, with `typed` on its standard input."""
        return subprocess.run(
            self.command(*arguments),
            cwd=self.root,
            env=self.environment(**more),
            input=typed,
            capture_output=True,
            text=True,
            check=False,
        )

    def read(self, script: str, **more: str) -> str:
        """What a script prints that runs inside the copy, its settings known and nothing open."""
        done = subprocess.run(
            [sys.executable, "-c", script],
            cwd=self.root,
            env=self.environment(DJANGO_SETTINGS_MODULE="relations.settings", **more),
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode:
            raise AssertionError(done.stderr)
        return done.stdout

    def start(self, *arguments: str, **more: str) -> subprocess.Popen:
        """Start a command that goes on, such as one that serves."""
        return subprocess.Popen(
            self.command(*arguments),
            cwd=self.root,
            env=self.environment(**more),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )


def clone(folder: Path) -> Clone:
    """Copy what the two commands of the README need into `folder`, which must not exist yet."""
    shutil.copytree(ROOT, folder, ignore=NOT_COPIED)
    shutil.copytree(ROOT / "tests", folder / "tests", ignore=shutil.ignore_patterns("__pycache__"))
    (folder / ".venv").symlink_to(sys.prefix, target_is_directory=True)
    return Clone(folder)
