"""What waits today: whose turn it is, and who is left out."""

from datetime import UTC, date, datetime, timedelta

import pytest

from relations.consent.models import Form, Reading, TakenBack, Wording
from relations.documents.models import Sheet
from relations.meetings.models import Call, Meeting
from relations.meetings.queries import open_meetings
from relations.people import actions as people_actions
from relations.people import changes
from relations.people.models import Participant
from relations.pictures.models import Appearance, Picture, PictureHold, Sitting
from relations.prints.models import Print
from relations.rights import asked
from relations.rights.models import Misuse
from relations.today import queries
from relations.uses.models import PlannedPicture, PlannedUse, Shown, UndoLine
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
# Monday 23 November 2026, 10:30 in Paris: a decent hour.
AT = cast.moment(hour=10, minute=30)


def everyone() -> queries.People:
    return Participant.objects.all()


def ring(who: Participant, due: int = 0, **rest: object) -> Call:
    return Call.objects.create(person=who, due_on=cast.days(due), **rest)


def planned() -> list[str]:
    return [call.person.code for call in queries.rings_planned(everyone(), cast.TODAY)]


def picture(code: str, *sitters: Participant) -> Picture:
    sitting = Sitting.objects.create(code=f"S{code}", on=date(2024, 5, 14))
    row = Picture.objects.create(code=code, sitting=sitting, made_on=date(2024, 5, 14))
    for place, sitter in enumerate(sitters, 1):
        Appearance.objects.create(picture=row, person=sitter, place=place)
        sitting.sitters.add(sitter)
    return row


def plan(code: str, use: str, starts: int, *pictures: Picture) -> PlannedUse:
    row = PlannedUse.objects.create(code=code, use=use, starts_on=cast.days(starts))
    for one in pictures:
        PlannedPicture.objects.create(plan=row, picture=one)
    return row


def a_print(who: Participant, state: str, since: int = -10, code: str = "") -> Print:
    row = picture(code or f"K{who.code}", who)
    return Print.objects.create(
        person=who, picture=row, state=state, state_on=cast.days(since), owed_since=cast.days(since)
    )


def test_rings_planned_by_today_come_by_date_and_code() -> None:
    ring(cast.edelmira(), due=-1)
    ring(cast.bruno(), due=-2)
    ring(cast.marcel(), due=0)
    ring(cast.danuta(), due=1)
    ring(cast.lucas(), due=0, state="moved")
    assert planned() == ["19", "28", "01"]


@pytest.mark.parametrize("standing", ["never_ring", "said_no", "closed", "spoken_for"])
def test_who_said_no_or_is_spoken_for_is_not_on_the_list(standing: str) -> None:
    bruno = cast.bruno()
    ring(bruno)
    Participant.objects.filter(pk=bruno.pk).update(standing=standing)
    assert planned() == []


def test_nobody_under_a_hold_is_rung() -> None:
    bruno = cast.bruno()
    ring(bruno)
    laid = people_actions.hold(person=bruno, by=cast.assistant(), at=AT)
    assert planned() == []
    people_actions.lift(hold=laid, sentence="A rumour.", by=cast.artist(), at=AT)
    assert planned() == ["19"]


def meeting(who: Participant, state: str, hours: int) -> Meeting:
    return Meeting.objects.create(person=who, state=state, at=AT + timedelta(hours=hours))


def test_meetings_are_those_of_48_hours_and_those_not_written_up() -> None:
    meeting(cast.bruno(), "confirmed", 47)
    meeting(cast.marcel(), "fixed", 49)
    meeting(cast.danuta(), "held", -20)
    meeting(cast.rachid(), "called_off", 20)
    Meeting.objects.create(person=cast.herve(), state="proposed")
    found = [one.person.code for one in queries.meetings(everyone(), AT)]
    assert found == ["12", "19"]


def test_meeting_with_somebody_who_never_wants_to_be_rung_is_off_until_that_is_a_slip() -> None:
    """It was said on their page, in a room that knows no meetings."""
    bruno = cast.bruno()
    meeting(bruno, "confirmed", 20)
    said = people_actions.never_ring(person=bruno, by=cast.assistant(), at=AT)
    assert not queries.meetings(everyone(), AT).exists()
    assert not open_meetings(cast.artist()).exists()
    people_actions.undo_never_ring(mark=said, by=cast.artist(), at=AT)
    assert queries.meetings(everyone(), AT).exists()


