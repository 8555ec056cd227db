"""Measure: ratios and counts are held to their bars, times are printed as guides."""

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

    def handle(self, *args: Any, **options: Any) -> None:
        runner = get_runner(settings)(marks="bench", names=options["names"])
        if runner.run_tests(["tests/bench"]):
            raise CommandError("A ratio or a count missed its bar; the lines above say which.")
