"""Makes a travelling set of one trip in a folder."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from relations.meetings.models import Trip
from relations.meetings.travelling import end_all
from relations.meetings.values import SetEnd
from relations.privacy import sets
from relations.privacy.home import home
from relations.privacy.models import Role, User
from relations.privacy.opening import SHORTEST, ask, ask_passphrase, open_home, place, same, word
from relations.privacy.refused import Refused
from relations.trips import travelling

REFUSED = {
    "trip_over": "This trip is over.",
    "set_is_out": "A set of this trip is out already. Bring it home: manage.py come_home FOLDER\n"
    "Was it lost or taken? Raise an alarm. Did it never come about? travel TRIP --give-up",
}


class Command(BaseCommand):
    help = (
        "Make a set for one trip in an empty folder: its people, meetings, prints and blanks, no "
        "introductions, no past. It is read only but for the outbox and ends after the trip's last "
        "day. Then: RELATIONS_HOME=FOLDER manage.py serve; and at home: manage.py come_home FOLDER"
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("trip", nargs="?", type=word, help="its code, as T7")
        parser.add_argument("folder", nargs="?", type=place)
        parser.add_argument("--user", type=word, help="the assistant who carries it, if several")
        parser.add_argument(
            "--give-up", action="store_true", help="end a set that never came about"
        )
        parser.add_argument("--inside", action="store_true", help=argparse.SUPPRESS)

    def handle(self, *args: Any, **options: Any) -> None:
        if options["inside"]:
            self._fill()
            return
        if home().travelling:
            raise CommandError("This is a travelling set itself. Make one at home.")
        open_home()
        trip = Trip.objects.filter(code=options["trip"]).first()
        if trip is None:
            raise CommandError("There is no such trip. Type its code, as T7.")
        if options["give_up"]:
            ended = end_all(at=timezone.now(), how=SetEnd.GIVEN_UP, trip=trip)
            self.stdout.write(f"Sets given up: {ended}. What is in them acts no more by itself.")
            return
        self._make(trip, self._user(options["user"]), self._folder(options["folder"]))

    def _folder(self, folder: Path | None) -> Path:
        if folder is None:
            raise CommandError("Say into which empty folder.")
        root = folder.absolute()
        if root.exists() and (not root.is_dir() or any(root.iterdir())):
            raise CommandError(f"{root} is not empty; a set is made in an empty folder.")
        return root

    def _user(self, username: str | None) -> User:
        """The assistant who carries it: the one who is named, or the only one there is."""
        found = User.objects.in_role(Role.ASSISTANT)
        if username:
            found = found.filter(username=username)
        if len(found) != 1:
            raise CommandError("Say which assistant carries it: --user NAME")
        return found[0]

    def _make(self, trip: Trip, user: User, root: Path) -> None:
        self.stdout.write(f"A passphrase of its own opens the set: {SHORTEST} characters or more.")
        passphrase = ask_passphrase("Passphrase of the set")
        self.stdout.write(
            f"A password with which {user.username} signs in to it, not the one here."
        )
        password = ask("Password: ", hidden=True)
        try:
            validate_password(password)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        if user.check_password(password):
            raise CommandError("This is the password of the register. Choose another.")
        same(password, ask("The same again: ", hidden=True))
        said = {"passphrase": passphrase, "password": password}
        try:
            row = travelling.make(trip=trip, made_for=user, root=root, at=timezone.now(), **said)
        except Refused as refused:
            raise CommandError(REFUSED[refused.codes[0]]) from refused
        except sets.NoSet as error:
            raise CommandError(f"The set was not made: {error}") from error
        self.stdout.write(
            f"The set of {trip.code} is made. Its last day is {row.last_day}; from the day after\n"
            f"it opens no more. To use it: RELATIONS_HOME={root} python3 manage.py serve\n"
            "Off line nobody can wipe it from afar. Is it lost or taken: raise an alarm."
        )

    def _fill(self) -> None:
        """In the set's own process: make its home and put in what the register gave."""
        said = json.load(sys.stdin)
        try:
            sets.make(
                said["statement"], said["passphrase"], said["secret"], lambda: travelling.fill(said)
            )
        except FileExistsError as error:
            raise CommandError(f"{home().root} is not empty.") from error
        self.stdout.write("{}")
