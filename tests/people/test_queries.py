"""Reads about people that pages and actions share."""

import uuid
from datetime import date, timedelta

import pytest
from django.http import Http404

from relations.people import actions, queries
from relations.people.models import OutsideIntroducer, Participant, PhoneLine
from relations.people.values import Birth, Condition, Vouching
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()


def codes(people: object) -> list[str]:
    return [person.code for person in people]  # type: ignore[attr-defined]


def test_the_newest_introduction_is_asked_about() -> None:
    bruno = cast.bruno()
    told = queries.first_told(bruno)
    assert told is not None
    assert told.introducer == cast.marcel()
    assert queries.told_or_404(bruno) == told


def test_a_withheld_introduction_is_not_asked_about() -> None:
    nour = cast.person("50", "Nour")
    cast.told(nour, is_withheld=True)
    assert queries.first_told(nour) is None
    with pytest.raises(Http404):
        queries.told_or_404(nour)


def test_answers_are_shown_as_the_form_takes_them() -> None:
    told = cast.told(cast.person("50", "Nour"), asked_first=True, may_say_who=False)
    assert queries.answers(told) == {
        "asked_first": "yes", "may_say_who": "no", "has_power": "not_said",
    }  # fmt: skip


def test_vouching_knows_what_the_introducer_did() -> None:
    herve, daud = cast.herve(), cast.daud()
    assert queries.vouching(queries.first_told(herve), herve) == Vouching()
    assert queries.vouching(queries.first_told(daud), daud) == Vouching(
        has_sat=True, may_vouch=True, asked_first=True, community_is_raised=True
    )


@pytest.mark.parametrize("standing", ["stepped_back", "never_ring"])
def test_who_stepped_back_does_not_vouch(standing: str) -> None:
    daud = cast.daud()
    Participant.objects.filter(code="01").update(standing=standing)
    assert queries.vouching(queries.first_told(daud), daud).has_stepped_back


def test_somebody_outside_vouches_once_accepted() -> None:
    ibrahima = cast.ibrahima()
    assert queries.vouching(queries.first_told(ibrahima), ibrahima).is_accepted_outside
    OutsideIntroducer.objects.update(accepted_on=None)
    told = queries.first_told(ibrahima)
    assert queries.vouching(told, ibrahima) == Vouching(community_is_raised=True)


def test_an_own_start_needs_no_introducer_and_nothing_known_is_nothing() -> None:
    marcel = cast.marcel()
    assert queries.vouching(queries.first_told(marcel), marcel) == Vouching(
        is_accepted_outside=True, may_vouch=True, community_is_raised=False
    )
    assert queries.vouching(None, marcel) == Vouching(community_is_raised=False)


def test_facts_are_the_rows_and_what_higher_rooms_know() -> None:
    marcel = cast.marcel()
    facts = queries.facts(marcel, cast.TODAY, cast.assistant(), tries=2)
    assert (facts.on, facts.since, facts.tries) == (cast.TODAY, date(2023, 9, 20), 2)
    assert (facts.language_is_settled, facts.hours_are_settled) == (True, True)
    assert not facts.artist_says_yes
    assert not facts.is_new_introducer
    assert queries.facts(marcel, cast.TODAY, cast.artist()).artist_says_yes
    assert queries.facts(cast.rachid(), cast.TODAY, cast.artist()).condition is (
        Condition.CANNOT_ANSWER
    )


def test_a_new_introducer_is_one_heard_since_they_stand_there() -> None:
    bruno = cast.bruno()
    assert queries.facts(bruno, cast.TODAY, cast.artist()).is_new_introducer


def test_a_birth_is_both_days_or_none() -> None:
    assert queries.birth(cast.ibrahima()) == Birth.in_year(1989)
    assert queries.birth(cast.bruno()) is None


