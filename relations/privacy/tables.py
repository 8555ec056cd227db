"""Whether the register has the tables that this version of the site works with."""

from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from .keys import StaysLocked
from .opening import let_in


class OlderTables(StaysLocked):
    """The register is older than the site: what is asked of it might not be there."""

    code = "older"

    def __init__(self) -> None:
        super().__init__("the register is older than the site. Run: manage.py update")


def pending() -> int:
    """How many changes of tables the register has not seen yet."""
    executor = MigrationExecutor(connection)
    return len(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def bring_up() -> int:
    """Make the changes of tables that are pending, and only then let anybody in; how many."""
    changes = pending()
    call_command("migrate", verbosity=0)
    let_in()
    return changes


def stand() -> None:
    """Raise OlderTables at an opening, before anything is asked of a table that is not there."""
    if pending():
        raise OlderTables
