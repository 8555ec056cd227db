"""Clearance sheets are made of a fresh weighing, and say so themselves when they are stale."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.http import Http404
from django.test.utils import CaptureQueriesContext

from relations.consent.models import TakenBack
from relations.people.models import Participant
from relations.pictures.models import Caption, PictureHold
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.uses import actions, clearing
from relations.uses.clearances import Change, Instruction, Line, State
from relations.uses.models import ClearanceSheet, ClearedPicture, PlannedUse, Weighing
from tests import cast
from tests.rows import make
from tests.uses import plans, sheets

pytestmark = pytest.mark.django_db
TODAY = plans.TODAY


@pytest.fixture
def plan():
    return sheets.few()


def hold(code):
    return make(PictureHold, picture=plans.pictures(code)[0])


def take_back(code):
    make(TakenBack, person=Participant.objects.get(code=code), said_on=TODAY)


def state(sheet, on=TODAY):
    return clearing.look(ClearanceSheet.objects.get(pk=sheet.pk), on).state


def refused(act, *args, **kwargs):
    with pytest.raises(Refused) as found:
        act(*args, **kwargs)
    return found.value.codes


def test_a_sheet_holds_only_what_is_cleared_captions_to_the_letter_and_no_reason(plan):
    sheet = sheets.sheet(plan)
    assert (sheet.number, sheet.valid_until) == (1, date(2027, 1, 6))
    end = date(2027, 4, 18)
    assert clearing.lines(sheet) == [
        Line("K01", "By the dry dock, K01", until=end),
        Line("K03", "By the dry dock, K03", (Instruction.WAIT,), end, may_give_word=True),
        Line("K12", "By the dry dock, K12", until=end),
        Line("K30", "By the dry dock, K30", (Instruction.WAIT,), date(2027, 1, 6)),
    ]
    assert state(sheet) is State.OPEN


def test_the_weighing_of_a_sheet_is_fresh_and_kept(plan):
    actions.weigh(plan=plan, by=plans.artist(), at=cast.moment(hour=6))
    before = set(Weighing.objects.values_list("pk", flat=True))
    sheet = sheets.sheet(plan, "K01")
    row = sheet.lines.get()
    assert row.weighing_id not in before
    assert row.weighing.weighed_at == cast.moment()
    assert AccessEntry.objects.filter(verb="made", key=sheet.pk).count() == 1


def test_a_plan_without_captions_puts_none_on_its_sheet(plan):
    PlannedUse.objects.update(captions=False)
    plan.refresh_from_db()
    assert [line.caption for line in clearing.lines(sheets.sheet(plan, "K01"))] == [""]


def test_a_sheet_bears_the_words_that_were_weighed_and_no_newer_ones(plan):
    first = Caption.objects.filter(picture__code="K01")[0]
    newer = first.written_at + timedelta(days=99)
    make(Caption, picture=first.picture, version="c9", words="Newer words", written_at=newer)
    asked = plan.asked.get(picture__code="K01")
    for captioned, caption, words in (
        ("", None, "Newer words"), ("", first, first.words), ("none", first, ""),
    ):  # fmt: skip
        how = {"captioned": captioned, "caption": caption, "names": {}}
        actions.word(asked=asked, by=plans.artist(), **how)
        assert [line.caption for line in clearing.lines(sheets.sheet(plan, "K01"))] == [words]


def test_a_sheet_is_not_made_where_nothing_is_cleared(plan):
    for code in sheets.CLEARED:
        hold(code)
    assert refused(sheets.sheet, plan, "K01") == ("nothing_cleared",)
    assert not ClearanceSheet.objects.exists()
    assert not Weighing.objects.exists()


@pytest.mark.parametrize(
    ("given", "codes"),
    [
        ({"pictures": ()}, ("no_picture",)),
        ({"pictures": ("K01", "K07")}, ("not_cleared",)),
        ({"pictures": ("K99",)}, ("not_cleared",)),
    ],
)
def test_what_is_not_cleared_comes_on_no_sheet(plan, given, codes):
    assert refused(sheets.sheet, plan, **given) == codes


def test_only_the_artist_makes_a_sheet_and_of_no_plan_that_was_given_up(plan):
    assert refused(sheets.sheet, plan, by=cast.assistant()) == ("artist_only",)
    actions.drop(plan=plan, by=plans.artist(), on=TODAY)
    assert refused(sheets.sheet, plan) == ("plan_dropped",)


def test_a_picture_whose_day_to_look_again_has_passed_comes_on_no_sheet(plan):
    assert not clearing.may_stand("cleared", TODAY - timedelta(days=1), TODAY)
    assert clearing.may_stand("conditions", TODAY, TODAY)
    assert clearing.may_stand("cleared", None, TODAY)
    assert not clearing.may_stand("not_cleared", None, TODAY)


def own_condition(code):
    """Somebody wrote a condition that may go on as written."""
    form = Participant.objects.get(code=code).forms.get(given_on__gte=date(2025, 1, 1))
    form.own_condition = "not beside the owner’s portrait"
    form.save()
    form.decisions.create(use="exhibition", can=True, decided_on=TODAY, decided_by=plans.artist())


def test_a_condition_of_their_own_is_asked_for_in_plain_words(plan):
    own_condition("12")
    assert refused(sheets.sheet, plan) == ("instruction_missing",)
    assert refused(sheets.sheet, plan, written={"K12": "  "}) == ("instruction_missing",)
    words = "Hang it on a wall of its own."
    sheet = sheets.sheet(plan, written={"K12": words, "K01": "never asked for"})
    told = {line.picture: line.written for line in clearing.lines(sheet)}
    assert told == {"K01": "", "K03": "", "K12": words, "K30": ""}


def test_sheets_are_numbered_and_a_newer_one_takes_the_place_of_the_older(plan):
    first = sheets.sheet(plan)
    sheets.caption("K01", "On the quay")
    second = sheets.sheet(plan, "K01", "K03")
    third = sheets.sheet(plan, "K01", "K03", "K12")
    assert [one.number for one in (first, second, third)] == [1, 2, 3]
    seen = clearing.look(first, TODAY)
    assert (seen.state, seen.newest) == (State.REPLACED, third)
    assert seen.changed == (("K01", (Change.CAPTION,)), ("K30", (Change.GONE,)))
    assert seen.gone == ("K30",)
    assert not seen.may_end
    assert state(third) is State.OPEN
    assert list(clearing.in_force(TODAY)) == [third]


def test_an_ended_sheet_is_replaced_by_none(plan):
    first = clearing.end_sheet(sheet=sheets.sheet(plan), by=plans.artist(), at=cast.moment())
    second = sheets.sheet(plan)
    assert second.replaces is None
    assert state(first) is State.ENDED
    at = first.ended_at
    assert (
        clearing.end_sheet(sheet=first, by=plans.artist(), at=cast.moment(hour=12)).ended_at == at
    )
    assert refused(clearing.end_sheet, sheet=second, by=cast.keeper(), at=at) == ("artist_only",)


@pytest.mark.parametrize(
    ("happens", "fallen"),
    [
        (lambda plan: take_back("12"), ("K12",)),
        (lambda plan: hold("K01"), ("K01",)),
        (lambda plan: sheets.caption("K12", "Somebody mended it"), ()),
        (
            lambda plan: actions.leave_out(
                plan=plan, pictures=plans.pictures("K01"), by=plans.artist(), on=TODAY
            ),
            ("K01",),
        ),
        (lambda plan: actions.drop(plan=plan, by=plans.artist(), on=TODAY), ()),
        (lambda plan: PlannedUse.objects.update(starts_on=date(2027, 1, 5)), ()),
    ],
    ids=["take-back", "hold", "caption", "left out", "given up", "earlier"],
)
def test_anything_that_went_into_a_sheet_makes_it_out_of_date(plan, happens, fallen):
    sheet = sheets.sheet(plan)
    happens(plan)
    seen = clearing.look(ClearanceSheet.objects.get(), TODAY)
    assert (seen.state, seen.gone) == (State.OUT_OF_DATE, fallen)
    assert seen.may_end
    assert [one.sheet for one in clearing.out_of_date(TODAY)] == [sheet]


def test_what_concerns_no_picture_of_a_sheet_leaves_it_open(plan):
    sheet = sheets.sheet(plan, "K01")
    take_back("12")
    assert state(sheet) is State.OPEN
    assert clearing.out_of_date(TODAY) == []


def test_a_sheet_is_over_on_the_day_after_its_last(plan):
    sheet = sheets.sheet(plan, "K01")
    assert state(sheet, sheet.valid_until) is State.OPEN
    assert state(sheet, sheet.valid_until + timedelta(days=1)) is State.OVER
    assert not clearing.in_force(sheet.valid_until + timedelta(days=1)).exists()


def test_days_alone_make_a_sheet_out_of_date(plan):
    """30 is at grave risk: 30 days after the last talk, on 2026-11-10, the condition is a stop."""
    sheet = sheets.sheet(plan, "K30")
    assert state(sheet, date(2026, 12, 10)) is State.OPEN
    assert state(sheet, date(2026, 12, 11)) is State.OUT_OF_DATE


def test_the_artists_word_ends_the_waiting_once(plan):
    sheet = sheets.sheet(plan)
    given = {"sheet": sheet, "picture": "K03", "by": plans.artist()}
    clearing.give_word(**given, on=TODAY)
    clearing.give_word(**given, on=TODAY + timedelta(days=1))
    line = clearing.lines(sheet)[1]
    assert (line.picture, line.word_on, line.waits) == ("K03", TODAY, False)
    assert AccessEntry.objects.filter(verb="gave_word").count() == 1


def test_a_word_is_refused_where_it_is_not_enough(plan):
    sheet, by = sheets.sheet(plan), plans.artist()
    word = {"sheet": sheet, "by": by, "on": TODAY}
    assert refused(clearing.give_word, **word, picture="K30") == ("waits_for_more",)
    assert refused(clearing.give_word, **word, picture="K07") == ("not_on_it",)
    other = {**word, "by": cast.assistant()}
    assert refused(clearing.give_word, **other, picture="K03") == ("artist_only",)
    hold("K01")
    assert refused(clearing.give_word, **word, picture="K03") == ("sheet_not_open",)
    assert not ClearedPicture.objects.exclude(word_on=None).exists()


def test_a_sheet_is_confirmed_once_and_only_while_it_is_open(plan):
    sheet = sheets.sheet(plan)
    assert clearing.confirm(sheet=sheet, at=cast.moment(hour=10))
    assert not clearing.confirm(sheet=sheet, at=cast.moment(hour=11))
    sheet.refresh_from_db()
    assert sheet.confirmed_at == cast.moment(hour=10)
    newer = sheets.sheet(plan)
    hold("K01")
    assert refused(clearing.confirm, sheet=newer, at=cast.moment()) == ("sheet_not_open",)


def test_a_sheet_is_found_by_its_number(plan):
    sheet = sheets.sheet(plan)
    assert clearing.sheet_or_404(1) == sheet
    with pytest.raises(Http404):
        clearing.sheet_or_404(2)


def test_looking_takes_as_many_queries_for_four_pictures_as_for_one(plan):
    counted = []
    for codes in (("K01",), sheets.CLEARED):
        sheet = ClearanceSheet.objects.get(pk=sheets.sheet(plan, *codes).pk)
        with CaptureQueriesContext(connection) as taken:
            clearing.look(sheet, TODAY)
        counted.append(len(taken))
    assert counted[0] == counted[1] <= 14
