"""Opens a register that was taken out, on any machine: by its passphrase alone, without a home."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from relations.privacy.opening import ask, guard_process
from relations.rights import opening_out, taking_out_file


class Command(BaseCommand):
    help = (
        "Open a sealed register that artist and keeper took out, and write it into a new folder "
        "as CSV, JSON and vCard. It needs no home: only the passphrase chosen as it was taken."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="the sealed file")
        parser.add_argument("dir", type=Path, help="a new folder, on a disk that is sealed itself")

    def handle(self, *args: Any, **options: Any) -> None:
        guard_process()
        path, folder = options["file"], options["dir"].absolute()
        try:
            with path.open("rb") as file:
                document = taking_out_file.opened(file, ask("Passphrase: ", hidden=True))
            counts = opening_out.write(document, folder)
        except (
            taking_out_file.NotARegister,
            taking_out_file.WrongPassphrase,
            taking_out_file.Damaged,
            opening_out.Taken,
        ) as error:
            raise CommandError(f"Nothing was written. {error}") from error
        except OSError as error:
            raise CommandError(
                f"Nothing was written. {error.strerror}: {error.filename}"
            ) from error
        self.stdout.write(
            f"{counts['people.Participant']} people, {sum(counts.values())} rows in all, lie in "
            f"{folder} now, in clear.\n"
            "Whoever reads this disk reads them: keep it sealed as a whole, and copy nothing on.\n"
            "When you are done, remove all of it:\n\n"
            f"    find '{folder}' -type f -exec shred -u {{}} + && rm -r '{folder}'\n\n"
            "A disk without moving parts may keep what was overwritten: only one that is sealed as "
            "a whole forgets it."
        )
