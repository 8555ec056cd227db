"""A paper is moved, filed and brought in; a wrong digit is mistyped, a wrong person refused."""

from datetime import date

import pytest

from relations.consent import actions
from relations.consent.models import Form
from relations.consent.states import State as FormState
from relations.documents.models import Scan
from relations.people.models import InSight
from relations.privacy.files import scans
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


def move(form, to, by=None, on=cast.TODAY):
    return actions.move_form(form=form, to=to, by=by or cast.assistant(), on=on)


def file(serial=None, content=None, **how):
    return actions.file(
        serial=serial or desk.serial(),
        content=content or desk.scan(),
        by=cast.assistant(),
        at=desk.AT,
        **how,
    )


def test_blank_is_signed_out_to_whoever_carries_it():
    form = desk.paper(state=FormState.PRINTED)
    moved = move(form, "carried")
    assert (moved.state, moved.carried_by, moved.state_on) == (
        FormState.CARRIED,
        cast.assistant(),
        cast.TODAY,
    )


def test_form_that_is_filled_in_was_given_on_that_day():
    form = desk.paper(state=FormState.CARRIED)
    assert move(form, "filled_in", on=cast.days(-2)).given_on == cast.days(-2)
    later = move(form, "left_with_them")
    assert (later.state, later.given_on) == (FormState.LEFT_WITH_THEM, cast.days(-2))


def test_hand_cannot_say_that_a_form_stands():
    form = desk.filed()
    assert refused(move, form=form, to="standing") == ("not_by_hand",)
    assert refused(move, form=desk.paper(70_043), to="brought_home") == ("no_such_move",)


def test_doubt_is_the_artists_and_unsettles_the_form():
    form = desk.standing()
    assert refused(move, form=form, to="doubtful") == ("artist_only",)
    moved = move(form, "doubtful", by=cast.artist())
    assert (moved.state, moved.settled_at, moved.settled_by) == (FormState.DOUBTFUL, None, None)


def test_form_ends_the_day_after_its_last_day():
    form = desk.standing(last_day=cast.days(1))
    how = {"form": form, "to": "ended", "by": cast.artist()}
    assert refused(move, **how, on=cast.days(1)) == ("not_over_yet",)
    assert move(**how, on=cast.days(2)).state == FormState.ENDED


def test_scan_filed_by_serial_brings_the_paper_home_and_its_sitter_in_sight():
    form = desk.paper(person=cast.danuta())
    scan = file("70042 74")
    form.refresh_from_db()
    assert (form.state, form.given_on, form.carried_by) == (
        FormState.SCANNED,
        cast.TODAY,
        cast.assistant(),
    )
    assert InSight.objects.filter(
        person=cast.danuta(), user=cast.assistant(), day=cast.TODAY, why="form"
    ).exists()
    assert scans().exists(scan.file)


@pytest.mark.parametrize("state", [FormState.PRINTED, FormState.LEFT_WITH_THEM, FormState.MISSING])
def test_paper_is_filed_whatever_nobody_noted_on_its_way(state):
    form = desk.paper(person=cast.danuta(), state=state)
    file()
    form.refresh_from_db()
    assert form.state == FormState.SCANNED


@pytest.mark.parametrize("state", [FormState.SPOILT, FormState.BROUGHT_BACK_BLANK])
def test_paper_that_cannot_have_come_home_is_not_filed(state):
    desk.paper(person=cast.danuta(), state=state)
    assert refused(file) == ("not_expected",)
    assert not Scan.objects.exists()


@pytest.mark.parametrize(
    ("serial", "code"),
    [("70042-75", "mistyped"), ("70024-74", "mistyped"), ("70042", "shape")],
)
def test_serial_with_a_wrong_digit_is_mistyped(serial, code):
    desk.paper(person=cast.danuta())
    assert refused(file, serial=serial) == (code,)


def test_serial_of_no_paper_is_no_paper_of_ours():
    assert refused(file) == ("no_such_paper",)


def test_one_form_is_never_filed_under_two_people():
    desk.paper(person=cast.danuta())
    assert refused(file, person=cast.bruno()) == ("another_person",)
    file(person=cast.danuta())
    assert refused(file, person=cast.bruno(), content=desk.scan(9)) == ("another_person",)


def test_blank_becomes_the_form_of_whoever_is_named_when_it_is_filed():
    form = desk.paper()
    assert refused(file) == ("whose",)
    file(person=cast.bruno())
    form.refresh_from_db()
    assert form.person == cast.bruno()


def test_same_scan_under_two_serials_is_refused():
    desk.paper(person=cast.danuta())
    desk.paper(70_043, person=cast.bruno())
    file()
    assert refused(file, serial=desk.serial(70_043)) == ("filed_under_another",)
    assert Form.objects.get(sheet__serial=desk.serial(70_043)).state == FormState.CARRIED


def test_same_post_twice_is_stored_once():
    desk.paper(person=cast.danuta())
    assert file() == file()
    assert Scan.objects.count() == 1
    assert len([path for path in scans().folder.iterdir() if path.name == file().file]) == 1


