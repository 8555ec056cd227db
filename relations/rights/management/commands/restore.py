"""Makes a home again from a backup: into an empty one only, and read whole before it begins."""

from datetime import timedelta
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from relations.privacy.crypt import SealBroken
from relations.privacy.home import home
from relations.privacy.keys import StaysLocked
from relations.privacy.opening import open_with, place, take_new_home
from relations.rights import archive, restoring, shelf

THINGS = {
    "people.participant": "people",
    "pictures.picture": "pictures",
    "consent.form": "forms",
    "prints.print": "prints",
    "privacy.accessentry": "lines of the access log",
    "privacy.user": "who may sign in",
}


class Command(BaseCommand):
    help = (
        "Restore a backup into an empty home. Asks for the passphrase, the keeper's or the "
        "recovery code. Who was erased since the backup is erased again before anybody signs in."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=place, help="the backup")
        parser.add_argument("--keys", type=place, help="the newest key file, if not beside it")
        parser.add_argument("--ledger", type=place, help="the newest ledger, if not beside it")

    def handle(self, *args: Any, **options: Any) -> None:
        file = options["file"].absolute()
        if not file.is_file():
            raise CommandError(f"There is no file {file}.")
        keys = (options["keys"] or file.with_name("keys.json")).absolute()
        ledger = (options["ledger"] or file.with_name("ledger")).absolute()
        for path, wanted in ((file, True), (keys, True), (ledger, bool(options["ledger"]))):
            if wanted and not path.is_file():
                raise CommandError(f"There is no file {path}.")
        try:
            restoring.refuse_what_is_there()
            take_new_home()
            restoring.refuse_what_is_there()
            self._restore(file, keys, ledger)
        except restoring.Unrestorable as error:
            raise CommandError(f"Nothing was restored. {error}") from error
        except StaysLocked as error:
            raise CommandError(f"All is restored, and stays locked: {error}.") from error
        except archive.NotABackup as error:
            raise CommandError(f"Nothing was restored. {file} is {error}.") from error
        except (archive.Damaged, SealBroken) as error:
            nothing = (
                "Nothing was restored" if not restoring.is_half_done() else "It is not finished"
            )
            raise CommandError(f"{nothing}. The backup is damaged. {error}") from error

    def _restore(self, file: Path, keys: Path, ledger: Path) -> None:
        open_with(keys)
        key = restoring.key_of(file, keys)
        self.stdout.write("Reading the whole backup …")
        manifest, files = archive.verify(file, key)
        if restoring.is_half_done():
            self.stdout.write("A restore was begun here and not finished. It begins anew.")
        self.stdout.write("It is whole. Restoring …")
        self._tell(file, files, restoring.restore(file, keys, ledger, key, manifest))

    def _tell(self, file: Path, files: int, made: restoring.Restored) -> None:
        said = made.manifest
        age = (timezone.now() - said.moment) // timedelta(days=1)
        self.stdout.write(
            f"\nThe home at {home().root} is restored, as of "
            f"{timezone.localtime(said.moment):%Y-%m-%d %H:%M}, {age} days ago.\n"
            "What was noted since then is not in it.\n"
        )
        for label, thing in THINGS.items():
            self._count(thing, made.rows[label], said.counts[label])
        self._count("rows in all", sum(made.rows.values()), sum(said.counts.values()))
        self._count("files", made.files, files)
        self.stdout.write(
            f"The backup's access log ends at line {said.log[0]}, head {said.log[1]}."
        )
        if not made.faults:
            self.stdout.write("The log of the restored home stands, and everything in it opens.")
        newer = [path for path in shelf.backups(file.parent) if shelf.begun(path) > said.moment]
        if newer:
            self.stdout.write(f"Beside it lies a newer backup: {newer[-1].name}")
        for fault in made.faults:
            self.stderr.write(f"This was so in the backup already: {fault}")
        self.stdout.write("Nobody is signed in. Run: manage.py serve")

    def _count(self, thing: str, there: int, said: int) -> None:
        self.stdout.write(f"{thing:<24}{there:>9} of {said}")
