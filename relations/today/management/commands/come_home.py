"""Brings a travelling set home: takes in what was written in it, then wipes it."""

import argparse
import json
import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.core.serializers.json import DjangoJSONEncoder

from relations.privacy.home import home
from relations.privacy.keys import TooSoon, WrongSecret
from relations.privacy.opening import open_home, place, take_home
from relations.privacy.sets import NoSet
from relations.today import coming_home, outbox


class Command(BaseCommand):
    help = (
        "Take in, once, what was written in the travelling set in FOLDER, then wipe it. The set's "
        "own passphrase is not needed, also after its last day: this register alone opens it then."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("folder", nargs="?", type=place)
        parser.add_argument("--inside", action="store_true", help=argparse.SUPPRESS)

    def handle(self, *args: Any, **options: Any) -> None:
        if options["inside"]:
            self._tell()
            return
        if options["folder"] is None:
            raise CommandError("Say in which folder the set lies.")
        if home().travelling:
            raise CommandError("This is a travelling set itself. It is brought home at home.")
        open_home()
        try:
            came = coming_home.bring(options["folder"].absolute())
        except NoSet as error:
            raise CommandError(f"Nothing came home. {error}") from error
        except outbox.NotNow as error:
            raise CommandError(
                "The clock of this computer is behind the last entry here. Set it right, then try "
                "again: nothing is lost."
            ) from error
        self._say(came)

    def _say(self, came: coming_home.Came) -> None:
        self.stdout.write(
            f"Entries in the set: {came.held}; new here: {came.new}; "
            f"waiting for somebody to look: {came.waiting}."
        )
        if came.was_ended:
            self.stdout.write(
                "An alarm was raised, or the set was given up, before it came home: nothing in it\n"
                "was acted on but a stop. The artist and its writer find the rest in the outbox."
            )
        self.stdout.write(
            "The set is wiped: its keys and files were overwritten and removed. A disk without\n"
            "moving parts may keep old blocks; they are sealed, and their keys are gone from the\n"
            "folder and from this register."
        )

    def _tell(self) -> None:
        """In the set's own process: say what its outbox holds."""
        secret = json.load(sys.stdin)["secret"]
        take_home()
        try:
            said = coming_home.written(secret)
        except (WrongSecret, TooSoon) as error:
            raise CommandError("This register cannot open the set.") from error
        self.stdout.write(json.dumps(said, cls=DjangoJSONEncoder))
