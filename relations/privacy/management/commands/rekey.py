"""Puts everything under a new master key, so that old copies of the key file open nothing new."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from relations.privacy import rekeying
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import same_typing
from relations.privacy.opening import (
    ask_passphrase,
    open_home,
    show_recovery_code,
    take_home,
)


class Command(BaseCommand):
    help = (
        "Make a new master key and put register, sealed values and files under it. The site must "
        "not run. After a cut of power, run it again: it goes on where it was."
    )
    requires_system_checks = ()

    def handle(self, *args: Any, **options: Any) -> None:
        if home().is_rehearsal:
            raise CommandError("These keys open themselves: a rehearsal is not rekeyed.")
        if home().travelling:
            raise CommandError("A travelling set keeps its keys until its last day.")
        take_home()
        open_home(typed=True, halfway_too=True)
        if keyring.is_halfway:
            self.stdout.write("A rekey was begun already; it goes on with the new passphrases.")
        else:
            self._begin()
        rekeying.finish()
        self.stdout.write(
            "Everything is under the new key. Earlier copies of the home, such as backups, still\n"
            "open with the passphrases and the code of before. Make a backup now: it puts the new\n"
            "key file beside the older ones, which it opens too."
        )

    def _begin(self) -> None:
        self.stdout.write("Looking whether everything opens …")
        if faults := rekeying.faults():
            told = "\n".join(faults)
            raise CommandError(f"Nothing was changed, because this does not open:\n{told}")
        new = ask_passphrase("New passphrase")
        self.stdout.write("The keeper's own, typed by the keeper. Left empty, the slot is gone.")
        keepers = ask_passphrase("New passphrase of the keeper", may_be_empty=True)
        if same_typing(keepers) == same_typing(new):
            raise CommandError("The keeper needs another passphrase than the artist's.")
        said = {"passphrase": new} | ({"keeper": keepers} if keepers else {})
        said["recovery"] = show_recovery_code(self.stdout.write)
        self.stdout.write("Changing everything …")
        rekeying.begin(said)
