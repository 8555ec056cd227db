"""Gives the artist or the keeper a new passphrase, or the home a new recovery code."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from relations.privacy import log
from relations.privacy.home import home
from relations.privacy.keys import TakenSecret, keyring
from relations.privacy.opening import ask_passphrase, open_home, show_recovery_code

NEW = {"passphrase": "New passphrase", "keeper": "New passphrase of the keeper"}


class Command(BaseCommand):
    help = (
        "Open the home with any passphrase or the recovery code, then change one of them. "
        "Old copies of the key file still open with the old one: against those, rekey."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--slot", choices=["passphrase", "keeper", "recovery"], default="passphrase"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if home().is_rehearsal:
            raise CommandError("These keys open themselves: a rehearsal has no passphrase.")
        slot = options["slot"]
        open_home(typed=True)
        new = ask_passphrase(NEW[slot]) if slot in NEW else show_recovery_code(self.stdout.write)
        try:
            keyring.rewrap(slot, new)
        except TakenSecret as error:
            raise CommandError("This one is in use already. Choose another.") from error
        log.note(None, "rewrapped", f"privacy.slot.{slot}", None)
        self.stdout.write(
            "Changed. Old copies of the key file still open with the old one. If one may be in\n"
            "wrong hands, run: manage.py rekey"
        )
