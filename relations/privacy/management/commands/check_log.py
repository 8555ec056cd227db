"""Checks the access log from its first line to its last, and against the heads kept outside."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from relations.privacy import heads, ledger, log
from relations.privacy.opening import open_home


class Command(BaseCommand):
    help = "Name the first line of the access log that does not stand, or say that all do."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--prune",
            action="store_true",
            help="afterwards, when all stand, let the lines older than twelve months go",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        open_home()
        broken = log.broken_at()
        seq, mac = log.head()
        if broken is not None:
            raise CommandError(
                f"The access log is broken at line {broken}: it was changed, put in or taken out."
                + (f" The log ends at line {seq}." if broken > seq else "")
            )
        self.stdout.write(f"The access log stands: {seq} lines, head {mac or 'none yet'}.")
        self.stdout.write(f"Compared with {len(heads.read())} heads kept outside the database.")
        # A broken one would have kept the home locked.
        erased, _ = ledger.last()
        self.stdout.write(f"The ledger of what was erased stands: {erased} lines.")
        if options["prune"]:
            gone = log.prune(timezone.now() - log.KEPT)
            self.stdout.write(f"{gone} lines older than twelve months were let go.")