def form(serial: str, who: Participant | None, state: str) -> Form:
    sheet = Sheet.objects.create(serial=serial, kind="form")
    return Form.objects.create(
        sheet=sheet, person=who, is_from_before=True, state=state, state_on=cast.days(-2)
    )


def test_forms_wait_for_the_reader_whose_turn_it_is() -> None:
    form("10003-62", cast.marcel(), "scanned")
    once = form("20011-11", cast.danuta(), "read_once")
    form("40009-60", cast.rachid(), "carried")
    nobodys = form("50017-09", None, "scanned")
    Reading.objects.create(form=once, number=1, by=cast.assistant(), at=AT, answers={})

    def waiting(user: object) -> list[str]:
        return [one.sheet.serial for one in queries.forms(everyone(), user)]

    assert waiting(cast.assistant()) == ["10003-62", "50017-09"]
    assert waiting(cast.artist()) == ["20011-11"]
    seen = Participant.objects.filter(code="12")
    assert [one.pk for one in queries.forms(seen, cast.assistant())] == [nobodys.pk]


def moves() -> list[tuple[str, bool]]:
    return [
        (one.print.person.code, one.is_late) for one in queries.prints(everyone(), cast.TODAY)[0]
    ]


def test_prints_that_wait_for_us_come_late_ones_first() -> None:
    a_print(cast.marcel(), "checked", since=-10)
    a_print(cast.danuta(), "file_ready", since=-90)
    a_print(cast.rachid(), "at_the_lab", since=-90)
    a_print(cast.ibrahima(), "kept_for_them", since=-90)
    assert moves() == [("12", True), ("01", False)]


def test_a_print_of_somebody_left_alone_says_so() -> None:
    a_print(cast.marcel(), "checked", since=-10)
    a_print(cast.danuta(), "owed", since=-90)
    Participant.objects.filter(code="12").update(standing="said_no")
    found = queries.prints(everyone(), cast.TODAY)[0]
    assert [(one.print.person.code, one.is_left_alone) for one in found] == [
        ("12", True),
        ("01", False),
    ]


def test_a_silent_print_moves_after_30_days() -> None:
    a_print(cast.marcel(), "posted", since=-29)
    a_print(cast.danuta(), "handed_on", since=-30)
    assert moves() == [("12", False)]


def test_a_day_moves_so_many_prints_and_says_how_many_wait() -> None:
    for number in range(14):
        a_print(cast.marcel(), "owed", code=f"K{number}")
    found, more = queries.prints(everyone(), cast.TODAY)
    assert (len(found), more) == (12, 2)


def test_doorsteps_are_prints_on_a_round() -> None:
    out = a_print(cast.marcel(), "owed")
    Print.objects.filter(pk=out.pk).update(state="out_on_a_round", is_safe=True)
    a_print(cast.danuta(), "checked")
    assert [one.person.code for one in queries.doorsteps(everyone())] == ["01"]


def words(on: date = cast.TODAY) -> list[tuple[str, str]]:
    return [(one.person.code, one.plan.code) for one in queries.last_words(everyone(), on)]


def test_a_last_word_is_due_when_the_window_is_open_and_nobody_spoke_in_it() -> None:
    grave = cast.ibrahima()  # last talk on 30 January: a wall 30 days before, ink 14
    plan("E1", "exhibition", 31, picture("K35", grave))
    assert words() == []
    assert words(cast.days(1)) == [("35", "E1")]
    grave.last_talk_on = cast.days(1)
    grave.save()
    assert words(cast.days(2)) == []


def test_ink_opens_its_window_later_but_asks_for_a_nearer_talk() -> None:
    rachid = cast.rachid()  # raised: a wall 180 days before, ink 60; spoke on 20 August
    Participant.objects.filter(pk=rachid.pk).update(condition="well", condition_on=None)
    shown = picture("K17", rachid)
    plan("E1", "exhibition", 30, shown)
    assert words() == []
    plan("B1", "book", 30, shown)
    assert words() == [("17", "B1")]


