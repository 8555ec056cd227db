"""What is waiting, on paper under line numbers: codes, never names, and what each line is about."""

from datetime import timedelta

import pytest
from django.http import Http404

from relations.documents.models import Sheet
from relations.meetings.models import Call, DayLine, Meeting
from relations.people.models import Name, PhoneLine
from relations.prints.models import Print
from relations.today import day_sheet
from tests import cast
from tests.consent import desk
from tests.today.test_actions import a_print, a_whole_day

pytestmark = pytest.mark.django_db
AT = cast.moment()


def entries(user=None):
    return [entry for entry, *_ in day_sheet.planned(user or cast.artist(), AT)]


def printed(user=None):
    held = desk.frozen("fr", "en")
    by = user or cast.artist()
    return day_sheet.print_day(first=held["fr"], second=held["en"], by=by, at=AT)


def test_lines_stand_in_order_of_need_under_numbers_from_one():
    a_whole_day()
    assert [(one.number, one.work.value, one.code) for one in entries()] == [
        (1, "stop", ""), (2, "stop", ""), (3, "stop", ""),
        (4, "meeting", "17"), (5, "door", "35"), (6, "ring", "19"),
    ]  # fmt: skip


def test_line_says_how_to_ring_and_no_name():
    bruno = cast.bruno()
    bruno.languages, bruno.may_say = "fr ar", "Your first name only."
    bruno.instruction, bruno.text_only = "Write in the morning.", True
    bruno.save()
    Call.objects.create(person=bruno, due_on=cast.TODAY)
    (ring,) = entries()[3:]
    assert (ring.more, ring.languages) == ("10:00–12:00, 14:00–19:00", "fr ar")
    assert (ring.may_say, ring.what_to_do) == (bruno.may_say, bruno.instruction)
    assert (ring.is_shared, ring.text_only) == (True, True)
    assert "Bruno" not in repr(ring)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Greet neutrally; ask for Bruno.", "Greet neutrally; ask for 19."),
        ("Ask Danuta for a way.", "Ask 12 for a way."),
        ("Ring on Tuesdays.", "Ring on Tuesdays."),
        ("Ask for BRUNO.", ""),
        ("اسأل عن رشيد", "اسأل عن 17"),
        ("Say that Wielgosz rings.", "Say that 12 rings."),
    ],
)
def test_names_in_what_to_do_become_codes_or_stay_off_the_paper(text, expected):
    cast.rachid()
    bruno = cast.bruno()
    Name.objects.create(person=cast.danuta(), kind="own", text="Wielgosz")
    bruno.instruction = bruno.may_say = text
    bruno.save()
    Call.objects.create(person=bruno, due_on=cast.TODAY)
    (ring,) = entries()[3:]
    assert (ring.what_to_do, ring.may_say) == (expected, expected)


def test_meeting_has_its_hour_and_a_held_one_has_a_sheet_of_its_own():
    for state, day in (("fixed", 0), ("held", -1)):
        Meeting.objects.create(
            person=cast.rachid(), state=state, at=cast.moment(cast.days(day), 15)
        )
    (meeting,) = entries()[3:]
    assert meeting.more == "2026-11-23 15:00"


def test_print_without_a_picture_is_known_by_the_person_alone():
    row = a_print(cast.lucas(), "out_on_a_round", is_safe=True)
    assert entries()[3].more == "K40"
    Print.objects.filter(pk=row.pk).update(picture=None)
    assert entries()[3].more == ""


def test_assistants_sheet_is_about_people_in_sight_only():
    Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    assert len(entries(cast.assistant())) == 3
    cast.in_sight(cast.bruno(), cast.assistant())
    assert [one.code for one in entries(cast.assistant())[3:]] == ["19"]


def test_hours_are_those_of_the_person():
    """14:00 to 19:00 in Lima is 20:00 to 01:00 of ours (UTC-5 and UTC+1, IANA tz database)."""
    daud = cast.daud()
    PhoneLine.objects.filter(person=daud).update(zone="America/Lima")
    Call.objects.create(person=daud, due_on=cast.TODAY)
    assert entries()[3].more == "10:00–12:00"


def test_printed_sheet_keeps_what_each_line_is_about():
    a_whole_day()
    sheet, content = printed()
    assert content.startswith(b"%PDF")
    kept = DayLine.objects.filter(sheet=sheet).values_list("number", "work", "person__code")
    assert list(kept) == [
        (1, "stop", None), (2, "stop", None), (3, "stop", None),
        (4, "meeting", "17"), (5, "door", "35"), (6, "ring", "19"),
    ]  # fmt: skip
    assert DayLine.objects.get(number=6).about == Call.objects.get().pk
    assert sorted(sheet.of.values_list("person__code", flat=True)) == ["17", "19", "35"]


def test_sheet_waits_until_each_line_about_somebody_is_typed_in_or_a_month_is_over():
    Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    sheet, _content = printed()
    (waiting,) = day_sheet.still_open(cast.artist(), AT)
    assert (waiting, waiting.lines_left) == (sheet, 1)
    assert not day_sheet.still_open(cast.artist(), AT + timedelta(days=31))
    sheet.day_lines.filter(work="ring").update(typed_at=AT, typed_by=cast.artist())
    assert not day_sheet.still_open(cast.artist(), AT)


def test_sheet_of_somebody_else_is_absent_but_for_the_artist():
    cast.in_sight(cast.bruno(), cast.assistant())
    Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    sheet, _content = printed(cast.assistant())
    assert day_sheet.sheet_or_404(cast.assistant(), sheet.serial) == sheet
    assert day_sheet.sheet_or_404(cast.artist(), sheet.serial) == sheet
    with pytest.raises(Http404):
        day_sheet.sheet_or_404(cast.second_assistant(), sheet.serial)
    Sheet.objects.create(serial="10003-62", kind="form")
    with pytest.raises(Http404):
        day_sheet.sheet_or_404(cast.artist(), "10003-62")


def test_lines_are_those_of_people_in_sight_on_the_day_of_the_sheet():
    cast.in_sight(cast.bruno(), cast.assistant())
    Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    sheet, _content = printed(cast.assistant())
    assert [one.number for one in day_sheet.lines(cast.assistant(), sheet)] == [1, 2, 3, 4]
    sheet.printed_at = AT + timedelta(days=1)
    assert [one.number for one in day_sheet.lines(cast.assistant(), sheet)] == [1, 2, 3]


def test_prints_of_lines_are_found_with_their_pictures(django_assert_num_queries):
    row = a_print(cast.lucas(), "out_on_a_round", is_safe=True)
    lines = [DayLine(work="door", about=row.pk), DayLine(work="stop")]
    with django_assert_num_queries(1):
        found = day_sheet.prints(lines)
        assert found[row.pk].picture.code == "K40"
