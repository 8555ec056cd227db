"""Build the .mo beside every .po of locale/, and refuse a catalogue with a defect."""

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from relations.languages import catalogues


class Command(BaseCommand):
    help = "Build the translations of the site out of locale/<lang>/LC_MESSAGES/django.po."
    requires_system_checks = ()

    def handle(self, *args: Any, **options: Any) -> None:
        for folder in map(Path, settings.LOCALE_PATHS):
            for path in sorted(folder.glob("*/LC_MESSAGES/django.po")):
                count = self.build(path)
                if options["verbosity"] > 0:
                    self.stdout.write(f"{path.parts[-3]}: {count} strings")

    def build(self, path: Path) -> int:
        """Write the .mo of one .po and count its strings; stop with every defect named."""
        try:
            return catalogues.build(path)
        except ValueError as error:
            lines = "\n".join(f"  {line}" for line in str(error).splitlines())
            raise CommandError(f"{path.parts[-3]} has defects:\n{lines}") from error
