"""Prints, uses and rights: the register of uses lasts as long as there are copies."""

from relations.rights.impact import Clock, Reader
from relations.rights.impact_uses import TABLES


def test_it_holds_the_rooms_of_prints_uses_and_rights():
    assert {label.split(".")[0] for label in TABLES} == {"prints", "uses", "rights"}


def test_register_of_uses_lasts_as_long_as_copies_do():
    """Source: the design of the job, F-keep."""
    for label in ("uses.Shown", "uses.UndoLine", "uses.ClearanceSheet", "rights.Misuse"):
        assert TABLES[label].clock == Clock.COPIES


def test_venue_reads_its_sheet_and_nothing_else():
    """Source: the design of the job, section 4."""
    found = {label for label, one in TABLES.items() if Reader.VENUE in one.who}
    assert found == {"uses.ClearanceSheet", "uses.ClearedPicture"}
