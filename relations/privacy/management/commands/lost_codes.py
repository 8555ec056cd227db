"""Lets somebody in again whose telephone and paper codes are both gone, at the machine itself."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from relations.privacy import actions, codes
from relations.privacy.models import User
from relations.privacy.opening import open_home, word
from relations.privacy.refused import Refused


class Command(BaseCommand):
    help = (
        "Open the home, end what somebody has open, and give one new code in place of all codes "
        "of theirs. With it and their password they sign in and set up a new device. Artist and "
        "keeper are told on their pages."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", type=word, help="the name they sign in with")

    def handle(self, *args: Any, **options: Any) -> None:
        open_home(typed=True)
        name = User.normalize_username(options["name"])
        user = User.objects.filter(username=name, is_active=True).first()
        if user is None:
            raise CommandError("Nobody signs in with this name.")
        try:
            code = actions.lose_codes(user=user, by=None)
        except Refused as refused:
            raise CommandError("They sign in without codes, so none can be lost.") from refused
        self.stdout.write(
            f"\nOne code, shown this once:\n\n    {codes.in_groups(code)}\n\n"
            "It opens once, after the password. Artist and keeper are told on their pages."
        )
