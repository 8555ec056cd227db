"""Run pytest for `python3 manage.py test [paths] [--coverage]`, in a process of its own."""

import os
import subprocess
import sys
from argparse import ArgumentParser

from tests import thresholds


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
        settings = {
            key: said for key, said in os.environ.items() if key != "DJANGO_SETTINGS_MODULE"
        }
        measured = ["-m", "coverage", "run"] if self.is_measured else []
        if self.is_measured:
            subprocess.run([sys.executable, "-m", "coverage", "erase"], check=True)
        command = [sys.executable, *measured, "-m", "pytest", *self.options, *paths]
        failed = subprocess.run(command, env=settings, check=False).returncode
        below = thresholds.main() if self.is_measured else 0
        return failed or below