def test_last_word_is_not_asked_of_one_who_cannot_answer() -> None:
    rachid = cast.rachid()  # away since September: his speaker is asked, use by use
    plan("B1", "book", 30, picture("K17", rachid))
    assert words() == []


def test_an_unset_level_counts_as_raised() -> None:
    bruno = cast.bruno()
    plan("E1", "exhibition", 179, picture("K19", bruno))
    assert words() == [("19", "E1")]


def test_each_person_has_one_last_word_for_what_starts_first() -> None:
    shown = picture("K35", cast.ibrahima())
    plan("B1", "book", 10, shown)
    plan("E1", "exhibition", 5, shown)
    plan("E0", "exhibition", -1, shown)
    assert words() == [("35", "E1")]


def test_what_was_dropped_asks_for_no_word() -> None:
    dropped = plan("E1", "exhibition", 5, picture("K35", cast.ibrahima()))
    PlannedPicture.objects.update(dropped_on=cast.TODAY)
    assert words() == []
    PlannedPicture.objects.update(dropped_on=None)
    dropped.dropped_on = cast.TODAY
    dropped.save()
    assert words() == []


def test_somebody_out_of_sight_has_no_last_word() -> None:
    plan("E1", "exhibition", 5, picture("K35", cast.ibrahima()))
    assert queries.last_words(Participant.objects.none(), cast.TODAY) == []


def took_back(who: Participant, scope: str = "all", **rest: object) -> TakenBack:
    return TakenBack.objects.create(
        person=who, scope=scope, said_on=cast.TODAY, heard_at=AT, heard_by=cast.assistant(),
        answer_due_on=cast.days(14), **rest,
    )  # fmt: skip


def test_stops_stand_until_they_are_answered_and_holds_until_lifted() -> None:
    stop = took_back(cast.danuta())
    answered = took_back(cast.marcel())
    answered.answered_on = cast.TODAY
    answered.save()
    people_actions.hold(person=cast.rachid(), by=cast.artist(), at=AT)
    shown = picture("K12", cast.danuta())
    PictureHold.objects.create(
        picture=shown, laid_at=AT, laid_by=cast.artist(), next_look_on=cast.days(3)
    )
    where = Shown.objects.create(
        code="U1", use="web", place="a page", starts_on=cast.days(-9), holder="the artist"
    )
    UndoLine.objects.create(
        shown=where, picture=shown, person=cast.danuta(), code="down", opened_at=AT, due_at=AT
    )
    assert list(queries.stops(everyone())) == [stop]
    assert [one.person.code for one in queries.holds(everyone())] == ["17"]
    assert [one.picture.code for one in queries.picture_holds()] == ["K12"]
    assert [one.shown.code for one in queries.undo_lines(everyone(), AT)] == ["U1"]
    found = queries.counts()
    assert (found["stops"], found["holds"], found["picture_holds"], found["undo_lines"]) == (
        1, 1, 1, 1,
    )  # fmt: skip


def test_the_keeper_counts_people_prints_and_never_rings() -> None:
    a_print(cast.marcel(), "owed")
    a_print(cast.danuta(), "acknowledged")
    people_actions.never_ring(person=cast.rachid(), by=cast.artist(), at=AT)
    found = queries.counts()
    assert (found["people"], found["never_ring"], found["prints"]) == (3, 1, 1)


def test_names_asked_first_wait_for_the_artists_yes() -> None:
    nour = cast.person("50", "Nour")
    cast.told(nour, cast.marcel(), asked_first=True)
    cast.herve()
    cast.daud()
    assert [one.person.code for one in queries.waiting_for_yes()] == ["50"]


def test_who_rang_waits_until_it_was_looked_into() -> None:
    heard = people_actions.rang_us(typed="12", by=cast.assistant(), at=AT)
    assert list(queries.rang()) == [heard]
    people_actions.settle_rang_us(heard=heard, on=cast.TODAY, by=cast.artist())
    assert list(queries.rang()) == []


def test_a_shared_number_waits_to_be_settled_while_others_are_on_it() -> None:
    mark = people_actions.never_ring(person=cast.bruno(), by=cast.assistant(), at=AT)
    people_actions.never_ring(person=cast.herve(), by=cast.assistant(), at=AT)
    found = queries.shared_never_rings()
    assert [(one.pk, [other.code for other in others]) for one, others in found] == [
        (mark.pk, ["12"])
    ]


