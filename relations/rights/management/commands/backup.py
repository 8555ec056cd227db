"""Writes a sealed backup of the home into a folder, and reads it back before it counts."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from relations.privacy.month_keys import KEPT
from relations.privacy.opening import open_home, place
from relations.rights import archive, backing_up, shelf


class Command(BaseCommand):
    help = (
        "Write a sealed backup into DIR, also while the site is in use, and read it back. Backups "
        "there that are older than 90 days go, and with them what was erased since."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("dir", type=place, help="a folder on another disk")

    def handle(self, *args: Any, **options: Any) -> None:
        folder: Path = options["dir"].absolute()
        open_home()
        self._announce(folder)
        try:
            made = backing_up.make(folder)
        except shelf.Unfit as error:
            raise CommandError(f"No backup was made. {error}") from error
        except archive.Damaged as error:
            raise CommandError(
                "No backup was made: what was read back from the disk is not what was written. "
                f"{error} Take another disk."
            ) from error
        self._tell(made)

    def _announce(self, folder: Path) -> None:
        old = shelf.old_ones(folder, timezone.localdate()) if folder.is_dir() else []
        if old:
            self.stdout.write(
                f"Older than {KEPT.days} days, to go once a new backup stands: "
                + ", ".join(path.name for path in old)
            )
        self.stdout.write("Writing, then reading back …")

    def _tell(self, made: backing_up.Made) -> None:
        row = made.row
        self.stdout.write(
            f"{made.path.name}: {row.size / shelf.MIB:.1f} MB, "
            f"{sum(row.counts.values())} rows, {row.files} files. Read back whole.\n"
            "Beside it lie the newest key file and, once somebody was erased, the ledger. Keep a\n"
            "copy of these in another place as well: without the key file no backup opens."
        )
        if made.removed:
            self.stdout.write(f"Gone, older than {KEPT.days} days: {', '.join(made.removed)}")
        if made.months:
            self.stdout.write(
                f"The keys of {', '.join(made.months)} were destroyed: no copy of a backup from "
                "then opens any more."
            )
        if made.ahead:
            self.stderr.write(
                f"{made.ahead.name} knows more of the access log than this register: an older "
                "register was put in its place. Run: manage.py check_log"
            )
        for fault in made.faults:
            self.stderr.write(f"{fault}; an earlier backup may have it whole.")
        if made.faults:
            raise CommandError(f"The backup stands, with {len(made.faults)} faults of the home.")
