"""What is printed of each table: its seals are those of the models, its erasing that of erasing."""

import pytest

from relations.rights import impact_rows
from relations.rights.impact_table import LISTED
from tests.house.test_sealed import SEALED


@pytest.fixture
def rows():
    return {row.label: row for part in impact_rows.parts() for row in part.rows}


def test_every_table_stands_under_one_heading(rows):
    assert rows.keys() == LISTED.keys()
    assert sum(len(part.rows) for part in impact_rows.parts()) == len(LISTED)
    assert str(impact_rows.parts()[0].heading) == "A person, and how to reach them"


def test_exactly_the_sealed_fields_are_said_to_be_sealed(rows):
    found = {
        f"{label}.{column.name}"
        for label, row in rows.items()
        for column in row.columns
        if column.seal == "sealed"
    }
    assert found == SEALED


def test_fields_that_name_a_sealed_file_are_marked(rows, settings):
    found = {
        (label, column.name)
        for label, row in rows.items()
        for column in row.columns
        if column.seal == "file"
    }
    assert found == {one for ones in settings.RELATIONS_SEALED_FILES.values() for one in ones}


def test_what_an_erasing_does_is_said_as_it_is_done(rows):
    assert str(rows["people.Name"].on_erasing) == "goes"
    assert str(rows["pictures.Caption"].on_erasing) == "what is theirs is blanked"
    assert str(rows["sessions.Session"].on_erasing) == "stays"


def test_row_says_how_long_and_who(rows):
    row = rows["people.PhoneLine"]
    assert str(row.how_long) == "While any yes of theirs stands, then 24 months"
    assert [str(one) for one in row.who] == ["artist", "assistant, of those in sight"]
    notes = {column.name: str(column.note) for column in row.columns}
    assert notes["mark"] == "finds the number again without holding it"
    assert notes["zone"] == ""