def test_a_reader_reads_others_wordings_in_their_language() -> None:
    reader = cast.wording_reader()
    Wording.objects.create(language="ar", version=1, written_by=cast.artist())
    Wording.objects.create(language="ar", version=2, written_by=reader)
    Wording.objects.create(language="fr", version=1, written_by=cast.artist())
    Wording.objects.create(
        language="ar", version=3, written_by=cast.artist(), read_by=reader,
        read_on=cast.TODAY, frozen_at=datetime(2026, 11, 1, tzinfo=UTC),
    )  # fmt: skip
    assert [(one.language, one.version) for one in queries.wordings(reader)] == [("ar", 1)]


def given(who: Participant, on: date) -> Form:
    """A form that was given on a day and came home."""
    made = form(f"{Form.objects.count() + 80000}-00", who, "scanned")
    made.given_on = on
    made.save()
    return made


def asks() -> list[tuple[str, str, date]]:
    found = queries.to_ask(everyone(), cast.TODAY)
    return [(one.person.code, one.why, one.on) for one in found]


def born(who: Participant, on: date) -> Participant:
    who.born_earliest = who.born_latest = on
    who.save()
    return who


def test_whoever_turns_eighteen_is_to_be_asked_on_a_form_of_their_own() -> None:
    birthday = date(2026, 12, 1)
    grown = born(cast.person("50", "Nour"), date(2008, 12, 1))
    born(cast.person("51", "Ali"), date(2009, 1, 1))  # in more than thirty days
    born(cast.person("52", "Sara"), date(2008, 12, 1))  # has given no form
    given(grown, date(2026, 5, 1))
    given(Participant.objects.get(code="51"), date(2026, 5, 1))
    given(born(cast.danuta(), date(1980, 1, 1)), date(2026, 5, 1))
    assert asks() == [("50", "grown_up", birthday)]
    given(grown, birthday)
    assert asks() == []


def test_a_move_abroad_is_to_be_asked_until_it_was_or_a_form_came_since() -> None:
    by, danuta = cast.assistant(), cast.danuta()
    given(danuta, cast.days(-100))
    for who in (danuta, cast.marcel()):
        changes.moved_abroad(person=who, since=cast.days(-9), by=by, at=AT)
    said = {(who.code, "abroad", cast.days(-9)) for who in (danuta, cast.marcel())}
    assert set(asks()) == said
    given(danuta, cast.days(-1))
    assert [code for code, _why, _on in asks()] == [cast.marcel().code]
    changes.asked_again(person=cast.marcel(), on=cast.TODAY, by=by)
    assert asks() == []


def test_a_misuse_stands_until_they_were_told_or_it_is_gone() -> None:
    seen = make(Misuse, picture=picture("K12", cast.danuta()), seen_on=cast.TODAY)
    make(Misuse, gone_on=cast.TODAY)
    assert queries.misuses() == [seen]
    asked.told_sitters(misuse=seen, on=cast.TODAY, by=cast.artist())
    assert queries.misuses() == []


def test_a_hold_puts_on_the_list_what_must_come_down_but_not_what_cannot_be_undone() -> None:
    shown = Shown.objects.create(
        code="U1", use="web", place="a page", starts_on=cast.days(-9), holder="the artist"
    )
    shown.pictures.add(picture("K12", cast.danuta()))
    people_actions.hold(person=cast.danuta(), by=cast.artist(), at=AT)
    assert [one.code for one in queries.undo_lines(everyone(), AT)] == ["take_down"]


def test_level_is_looked_at_again_by_its_day_but_of_nobody_who_is_gone() -> None:
    people = [make(Participant, code=code) for code in ("01", "02", "03", "04")]
    due = (cast.days(-1), cast.TODAY, cast.days(1), cast.TODAY)
    for person, day in zip(people, due, strict=True):
        person.level_next_look_on = day
    people[3].standing = "said_no"
    Participant.objects.bulk_update(people, ["level_next_look_on", "standing"])
    found = queries.looks(Participant.objects.all(), cast.TODAY)
    assert [person.code for person in found] == ["01", "02"]
