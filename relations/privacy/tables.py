"""Whether the register has the tables that this version of the site works with."""

from collections.abc import Set

from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder
from django.db.migrations.state import StateApps

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


def make(wanted: Set[tuple[str, str]] | None = None) -> StateApps:
    """Make the tables in an empty register as those changes leave them (all of them); their models.

    In one go and whole or not at all, many times faster than change by change. The changes are
    noted as made; what one of them does with rows is left out, there being none. Raise KeyError for
    a change that this version of the site does not know.
    """
    executor = MigrationExecutor(connection)
    graph = executor.loader.graph
    changes = set(graph.nodes) if wanted is None else wanted
    last = [
        key
        for key in sorted(changes)
        if not any(
            child.key in changes and child.key[0] == key[0]
            for child in graph.node_map[key].children
        )
    ]
    found = executor.loader.project_state(last).apps
    executor.recorder.ensure_schema()
    with connection.schema_editor() as editor:
        for model in found.get_models():
            editor.create_model(model)
        for key in sorted(changes):
            executor.recorder.record_applied(*key)
    return found


def make_all() -> None:
    """Make all tables of now in an empty register, and what belongs to every table."""
    make()
    call_command("migrate", verbosity=0)


def bring_up() -> int:
    """Make the changes of tables that are pending, and only then let anybody in; how many."""
    changes = pending()
    if MigrationRecorder(connection).applied_migrations():
        call_command("migrate", verbosity=0)
    else:
        make_all()
    let_in()
    return changes


def stand() -> None:
    """Raise OlderTables at an opening, before anything is asked of a table that is not there."""
    if pending():
        raise OlderTables
