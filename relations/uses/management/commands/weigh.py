"""Answers a planned use from the register: what may be shown, and every reason why not."""

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from relations.privacy.home import today
from relations.privacy.opening import open_home, word
from relations.uses import queries
from relations.uses.models import PlannedUse
from relations.uses.words import REASONS


class Command(BaseCommand):
    help = "Weigh a planned use as the register stands today; nothing is kept."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("code", type=word, help="the code of the planned use, such as E1")
        parser.add_argument("--json", action="store_true", help="print the answers as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        open_home()
        plan = PlannedUse.objects.filter(code__iexact=options["code"]).first()
        if plan is None:
            raise CommandError(f"No planned use has the code {options['code']}.")
        found = queries.weighed(plan, today())
        if options["json"]:
            answers = {row.picture: row.spelt for row in found}
            self.stdout.write(json.dumps(answers, ensure_ascii=False, indent=1))
            return
        for row in found:
            self.stdout.write(self.line(row))

    def line(self, row: queries.Weighed) -> str:
        """One picture with its answer and, in words, all that bears on it."""
        answer = row.answer
        said = [f"{row.picture}  {answer.result.value.replace('_', ' ')}"]
        if row.look_again_on:
            said.append(f"  look again on {row.look_again_on.isoformat()}")
        for sign, reasons in (("-", answer.stops), ("~", answer.conditions)):
            said += [
                f"  {sign} {one.about} {one.code}: {REASONS[one.code].reason}" for one in reasons
            ]
        return "\n".join(said)
