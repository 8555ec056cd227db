"""The project closes by presses of somebody named, and only when nothing lacks its ending."""

from datetime import date

import pytest

from relations.people.models import Participant, Speaker
from relations.pictures.models import Picture, Sitting
from relations.prints import actions as prints
from relations.prints import endings
from relations.prints.models import Print, Promise
from relations.prints.rules import ENDS, PrintState
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.rights import ending, people_ending, queries
from relations.rights.closing import Ending, Lack
from relations.rights.models import Closing
from relations.rights.models import Ending as PersonEnded
from tests import cast
from tests.cast import days
from tests.prints.frames import made, picture
from tests.rows import make

pytestmark = pytest.mark.django_db


def begin(on=None):
    return ending.begin(on=on or days(0), by=cast.artist())


def close(on=None):
    """Close where everybody has an ending; what is said of people has tests of its own."""
    for person in Participant.objects.filter(ending=None):
        make(PersonEnded, person=person)
    return ending.close(on=on or days(0), by=cast.artist())


def end(row, how="destroyed", **said):
    usual = {"decided_by": "Ines", "why": "moved, no word since 2024", "on": days(0)}
    when = {"by": cast.artist(), "at": cast.moment()}
    return ending.end_print(print=row, ending=how, **{**usual, **when, **said})


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def lacks():
    return [one.lack for one in queries.lacking(cast.artist(), days(0))]


def log():
    return [entry.verb for entry in AccessEntry.objects.filter(kind=ending.KIND).order_by("seq")]


def test_nothing_closes_by_itself():
    made(cast.danuta(), state="acknowledged")
    assert (lacks(), queries.is_closing(), queries.current_closing()) == ([], False, None)
    assert refused(close) == ("not_begun",)
    assert not Closing.objects.exists()


def test_last_press_waits_for_every_print_and_every_promise():
    kept = made(cast.danuta(), state="kept_for_them")
    made(cast.marcel(), "K01", state="acknowledged")
    promise = prints.promise(person=cast.marcel(), kind="book_copy", on=days(-9), by=cast.artist())
    begin()
    assert lacks() == [Lack.OPEN, Lack.DECIDE]
    assert refused(close) == ("still_lacking",)
    end(kept)
    assert (lacks(), refused(close)) == ([Lack.OPEN], ("still_lacking",))
    said = {"how": "let_off", "why": "", "on": days(0), "by": cast.artist(), "at": cast.moment()}
    endings.end_promise(promise=promise, **said)
    row = close()
    assert (row.closed_on, row.closed_by) == (days(0), cast.artist())
    assert queries.endings(cast.artist()) == {
        Ending.ACKNOWLEDGED: 1,
        Ending.DESTROYED: 1,
        Ending.LET_OFF: 1,
    }
    assert log() == ["began", "closed"]


def test_whoever_sat_and_is_owed_no_print_yet_is_not_forgotten():
    picture("G01", cast.marcel(), cast.danuta())
    sat = make(Sitting, on=days(-40))
    sat.sitters.add(cast.rachid())
    make(Sitting, on=days(3)).sitters.add(cast.bruno())
    begin()
    found = queries.lacking(cast.artist(), days(0))
    assert [(one.person.code, one.since, one.lack) for one in found] == [
        ("17", days(-40), Lack.NOT_OWED_YET),
        ("01", days(-30), Lack.NOT_OWED_YET),
        ("12", days(-30), Lack.NOT_OWED_YET),
    ]
    assert not any(one.may_be_decided for one in found)
    assert refused(close) == ("still_lacking",)


def test_presses_made_twice_are_stored_once():
    first = begin()
    assert begin(days(1)) == first
    assert close() == close(days(1))
    assert Closing.objects.get().closed_on == days(0)
    ending.call_off(on=days(2), by=cast.artist())
    ending.call_off(on=days(3), by=cast.artist())
    assert Closing.objects.get().called_off_on == days(2)
    assert log() == ["began", "closed", "called_off"]


