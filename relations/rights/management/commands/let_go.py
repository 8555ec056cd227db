"""Lists what is due to be let go, by clock and code; with --confirm lets all of it go."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from relations.privacy.home import now, today
from relations.privacy.models import Role, User
from relations.privacy.opening import open_home
from relations.privacy.refused import Refused
from relations.rights import letting_go as letting
from relations.rights.letting_words import CLOCKS, said
from relations.rights.words import REFUSED


class Command(BaseCommand):
    help = (
        "List what is due to be let go today: day, clock and code, never a name. What was "
        "postponed is left out until its day."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--confirm", action="store_true", help="let all of it go for good, as the keeper"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        open_home()
        keeper = self._keeper() if options["confirm"] else None
        lines = letting.waiting(today())
        for line in lines:
            one = line.proposal
            words = said(CLOCKS[one.clock])
            self.stdout.write(f"{one.due_on}  {one.clock:<18} {one.called:<9} {words}")
        if not lines:
            self.stdout.write("No clock has run out.")
        elif keeper is None:
            self.stdout.write(f"{len(lines)} due. To let all of it go: manage.py let_go --confirm")
        else:
            self._let_go(lines, keeper)

    def _keeper(self) -> User:
        keeper = User.objects.filter(role=Role.KEEPER, is_active=True).order_by("username").first()
        if keeper is None:
            raise CommandError("Nothing was let go: there is no keeper, and only a keeper may.")
        return keeper

    def _let_go(self, lines: list[letting.Line], keeper: User) -> None:
        gone = 0
        for line in lines:
            one = line.proposal
            # Something else may have gone with a line before.
            still = letting.line_of(one.clock, one.key, today())
            try:
                if still is not None:
                    letting.confirm(line=still, by=keeper, at=now(), on=today())
                gone += 1
            except Refused as refused:
                for code in refused.codes:
                    what = f"Not yet: {one.clock} {one.called}".rstrip()
                    self.stderr.write(f"{what}. {REFUSED[code]}")
        self.stdout.write(
            f"{gone} of {len(lines)} let go. What is erased here also leaves the backups within "
            "90 days."
        )
        if gone < len(lines):
            raise CommandError(f"{len(lines) - gone} could not go yet.")
