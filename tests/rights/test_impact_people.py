"""People, introductions, talks and trips: least is kept of those who are nearest to harm."""

from relations.rights.impact import Clock, Reader, Thing
from relations.rights.impact_people import TABLES


def test_it_holds_the_rooms_of_people_talks_and_trips():
    rooms = {label.split(".")[0] for label in TABLES}
    assert rooms == {"people", "meetings", "trips", "referrals"}
    assert {one.thing for one in TABLES.values()} == {
        *(Thing.PERSON, Thing.LINKS, Thing.TALKS, Thing.TRIP, Thing.RIGHTS)
    }
    assert [label for label, one in TABLES.items() if one.thing == Thing.RIGHTS] == [
        "people.ProjectClosed"
    ]


def test_clocks_are_those_of_the_design():
    """Source: the design of the job, F-keep."""
    clocks = {label: one.clock for label, one in TABLES.items()}
    assert clocks["people.PhoneLine"] == Clock.WAYS
    assert clocks["people.Introduction"] == Clock.LINKS
    assert clocks["meetings.Call"] == Clock.RINGS
    assert clocks["meetings.Recording"] == Clock.RECORDING
    assert clocks["people.NeverRing"] == Clock.COPIES


def test_nothing_is_said_to_go_by_a_clock_that_lets_go_of_something_else():
    """Of rings only rings go, of links only who told us (`destroying.rings`, `destroying.link`)."""
    by_clock = {clock: [a for a, one in TABLES.items() if one.clock == clock] for clock in Clock}
    assert by_clock[Clock.RINGS] == ["meetings.Call"]
    assert by_clock[Clock.LINKS] == ["people.Introduction"]
    assert by_clock[Clock.WAYS] == ["people.PhoneLine"]


def test_recordings_and_who_speaks_for_somebody_are_for_the_artist_alone():
    """Source: the design of the job, section 4."""
    for label in ("meetings.Recording", "meetings.Interview", "people.Speaker", "people.RangUs"):
        assert TABLES[label].who == (Reader.ARTIST,)
