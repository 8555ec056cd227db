"""Run pytest for `python3 manage.py test [paths] [--coverage]`, in processes of their own."""

import os
import subprocess
import sys
import tempfile
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from tests import thresholds
from tests.house.recorder import Recorder

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"


class PytestRunner:
    """What Django asks of a runner; in a fresh process coverage sees every import."""

    def __init__(self, *, verbosity: int = 1, failfast: bool = False, **options: object) -> None:
        said = {"-m": options.get("marks"), "-k": options.get("names")}
        self.options = [f"{option}{value}" for option, value in said.items() if value]
        self.options += ["-v"] * (verbosity > 1) + ["-x"] * failfast
        self.is_measured = bool(options.get("coverage"))

    @staticmethod
    def add_arguments(parser: ArgumentParser) -> None:
        """The few options of pytest that are used by hand or by the gate."""
        parser.add_argument("-k", dest="names", help="only tests whose names match")
        parser.add_argument("-m", dest="marks", help="only tests with these marks")
        parser.add_argument("--coverage", action="store_true", help="measure, and hold the bars")

    def run_tests(self, paths: list[str]) -> int:
        """How many things failed, as Django's command wants it: 0 lets the command end well."""
        if self.is_measured:
            _erase()
        # One database server has one test database; the embedded one is each process's own.
        is_whole = not (paths or self.options or os.environ.get("RELATIONS_DATABASE_URL"))
        if is_whole:
            return self._in_halves()
        failed = _start([*self.options, *paths], self.is_measured).wait()
        return failed + (thresholds.main() if self.is_measured else 0)

    def _in_halves(self) -> int:
        """Everything at once on two cores; what the second says follows what the first said."""
        with tempfile.TemporaryDirectory() as folder:
            aside, heard = Path(folder, "said"), Path(folder, "rendered")
            with aside.open("wb") as file:
                second = half("rooms", heard, self.is_measured, stdout=file, stderr=file)
                failed = half("site", heard, self.is_measured).wait() + second.wait()
            print(aside.read_text("utf-8", "replace"), flush=True)
            return failed + reached(heard, self.is_measured)


def half(name: str, heard: Path, is_measured: bool, **how: Any) -> subprocess.Popen[bytes]:
    """Begin the tests of the `rooms`, or of the `site`; `heard` gets each template rendered.

    Measured is what the rooms' own tests reach: a walk through the whole site passes by nearly
    every line, and says of none that its outcome was looked at.
    """
    return _start([f"--half={name}", f"--rendered={heard}"], is_measured and name == "rooms", **how)


def reached(heard: Path, is_measured: bool) -> int:
    """Say which templates neither half rendered and which bars are missed, and count them."""
    recorder = Recorder()
    recorder.rendered.update(heard.read_text("utf-8").splitlines())
    unseen = recorder.never_rendered(TEMPLATES)
    if unseen:
        print("Templates no test rendered:", *unseen, sep="\n", flush=True)
    return len(unseen) + (thresholds.main() if is_measured else 0)


def _erase() -> None:
    subprocess.run([sys.executable, "-m", "coverage", "erase"], check=True)


def _start(options: list[str], is_measured: bool, **how: Any) -> subprocess.Popen[bytes]:
    settings = {key: said for key, said in os.environ.items() if key != "DJANGO_SETTINGS_MODULE"}
    coverage = ["-m", "coverage", "run"] if is_measured else []
    command = [sys.executable, *coverage, "-m", "pytest", *options]
    return subprocess.Popen(command, env=settings, **how)


def main(part: str, heard: str) -> int:
    """One part of a whole measured run, for the gate's own queue: rooms, site or reached."""
    if part == "reached":
        return reached(Path(heard), True)
    if part == "rooms":
        _erase()
    return half(part, Path(heard), True).wait()


if __name__ == "__main__":
    sys.exit(bool(main(*sys.argv[1:])))
