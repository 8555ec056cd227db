"""Pictures and papers: a form outlives its use by five years; a wording reader reads words."""

from relations.rights.impact import Clock, Reader
from relations.rights.impact_pictures import TABLES


def test_it_holds_the_rooms_of_pictures_and_papers():
    assert {label.split(".")[0] for label in TABLES} == {"pictures", "consent", "documents"}


def test_clocks_are_those_of_the_design():
    """Source: the design of the job, F-keep."""
    for label in ("consent.Form", "documents.Scan", "consent.Reading", "consent.KeptCopy"):
        assert TABLES[label].clock == Clock.FORM
    # With a form goes what it said; a no stays as long as the person does.
    for label in ("consent.TakenBack", "consent.SpeakerAnswer"):
        assert TABLES[label].clock == Clock.PERSON
    assert TABLES["pictures.Appearance"].clock == Clock.COPIES
    assert TABLES["documents.Upload"].clock == Clock.TASK


def test_wording_reader_reads_words_and_scans_and_nothing_else():
    """Source: the design of the job, section 4."""
    assert {label for label, one in TABLES.items() if Reader.WORDING_READER in one.who} == {
        *("consent.Wording", "consent.Clause", "documents.Scan", "documents.Page"),
        *("pictures.Caption", "pictures.Quote"),
    }