def test_no_day_comes_before_it_was_begun():
    begin()
    assert refused(close, days(-1)) == ("before_it_began",)
    assert refused(ending.call_off, on=days(-1), by=cast.artist()) == ("before_it_began",)


def test_prints_are_closed_out_only_between_the_first_press_and_the_last():
    row = made(cast.danuta(), state="kept_for_them")
    assert refused(end, row) == ("closing",)
    begin()
    ending.call_off(on=days(0), by=cast.artist())
    assert refused(end, row) == ("closing",)
    begin()
    assert end(row).state == "closed_out"
    close()
    assert refused(end, made(cast.marcel(), "K01", state="lost"), "") == ("closing",)


def test_who_decided_and_why_are_kept_with_the_day():
    begin()
    end(made(cast.danuta(), state="kept_for_them"), decided_by="her brother", on=days(-1))
    (step,) = queries.closed_out(cast.artist())
    assert (step.print.closed_how, step.print.decided_by) == ("destroyed", "her brother")
    assert (step.on, step.reason, step.by) == (
        *(days(-1), "moved, no word since 2024"),
        cast.artist(),
    )


def test_a_print_goes_to_the_speaker_only_where_somebody_speaks_for_them():
    row = made(cast.rachid(), state="kept_for_them")
    begin()
    assert refused(end, row, "given_to_speaker") == ("no_speaker",)
    make(Speaker, person=cast.rachid(), speaker=cast.marcel())
    assert end(row, "given_to_speaker").closed_how == "given_to_speaker"


def test_a_print_goes_to_no_archive_that_nobody_said_yes_to():
    """Unknown is no (L2); a print of no picture cannot be weighed at all."""
    begin()
    assert refused(end, made(cast.danuta(), state="kept_for_them"), "archive") == (
        "archive_not_agreed",
    )
    none = made(cast.marcel(), "", state="kept_for_them")
    assert refused(end, none, "archive") == ("archive_not_agreed",)


@pytest.mark.usefixtures("rehearsal")
def test_in_the_demo_an_archive_takes_what_its_forms_allow_and_no_more():
    """36 said yes to all uses; 27 took everything back; 11 said yes to a wall in France alone."""
    agreed = {
        code: people_ending.is_agreed_to_archive(Picture.objects.get(code=code), cast.TODAY, ["FR"])
        for code in ("K36b", "K27", "K11")
    }
    assert agreed == {"K36b": True, "K27": False, "K11": False}


@pytest.mark.usefixtures("rehearsal")
def test_in_the_demo_every_print_that_has_no_ending_is_named():
    """Of 40 rows 17 are acknowledged and one is not wanted; nobody who sat is left out."""
    begin()
    found = [one for one in queries.lacking(cast.artist(), cast.TODAY) if one.print]
    ended = Print.objects.filter(state__in=ENDS).count()
    assert (len(found), ended, Print.objects.count()) == (22, 18, 40)
    decided = {one.print.state for one in found if one.may_be_decided}
    assert decided == {PrintState.KEPT_FOR_THEM, PrintState.LOST, PrintState.NOTHING_TO_PRINT}
    assert refused(close, cast.TODAY) == ("still_lacking",)


def test_an_assistant_is_shown_nothing_of_it():
    made(cast.danuta(), state="kept_for_them")
    make(Promise, person=cast.danuta(), promised_on=date(2026, 1, 1))
    assert queries.lacking(cast.assistant(), days(0)) == []
    assert queries.endings(cast.assistant()) == {}


def test_lost_for_good_needs_no_place_but_a_name_and_a_reason():
    row = made(cast.danuta(), state="lost")
    begin()
    assert refused(end, row, "destroyed") == ("ending",)
    assert refused(end, row, "", why="") == ("why",)
    assert refused(end, row, "", decided_by="") == ("decided_by",)
    assert refused(end, row, "", on=days(-30)) == ("before_the_last_step",)
    assert end(row, "").closed_how == "lost"