def test_a_hold_that_lies_is_found_and_a_lifted_one_is_not() -> None:
    marcel = cast.marcel()
    with pytest.raises(Http404):
        queries.hold_or_404(marcel)
    laid = actions.hold(person=marcel, by=cast.artist(), at=AT)
    assert queries.hold_or_404(marcel) == laid
    assert [one.has_hold for one in queries.filtered(Participant.objects.all())] == [True]
    actions.lift(hold=laid, sentence="A rumour.", by=cast.artist(), at=AT)
    assert queries.open_hold(marcel) is None


def test_people_are_narrowed_by_group_and_standing() -> None:
    cast.daud()
    cast.ibrahima()
    everyone = Participant.objects.all()
    assert codes(queries.filtered(everyone, cast.erable())) == ["35", "42"]
    assert codes(queries.filtered(everyone, cast.erable(), "gone_quiet")) == ["35"]


def test_a_slip_can_be_undone_for_a_day() -> None:
    marcel = cast.marcel()
    assert queries.can_be_undone(marcel, AT) is None
    mark = actions.never_ring(person=marcel, by=cast.artist(), at=AT)
    assert queries.can_be_undone(marcel, AT + timedelta(hours=23)) == mark
    assert queries.can_be_undone(marcel, AT + timedelta(hours=24)) is None


def test_lines_say_what_may_be_said_of_them_without_their_digits() -> None:
    marcel = cast.marcel()
    cast.line(marcel, "06 39 98 00 01")
    PhoneLine.objects.create(person=marcel, as_typed="ask at the quay")
    cast.line(marcel, "04 65 71 00 99", ended_on=cast.TODAY)
    found = {line.row.as_typed: line for line in queries.lines(marcel)}
    assert set(found) == {"04 65 71 00 01", "06 39 98 00 01", "ask at the quay"}
    # The mobile block set aside for fiction is possible, but no plan gives it out.
    assert [found[key].is_valid for key in sorted(found)] == [True, False, False]
    assert [found[key].can_be_rung for key in sorted(found)] == [True, True, False]
    actions.never_ring(person=marcel, by=cast.artist(), at=AT)
    assert [line.is_never for line in queries.lines(marcel) if line.can_be_rung] == [True, True]


def test_who_shares_a_line_is_found_for_the_artist() -> None:
    assert codes(queries.shares_with(cast.bruno())) == ["12"]
    assert queries.shares_with(cast.herve()) == []


def test_people_in_sight_come_with_their_works() -> None:
    bruno = cast.bruno()
    cast.in_sight(bruno, cast.assistant(), "ring")
    cast.in_sight(bruno, cast.assistant(), "print")
    cast.in_sight(cast.marcel(), cast.assistant(), "form")
    cast.in_sight(cast.danuta(), cast.second_assistant())
    seen = queries.seen_today(cast.assistant(), cast.TODAY)
    assert [(one.person.code, sorted(one.why)) for one in seen] == [
        ("01", ["form"]), ("19", ["print", "ring"]),
    ]  # fmt: skip


def test_what_is_settled_or_absent_is_not_found_again() -> None:
    heard = actions.rang_us(typed="somebody", by=cast.assistant(), at=AT)
    mark = actions.never_ring(person=cast.bruno(), by=cast.artist(), at=AT)
    assert queries.rang_or_404(heard.pk) == heard
    assert queries.mark_or_404(mark.pk) == mark
    actions.settle_rang_us(heard=heard, on=cast.TODAY, by=cast.artist())
    actions.settle_shared(mark=mark, by=cast.artist())
    for ask, key in (
        (queries.rang_or_404, heard.pk),
        (queries.mark_or_404, mark.pk),
        (queries.rang_or_404, uuid.uuid4()),
    ):
        with pytest.raises(Http404):
            ask(key)


def test_names_groups_and_people_outside_are_listed() -> None:
    marcel = cast.marcel()
    actions.add_name(person=marcel, text="M.", kind="own", script="Latn", by=cast.artist(), at=AT)
    assert [name.text for name in queries.names(marcel)] == ["M."]
    assert list(queries.communities()) == [cast.aulne()]
    assert list(queries.outsiders()) == []
