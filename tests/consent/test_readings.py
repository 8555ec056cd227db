"""Two people read one paper, blind; until they agree only the stricter of both acts."""

import pytest

from relations.consent.boxes import whole
from relations.consent.models import Form
from relations.consent.readings import read, settle
from relations.consent.states import State as FormState
from relations.people.values import Condition
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
W = desk.WHOLE


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


def by_assistant(form, **changed):
    return read(form=form, answers=W | changed, by=cast.assistant(), at=desk.AT)


def test_two_equal_readings_let_the_form_stand():
    made = desk.sitting("12/T2", cast.danuta())
    form = desk.standing()
    assert (form.state, form.settled_by, form.missing_lines) == (
        FormState.STANDING,
        cast.artist(),
        [],
    )
    assert form.uses == ["book", "exhibition"]
    assert [*form.sittings.all()] == [made]


def test_first_reading_narrows_and_is_no_evidence():
    form = desk.filed()
    by_assistant(form)
    form.refresh_from_db()
    assert (form.state, form.settled_at, form.uses) == (
        FormState.READ_ONCE,
        None,
        ["book", "exhibition"],
    )


def test_while_two_readings_differ_the_stricter_acts():
    form = desk.read_twice(
        desk.filed(), W | {"uses": ["book", "web"]}, W | {"uses": ["book"], "no_face": True}
    )
    assert (form.state, form.settled_at) == (FormState.DOUBTFUL, None)
    assert (form.uses, form.no_face) == (["book"], True)


def test_artist_settles_exactly_the_boxes_that_differ():
    form = desk.read_twice(desk.filed(), W | {"uses": ["book", "web"]}, W | {"uses": ["book"]})
    how = {"form": form, "by": cast.artist(), "at": desk.AT}
    assert refused(settle, answers={}, **how) == ("still_differs",)
    assert refused(settle, answers={"uses.web": True, "no_face": True}, **how) == ("not_in_doubt",)
    settled = settle(answers={"uses.web": True}, **how)
    assert (settled.state, settled.uses) == (FormState.STANDING, ["book", "web"])
    assert refused(settle, answers={}, **how) == ("nothing_to_settle",)


def test_settling_is_the_artists():
    form = desk.read_twice(desk.filed(), W | {"uses": ["book", "web"]}, W | {"uses": ["book"]})
    how = {"form": form, "answers": {"uses.web": True}, "by": cast.assistant(), "at": desk.AT}
    assert refused(settle, **how) == ("artist_only",)


def test_days_that_cross_when_settled_are_refused():
    form = desk.read_twice(
        desk.filed(), W | {"first_day": "2027-06-01"}, W | {"last_day": "2027-01-01"}
    )
    assert (form.state, form.only_countries) == (FormState.DOUBTFUL, [])
    chosen = {"first_day": "2027-06-01", "last_day": "2027-01-01"}
    how = {"form": form, "answers": chosen, "by": cast.artist(), "at": desk.AT}
    assert refused(settle, **how) == ("days_cross",)


def test_assistant_reads_first_and_the_artist_second():
    form = desk.filed()
    how = {"form": form, "answers": W, "at": desk.AT}
    assert refused(read, by=cast.artist(), **how) == ("not_your_turn",)
    read(by=cast.assistant(), **how)
    assert refused(read, by=cast.assistant(), **how) == ("same_reader",)
    assert refused(read, by=cast.second_assistant(), **how) == ("not_your_turn",)
    read(by=cast.artist(), **how)
    assert refused(read, by=cast.artist(), **how) == ("not_to_be_read",)


def test_third_reading_of_a_doubtful_form_is_refused():
    form = desk.read_twice(desk.filed(), W, W | {"no_face": True})
    third = User.objects.create_user("second", None, role=Role.ARTIST, called="B")
    assert refused(read, form=form, answers=W, by=third, at=desk.AT) == ("read_twice",)


def test_paper_that_is_not_scanned_is_not_read():
    form = desk.paper(person=cast.danuta())
    assert refused(by_assistant, form=form) == ("not_to_be_read",)


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"given_on": cast.days(1)}, "day_in_future"),
        ({"first_day": cast.days(9), "last_day": cast.days(8)}, "days_cross"),
    ],
)
def test_reading_that_cannot_be_is_refused(changed, code):
    assert refused(by_assistant, form=desk.filed(), **changed) == (code,)


@pytest.mark.parametrize(
    ("changed", "missing"),
    [
        ({"lines_missing": ["witness"]}, ["witness"]),
        ({"given_on": None}, ["day"]),
        ({"way": "", "given_on": None}, ["day", "way"]),
    ],
)
def test_form_that_lacks_a_line_is_settled_and_does_not_stand(changed, missing):
    form = desk.standing(**changed)
    assert (form.state, form.missing_lines) == (FormState.DOUBTFUL, missing)
    assert form.settled_at is not None
    assert form.given_on is not None  # the day on which it came, so that its limits bind


def test_doubtful_form_stands_again_once_the_artist_has_looked_into_it():
    form = desk.standing()
    Form.objects.filter(pk=form.pk).update(state=FormState.DOUBTFUL, settled_at=None)
    assert settle(form=form, answers={}, by=cast.artist(), at=desk.AT).state == FormState.STANDING


def test_old_paper_without_readings_is_settled_as_it_says():
    form = desk.filed(is_from_before=True, uses=["book"], way="signed")
    Form.objects.filter(pk=form.pk).update(state=FormState.DOUBTFUL, missing_lines=[])
    settled = settle(form=form, answers={}, by=cast.artist(), at=desk.AT)
    assert (settled.state, settled.uses) == (FormState.STANDING, ["book"])


def test_scanned_form_that_was_never_read_cannot_be_settled():
    form = desk.filed()
    Form.objects.filter(pk=form.pk).update(state=FormState.DOUBTFUL)
    how = {"form": form, "answers": {}, "by": cast.artist(), "at": desk.AT}
    assert refused(settle, **how) == ("nothing_to_settle",)


def test_readings_are_kept_whole_and_sealed():
    form = desk.filed()
    kept = by_assistant(form, own_condition="never in our street")
    kept.refresh_from_db()
    assert kept.answers == whole(W | {"own_condition": "never in our street"})
    assert cast.danuta().condition == Condition.WELL


def test_form_that_was_doubted_before_it_was_read_is_read_all_the_same():
    form = desk.filed()
    Form.objects.filter(pk=form.pk).update(state=FormState.DOUBTFUL)
    form = desk.read_twice(form, W, W | {"no_face": True})
    assert (form.state, form.no_face, form.settled_at) == (FormState.DOUBTFUL, True, None)
    assert form.readings.count() == 2
