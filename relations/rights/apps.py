"""The room of rights, and what it checks at start-up."""

from django.apps import AppConfig
from django.core.checks import register

from . import checks


class Rights(AppConfig):
    """Nothing but the checks is its own."""

    name = "relations.rights"

    def ready(self) -> None:
        """Tell Django of the checks."""
        register(checks.impact, checks.KEPT)
