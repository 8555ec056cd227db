"""The room of papers, and what it checks at start-up."""

from django.apps import AppConfig
from django.core.checks import register

from . import checks


class Documents(AppConfig):
    """Nothing but the checks is its own."""

    name = "relations.documents"

    def ready(self) -> None:
        """Tell Django of the checks."""
        register(checks.subsetter)
        register(checks.letters)
