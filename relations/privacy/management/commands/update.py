"""Brings the register of a home to the tables that this version of the site works with."""

from typing import Any

from django.core.management.base import BaseCommand

from relations.privacy import tables
from relations.privacy.opening import open_home, take_home


class Command(BaseCommand):
    help = (
        "After a new version of the site was put in place: change the register's tables. The site "
        "must not run. Make a backup with the version before; the changes are made whole or not."
    )
    # Of the checks, those that say whether every stored field has its reason: before any table.
    requires_system_checks = ("kept",)

    def handle(self, *args: Any, **options: Any) -> None:
        take_home()
        open_home(older_too=True)
        changes = tables.bring_up()
        self.stdout.write(f"The register is as the site needs it; changes made: {changes}.")
