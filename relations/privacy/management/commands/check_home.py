"""Checks everything a home holds: register, sealed values, sealed files, access log."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from relations.privacy import clock, damage, durable, heads, log
from relations.privacy.opening import open_home


class Command(BaseCommand):
    help = "Say what in the home is damaged, missing or older than it was, or that all stands."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--let-go",
            action="store_true",
            help="afterwards, when all stands, delete the sealed files that no row refers to",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        open_home()
        faults = damage.faults()
        if faults:
            raise CommandError("\n".join(faults))
        self.stdout.write(
            f"The home stands: register, sealed values and files, {log.head()[0]} lines of the "
            f"access log, compared with {len(heads.read())} heads kept outside."
        )
        self._warn()
        self._unreferenced(let_go=options["let_go"])

    def _warn(self) -> None:
        """What is not damaged yet."""
        if forgets := durable.forgets():
            self.stdout.write(
                f"The database may lose what it acknowledged: set {', '.join(forgets)} right."
            )
        if not durable.checks_pages():
            self.stdout.write(
                "The database server keeps no checksums, so that a flipped bit in what is not "
                "sealed does not show. Its own tool adds them: pg_checksums --enable."
            )
        if last := clock.behind():
            self.stdout.write(f"This computer's clock is behind: the last entry here is of {last}.")

    def _unreferenced(self, *, let_go: bool) -> None:
        found = damage.unreferenced()
        for storage, name in found if let_go else ():
            storage.delete(name)
        if found:
            self.stdout.write(
                f"{len(found)} sealed files that no row refers to, from presses that were cut off, "
                + ("were deleted." if let_go else "may go: check_home --let-go.")
            )
