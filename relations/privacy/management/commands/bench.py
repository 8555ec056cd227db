"""Measure: ratios and counts are held to their bars, times are printed as guides."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.test.utils import get_runner


class Command(BaseCommand):
    """Run what lies in tests/bench, one after another, and print the table of figures."""

    help = "Measure the site; ratios and counts are the bars, times are guides."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("-k", dest="names", help="only measurements whose names match")
        parser.add_argument("--quick", action="store_true", help="only what takes seconds")
        parser.add_argument("--json", type=Path, metavar="FILE", help="the figures as JSON too")

    def handle(self, *args: Any, **options: Any) -> None:
        runner: Any = get_runner(settings)(marks="bench", names=options["names"])
        runner.options += ["--quick"] * options["quick"]
        # What was promised is asked for where everything is measured.
        runner.options += ["--promised"] * (options["names"] is None)
        if path := options["json"]:
            if not path.absolute().parent.is_dir():
                raise CommandError(f"There is no folder {path.parent} for the figures.")
            runner.options.append(f"--figures={path.absolute()}")
        if runner.run_tests(["tests/bench"]):
            raise CommandError(
                "A ratio or a count missed its bar, or one that was promised was not measured; "
                "the lines above say which."
            )
