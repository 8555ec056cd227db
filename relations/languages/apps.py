"""The room of languages, and what it checks at start-up."""

from django.apps import AppConfig
from django.core.checks import register

from . import checks


class Languages(AppConfig):
    """Nothing but the checks is its own."""

    name = "relations.languages"

    def ready(self) -> None:
        """Tell Django of the checks."""
        register(checks.almanac_of_today)
        register(checks.catalogues)
