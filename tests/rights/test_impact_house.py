"""Who signs in and the house itself: the log lasts a year, and secrets are read by nobody."""

from relations.rights.impact import Clock, Reader
from relations.rights.impact_house import TABLES


def test_it_holds_the_house_and_what_comes_with_the_framework():
    rooms = {label.split(".")[0] for label in TABLES}
    assert rooms == {"privacy", "sessions", "contenttypes", "auth"}


def test_log_lasts_a_year_and_is_read_by_artist_and_keeper():
    """Source: the design of the job, F-keep and section 4."""
    log = TABLES["privacy.AccessEntry"]
    assert (log.clock, log.who) == (Clock.LOG, (Reader.ARTIST, Reader.KEEPER))


def test_what_opens_a_sign_in_is_read_by_nobody_else():
    for label in ("privacy.PaperCode", "privacy.KnownDevice", "sessions.Session"):
        assert TABLES[label].who == (Reader.NOBODY,)
    assert TABLES["privacy.CodeDevice"].who == (Reader.OWN,)