def test_second_sheet_of_a_paper_is_added_until_it_was_read_twice():
    form = desk.filed()
    file(content=desk.scan(7))
    assert form.sheet.scans.count() == 2
    desk.read_twice(form, desk.WHOLE)
    assert refused(file, content=desk.scan(8)) == ("already_filed",)


def test_upload_that_is_no_scan_is_refused_with_its_reason():
    desk.paper(person=cast.danuta())
    assert refused(file, content=b"just words") == ("not_a_scan",)
    assert refused(file, content=b"\xff\xd8\xff" + bytes(30)) == ("broken",)


def bring_in(number=30_014, person=None, **how):
    person = person or cast.danuta()
    defaults = {
        "serial": desk.serial(number),
        "person": person,
        "given_on": date(2024, 11, 12),
        "language": "es",
        "way": "signed",
        "sittings": person.sittings.all(),
        "answers": {"uses": ["book"], "name_form": "pseudonym", "agreed_name": "Lia"},
        "by": cast.artist(),
        "at": desk.AT,
    }
    return actions.bring_in(**defaults | how)


def test_old_paper_with_scan_and_read_wording_stands():
    made = desk.sitting("12/T2", cast.danuta())
    form = bring_in(scan=desk.scan(), wording_was_read=True)
    assert (form.state, form.settled_by) == (FormState.STANDING, cast.artist())
    assert (form.uses, form.agreed_name, form.old_language) == (["book"], "Lia", "es")
    assert [*form.sittings.all()] == [made]
    assert (form.sheet.digest, form.sheet.printed_at) == ("", None)


def test_old_paper_without_a_scan_is_home_and_counts_for_nothing():
    form = bring_in(wording_was_read=True)
    assert (form.state, form.settled_at) == (FormState.BROUGHT_HOME, None)


def test_old_paper_of_unread_wording_waits_until_that_is_read():
    form = bring_in(scan=desk.scan())
    assert (form.state, bool(form.settled_at)) == (FormState.DOUBTFUL, True)
    how = {"form": form, "on": cast.TODAY}
    assert refused(actions.wording_was_read, by=cast.assistant(), **how) == ("artist_only",)
    assert actions.wording_was_read(by=cast.artist(), **how).state == FormState.STANDING


def test_old_paper_that_lacks_a_line_does_not_stand():
    form = bring_in(scan=desk.scan(), wording_was_read=True, answers={"lines_missing": ["witness"]})
    assert (form.state, form.missing_lines) == (FormState.DOUBTFUL, ["witness"])


@pytest.mark.parametrize(
    ("how", "code"),
    [
        ({"serial": "30014-73"}, "mistyped"),
        ({"given_on": date(2026, 11, 24)}, "day_in_future"),
        ({"answers": {"first_day": "2027-02-01", "last_day": "2027-01-01"}}, "days_cross"),
        ({"scan": b"words"}, "not_a_scan"),
    ],
)
def test_old_paper_that_cannot_be_is_refused(how, code):
    assert refused(bring_in, **how) == (code,)


def test_old_papers_are_the_artists_and_each_serial_is_one_paper():
    assert refused(bring_in, by=cast.assistant()) == ("artist_only",)
    bring_in()
    assert refused(bring_in) == ("serial_taken",)


def test_newer_form_that_covers_the_same_sittings_takes_the_place_of_the_older():
    desk.sitting("12/T2", cast.danuta())
    old = bring_in(scan=desk.scan(), wording_was_read=True)
    desk.standing()
    old.refresh_from_db()
    assert old.state == FormState.REPLACED


def test_older_form_of_a_sitting_that_the_newer_does_not_cover_goes_on_standing():
    desk.sitting("12/T2", cast.danuta())
    desk.sitting("G1", cast.danuta())
    theirs = cast.danuta().sittings
    scanned = {"wording_was_read": True, "scan": desk.scan()}
    old = bring_in(**scanned, sittings=theirs.filter(code="12/T2"))
    newer = {"given_on": date(2025, 5, 1), "sittings": theirs.filter(code="G1")}
    newer = bring_in(30_015, **scanned | newer | {"scan": desk.scan(3)})
    old.refresh_from_db()
    assert (old.state, newer.state) == (FormState.STANDING, FormState.STANDING)


def test_old_paper_that_comes_in_after_its_successor_is_put_aside_at_once():
    desk.sitting("12/T2", cast.danuta())
    newer = desk.standing()
    old = bring_in(scan=desk.scan(), wording_was_read=True)
    assert (old.state, newer.state) == (FormState.REPLACED, FormState.STANDING)


def test_form_speaks_only_of_sittings_of_its_person():
    form = desk.filed()
    theirs = desk.sitting("12/T2", cast.danuta())
    other = desk.sitting("01/T1", cast.marcel())
    how = {"form": form, "by": cast.artist(), "on": cast.TODAY}
    actions.cover(sittings=[theirs], **how)
    assert [*form.sittings.all()] == [theirs]
    assert refused(actions.cover, sittings=[theirs, other], **how) == ("not_theirs",)
