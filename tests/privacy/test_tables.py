"""A register that is older than the site opens for nobody."""

import pytest

from relations.privacy import tables
from tests.apart import TABLES, home_apart

ONE_BY_ONE = """
from django.core.management import call_command
call_command("migrate", verbosity=0)
"""
# What the database itself says of each table: its columns, what binds them, and how many rows.
SHAPE = """
from django.db import connection
said, bounds = connection.introspection, ("columns", "unique", "check", "foreign_key")
with connection.cursor() as cursor:
    for table in said.table_names(cursor):
        for one in sorted(said.get_table_description(cursor, table)):
            print(table, one.name, one.type_code, one.null_ok, one.display_size, one.default)
        # One without a name of its own is counted through by where it stands.
        print(*sorted(
            ("" if key.startswith(("fk_", "__unnamed")) else key)
            + str([one[bound] for bound in bounds])
            for key, one in said.get_constraints(cursor, table).items()
        ), sep="\\n")
        print(table, *cursor.execute(f'SELECT count(*) FROM "{table}"').fetchone())
"""


@pytest.mark.django_db
def test_tables_of_now_stand():
    assert tables.pending() == 0
    tables.stand()


@pytest.mark.django_db
def test_older_tables_are_named_with_what_helps(monkeypatch):
    monkeypatch.setattr(tables, "pending", lambda: 1)
    with pytest.raises(tables.OlderTables, match=r"older than the site. Run: manage\.py update"):
        tables.stand()


def test_made_in_one_go_they_are_what_all_changes_make(django_db_setup, tmp_path_factory):
    """To the last column, constraint and row, on either database."""
    shapes = [
        home_apart(tmp_path_factory.mktemp("home"), made_by).run(SHAPE)
        for made_by in (TABLES, ONE_BY_ONE)
    ]
    assert shapes[0] == shapes[1]
    assert "people_participant code" in shapes[0]
    assert "person_heard_before_standing" in shapes[0]


@pytest.mark.django_db
def test_change_that_this_version_does_not_know_makes_no_table():
    with pytest.raises(KeyError):
        tables.make({("people", "0099_later")})
