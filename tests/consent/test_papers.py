"""One form's way: it stands only with everything there, and walks home by allowed steps."""

import pytest

from relations.consent import papers
from relations.consent.boxes import BLANK, whole
from relations.consent.models import Form
from relations.consent.states import State
from relations.consent.states import State as FormState
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def test_step_that_is_not_allowed_names_every_reason_and_changes_nothing():
    form = desk.filed()
    Form.objects.filter(pk=form.pk).update(state=FormState.READ_ONCE, wording_was_read=False)
    form.refresh_from_db()
    with pytest.raises(Refused) as caught:
        papers.step(form, to=State.STANDING, on=cast.TODAY)
    assert set(caught.value.codes) == {"not_settled", "incomplete", "wording_unread"}
    form.refresh_from_db()
    assert form.state == FormState.READ_ONCE


def test_row_says_again_what_was_written_into_it():
    form = desk.filed()
    answers = {
        "way": "spoken",
        "given_on": "2026-11-20",
        "uses": ["book", "web"],
        "only_countries": [],
        "not_countries": ["PE"],
        "last_day": "2027-01-01",
        "name_form": "pseudonym",
        "agreed_name": "Lia",
        "own_condition": "never in our street",
        "lines_missing": ["witness"],
    }
    papers.write(form, answers)
    form = Form.objects.get(pk=form.pk)
    assert papers.said(form) == whole(answers)


def test_blank_reading_keeps_the_day_on_which_the_paper_came():
    form = desk.filed()
    papers.write(form, BLANK)
    assert (form.given_on, form.missing_lines) == (cast.TODAY, ["day", "way"])


def test_form_of_nobody_is_neither_covered_nor_answered_for():
    known = papers.facts(desk.paper(), cast.TODAY)
    assert (known.newer_one_stands, known.guardians_are_filled) == (False, False)


def test_adult_needs_no_guardian_and_a_child_all_of_them():
    grown = papers.facts(desk.filed(70_001, cast.danuta()), cast.TODAY)
    child = papers.facts(desk.filed(70_002, cast.lucas()), cast.TODAY)
    assert (grown.guardians_are_filled, child.guardians_are_filled) == (True, False)


def test_form_already_standing_is_left_as_it_is():
    form = desk.standing()
    since = form.state_on
    assert papers.stand(form, on=cast.days(3)) is True
    assert form.state_on == since
    assert papers.stand(desk.filed(70_043, cast.bruno()), on=cast.TODAY) is False


def test_forms_of_one_day_stand_in_the_order_of_hour_then_serial():
    day = cast.TODAY
    late = desk.paper(70_001, given_on=day, given_at=desk.later(8).time())
    early = desk.paper(70_002, given_on=day, given_at=desk.AT.time())
    first, second = desk.paper(70_003, given_on=day), desk.paper(70_004, given_on=day)
    order = sorted([second, late, first, early], key=papers.order)
    assert order == [first, second, early, late]
