"""Prints blank forms for a trip into one PDF, in order of need, and signs them out to it."""

import os
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from relations.consent import actions, blanks, needs
from relations.consent.refusals import REFUSALS
from relations.consent.values import FormKind
from relations.meetings.models import Trip
from relations.privacy.home import now
from relations.privacy.models import Role, User
from relations.privacy.opening import open_home, place, word
from relations.privacy.refused import Refused

WHY = {
    "unread": "wording not read",
    "no_wording": "there is no wording in it",
    "language_unknown": "the language is not known",
}


class Command(BaseCommand):
    help = (
        "Print COUNT blank forms for a trip into FILE, each under a number of its own, and sign "
        "them out. They are shared out among LANGUAGES by the people expected in each; without "
        "LANGUAGES and COUNT the trip gets what it still needs."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--languages", nargs="+", type=word, default=[], help="such as: fr ar")
        parser.add_argument("--count", type=int, help="how many in all")
        parser.add_argument("--trip", type=word, required=True, help="the trip's code, as T7")
        parser.add_argument("--out", type=place, required=True, help="the PDF; it must not exist")
        parser.add_argument("--beside", type=word, default="", help="the second language, as fr")
        parser.add_argument("--kind", choices=list(FormKind), default=FormKind.ADULT)
        parser.add_argument("--heading", action="store_true", help="a neutral heading at the top")
        parser.add_argument("--carrier", type=word, help="who carries them; else the assistant")

    def handle(self, *args: Any, **options: Any) -> None:
        file: Path = options["out"].absolute()
        if file.exists():
            raise CommandError(f"{file} is there already. Name another file.")
        if not file.parent.is_dir():
            raise CommandError(f"{file.parent} is no folder.")
        open_home()
        trip = Trip.objects.filter(code__iexact=options["trip"]).first()
        if trip is None:
            raise CommandError(f"No trip has the code {options['trip']}.")
        counts = self._counts(trip, options["languages"], options["count"])
        carrier = self._carrier(options["carrier"])
        try:
            # No form is signed out whose paper does not lie on the disk.
            with transaction.atomic():
                forms = actions.print_blanks(
                    trip=trip,
                    counts=counts,
                    second=options["beside"],
                    kind=FormKind(options["kind"]),
                    has_heading=options["heading"],
                    carrier=carrier,
                    by=carrier,
                    at=now(),
                )
                _write(file, blanks.pack(forms))
        except Refused as refused:
            raise CommandError(" ".join(str(REFUSALS[code]) for code in refused.codes)) from refused
        except OSError as error:
            raise CommandError(f"{file} could not be written: {error.strerror}.") from error
        said = ", ".join(f"{tag} {count}" for tag, count in counts.items() if count)
        first, last = (form.sheet.serial for form in (forms[0], forms[-1]))
        self.stdout.write(
            f"{len(forms)} blanks ({said}) from {first} to {last} in {file.name}, in order of "
            f"need, signed out to {trip.code} with {carrier.called}."
        )

    def _counts(self, trip: Trip, languages: list[str], count: int | None) -> dict[str, int]:
        """How many in each language; what is refused is said, and stops where it was asked for."""
        found = {need.language: need for need in blanks.proposed(trip)}
        tags = dict.fromkeys([*found, *languages])
        refused = {tag: why for tag in tags if (why := blanks.why_not(tag))}
        said = [
            f"{tag or '?'} refused: {WHY[why]}"
            for tag, why in refused.items()
            if tag in languages or not languages
        ]
        if languages and said:
            raise CommandError("; ".join(said))
        for line in said:
            self.stderr.write(line)
        wanted = {tag: need for tag, need in found.items() if not need.refused}
        if languages:
            wanted = {tag: wanted[tag] for tag in dict.fromkeys(languages)}
        if count is None:
            return {tag: need.missing for tag, need in wanted.items()}
        expected = {tag: need.expected for tag, need in wanted.items()}
        return needs.share(max(count, 0), expected) if wanted else {}

    def _carrier(self, username: str | None) -> User:
        hands = User.objects.in_role(Role.ASSISTANT, Role.ARTIST)
        if username:
            found = hands.filter(username=username).first()
        else:
            found = hands.filter(role=Role.ASSISTANT).first() or hands.first()
        if found is None:
            raise CommandError("There is nobody who could carry them. Name an account: --carrier")
        return found


def _write(file: Path, content: bytes) -> None:
    """Write the whole file, readable by its owner alone, never over another one."""
    with os.fdopen(os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as out:
        try:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        except OSError:
            file.unlink(missing_ok=True)
            raise
