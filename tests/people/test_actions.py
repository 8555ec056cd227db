"""What is written about people, and what is refused."""

from datetime import date

import pytest

from relations.people import actions
from relations.people.models import PersonHold, Speaker
from relations.privacy.models import AccessEntry, Mending
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()


def refused(caught: pytest.ExceptionInfo[Refused]) -> tuple[str, ...]:
    return caught.value.codes


def test_a_move_that_the_rules_allow_is_dated_by_the_event() -> None:
    daud = cast.daud()
    actions.move(person=daud, to="being_rung", on=cast.days(-1), by=cast.assistant())
    daud.refresh_from_db()
    assert (daud.standing, daud.standing_since) == ("being_rung", cast.days(-1))


def test_a_move_is_refused_with_the_codes_of_the_rules() -> None:
    bruno = cast.bruno()
    with pytest.raises(Refused) as caught:
        actions.move(person=bruno, to="sitting_agreed", on=cast.TODAY, by=cast.artist())
    assert refused(caught) == ("not_told_back",)
    with pytest.raises(Refused) as caught:
        actions.move(person=bruno, to="taking_part", on=cast.TODAY, by=cast.artist())
    assert refused(caught) == ("no_such_move",)


def test_a_move_takes_the_facts_of_higher_rooms() -> None:
    bruno = cast.bruno()
    actions.move(
        person=bruno, to="sitting_agreed", on=cast.TODAY, by=cast.artist(), facts={"told_back": 4}
    )
    assert bruno.standing == "sitting_agreed"


def test_moving_to_where_one_stands_changes_nothing() -> None:
    marcel = cast.marcel()
    actions.move(person=marcel, to="taking_part", on=cast.TODAY, by=cast.artist())
    assert marcel.standing_since == date(2023, 9, 20)


def test_an_earlier_talk_never_replaces_a_later_one() -> None:
    marcel = cast.marcel()
    actions.note_talk(person=marcel, on=date(2025, 1, 1))
    assert marcel.last_talk_on == date(2026, 5, 20)
    actions.note_talk(person=marcel, on=cast.TODAY)
    assert marcel.last_talk_on == cast.TODAY
    herve = cast.herve()
    actions.note_talk(person=herve, on=cast.TODAY)
    assert herve.last_talk_on == cast.TODAY


def test_ways_of_ringing_are_kept_and_others_stay() -> None:
    marcel = cast.marcel()
    actions.note_ways(person=marcel, by=cast.assistant(), at=AT, text_only=True, languages="lsf")
    marcel.refresh_from_db()
    assert (marcel.text_only, marcel.languages) == (True, "lsf")
    assert marcel.safe_hours == [["10:00", "12:00"]]


def test_what_is_no_way_of_ringing_cannot_be_written_as_one() -> None:
    with pytest.raises(TypeError, match="level"):
        actions.note_ways(person=cast.marcel(), by=cast.assistant(), at=AT, level="grave")


def test_a_name_is_kept_with_its_script() -> None:
    rachid = cast.rachid()
    actions.add_name(
        person=rachid, text="Rachid", kind="spelling", script="Latn", by=cast.artist(), at=AT
    )
    name = rachid.names.get()
    assert (name.text, name.kind, name.script) == ("Rachid", "spelling", "Latn")


def born(person: object, earliest: date | None, latest: date | None, said: str = "") -> None:
    actions.note_birth(
        person=person, earliest=earliest, latest=latest, said=said, by=cast.artist(), at=AT,
    )  # fmt: skip


def test_a_first_birth_is_written_and_a_second_one_mends_it() -> None:
    bruno = cast.bruno()
    born(bruno, date(1990, 1, 1), date(1990, 12, 31), "1990")
    assert not Mending.objects.exists()
    born(bruno, date(1991, 3, 2), date(1991, 3, 2), "2/3/1991")
    bruno.refresh_from_db()
    assert (bruno.born_earliest, bruno.born_said) == (date(1991, 3, 2), "2/3/1991")
    old = Mending.objects.get().old
    assert (old["born_earliest"], old["born_said"]) == ("1990-01-01", "1990")


def test_who_was_met_as_an_adult_needs_no_birth() -> None:
    bruno = cast.bruno()
    actions.note_birth(
        person=bruno, earliest=None, latest=None, said="", by=cast.artist(), at=AT,
        met_as_adult=True,
    )  # fmt: skip
    bruno.refresh_from_db()
    assert bruno.met_as_adult


@pytest.mark.parametrize(
    ("earliest", "latest", "code"),
    [
        (date(1990, 1, 1), None, "half_a_birth"),
        (date(1990, 1, 2), date(1990, 1, 1), "backwards"),
        (cast.days(1), cast.days(2), "in_the_future"),
    ],
)
def test_an_impossible_birth_is_refused(
    earliest: date | None, latest: date | None, code: str
) -> None:
    with pytest.raises(Refused) as caught:
        born(cast.bruno(), earliest, latest)
    assert refused(caught) == (code,)


def test_the_level_is_the_artists() -> None:
    bruno = cast.bruno()
    say = {"person": bruno, "level": "grave", "next_look_on": cast.days(90), "on": cast.TODAY}
    with pytest.raises(Refused) as caught:
        actions.set_level(by=cast.assistant(), **say)
    assert refused(caught) == ("artist_only",)
    actions.set_level(by=cast.artist(), **say)
    bruno.refresh_from_db()
    assert (bruno.level, bruno.level_next_look_on) == ("grave", cast.days(90))


def test_a_risk_talk_keeps_what_to_do_and_a_day_to_look_again() -> None:
    bruno = cast.bruno()
    say = {"person": bruno, "level": "grave", "on": cast.TODAY, "by": cast.artist()}
    actions.set_level(next_look_on=None, instruction="Ring Tuesdays only.", **say)
    bruno.refresh_from_db()
    assert bruno.instruction == "Ring Tuesdays only."
    assert bruno.level_next_look_on == cast.days(30)
    actions.set_level(next_look_on=cast.TODAY, **say)
    assert bruno.instruction == "Ring Tuesdays only."
    with pytest.raises(Refused) as caught:
        actions.set_level(next_look_on=cast.days(-1), **say)
    assert refused(caught) == ("day_is_past",)


def test_a_sitter_who_cannot_answer_is_spoken_for_and_comes_back() -> None:
    marcel = cast.marcel()
    say = {"person": marcel, "by": cast.assistant(), "at": AT}
    actions.note_condition(condition="cannot_answer", condition_on=cast.days(-3), **say)
    assert (marcel.condition, marcel.standing) == ("cannot_answer", "spoken_for")
    assert marcel.standing_since == cast.days(-3)
    actions.note_condition(condition="well", condition_on=None, **say)
    marcel.refresh_from_db()
    assert (marcel.condition, marcel.condition_on) == ("well", None)
    assert marcel.standing == "taking_part"


def test_somebody_who_never_sat_is_not_spoken_for() -> None:
    bruno = cast.bruno()
    actions.note_condition(
        person=bruno, condition="died", condition_on=cast.days(-1), by=cast.artist(), at=AT
    )
    assert (bruno.condition, bruno.standing) == ("died", "met")


def test_a_well_person_who_is_quiet_stays_quiet() -> None:
    ibrahima = cast.ibrahima()
    actions.note_condition(
        person=ibrahima, condition="well", condition_on=None, by=cast.artist(), at=AT
    )
    assert ibrahima.standing == "gone_quiet"


@pytest.mark.parametrize(("on", "code"), [(None, "no_day"), (cast.days(1), "in_the_future")])
def test_a_condition_has_a_day_that_has_come(on: date | None, code: str) -> None:
    with pytest.raises(Refused) as caught:
        actions.note_condition(
            person=cast.marcel(), condition="died", condition_on=on, by=cast.artist(), at=AT
        )
    assert refused(caught) == (code,)


def test_a_speaker_is_somebody_else_and_somebody_at_all() -> None:
    marcel = cast.marcel()
    say = {"person": marcel, "on": cast.TODAY, "by": cast.artist()}
    for who, code in (({"speaker": marcel}, "by_themselves"), ({}, "nobody_named")):
        with pytest.raises(Refused) as caught:
            actions.name_speaker(**say, **who)
        assert refused(caught) == (code,)
    actions.name_speaker(**say, name="a daughter", way="through 12", is_next_of_kin=True)
    actions.name_speaker(**say, speaker=cast.danuta())
    assert Speaker.objects.filter(person=marcel).count() == 2


def test_anyone_lays_a_hold_and_a_second_finds_the_first() -> None:
    marcel = cast.marcel()
    first = actions.hold(person=marcel, by=cast.wording_reader(), at=AT)
    assert first.next_look_on == cast.days(14)
    again = actions.hold(person=marcel, by=cast.artist(), at=AT, next_look_on=cast.days(2))
    assert again.pk == first.pk
    assert again.laid_by == cast.wording_reader()
    assert PersonHold.objects.count() == 1


@pytest.mark.parametrize("look", [cast.days(15), cast.days(-1)])
def test_a_hold_is_looked_at_within_14_days(look: date) -> None:
    with pytest.raises(Refused) as caught:
        actions.hold(person=cast.marcel(), by=cast.artist(), at=AT, next_look_on=look)
    assert refused(caught) == ("look_within_14_days",)


def test_a_hold_is_lifted_by_artist_or_keeper_with_a_sentence() -> None:
    marcel = cast.marcel()
    laid = actions.hold(person=marcel, by=cast.assistant(), at=AT)
    for user, sentence, code in (
        (cast.assistant(), "It was a rumour.", "artist_or_keeper"),
        (cast.wording_reader(), "It was a rumour.", "artist_or_keeper"),
        (cast.keeper(), "  ", "no_sentence"),
    ):
        with pytest.raises(Refused) as caught:
            actions.lift(hold=laid, sentence=sentence, by=user, at=AT)
        assert refused(caught) == (code,)
    actions.lift(hold=laid, sentence=" It was a rumour. ", by=cast.keeper(), at=AT)
    laid.refresh_from_db()
    assert (laid.sentence, laid.lifted_by) == ("It was a rumour.", cast.keeper())
    assert actions.hold(person=marcel, by=cast.artist(), at=AT).pk != laid.pk


def test_a_wrong_entry_is_mended_and_the_old_one_stays_sealed() -> None:
    marcel, user = cast.marcel(), cast.assistant()
    kept = actions.mend(
        row=marcel,
        changes={"call_name": "Marceau", "community": None, "heard_on": date(2023, 9, 19)},
        person=marcel,
        by=user,
        at=AT,
    )
    marcel.refresh_from_db()
    assert (marcel.call_name, marcel.community) == ("Marceau", None)
    kept.refresh_from_db()
    assert kept.old == {
        "call_name": "Marcel",
        "community": str(cast.aulne().pk),
        "heard_on": "2023-09-20",
    }
    assert (kept.kind, kept.key, kept.about) == (
        "people.participant", marcel.pk, marcel.log_key,
    )  # fmt: skip
    entry = AccessEntry.objects.get()
    assert (entry.by, entry.verb, entry.key) == (user.pk, "mended", marcel.log_key)


def test_a_row_of_somebody_else_is_not_mended_under_this_person() -> None:
    line = cast.danuta().lines.get()
    with pytest.raises(Refused) as caught:
        actions.mend(row=line, changes={"zone": "x"}, person=cast.marcel(), by=cast.artist(), at=AT)
    assert refused(caught) == ("not_theirs",)
    actions.mend(
        row=line, changes={"zone": "Europe/Rome"}, person=cast.danuta(), by=cast.artist(), at=AT
    )
    line.refresh_from_db()
    assert line.zone == "Europe/Rome"


def test_a_speaker_is_not_reached_by_a_number_never_to_be_rung() -> None:
    actions.never_ring(person=cast.marcel(), by=cast.assistant(), at=cast.moment())
    with pytest.raises(Refused) as caught:
        actions.name_speaker(
            person=cast.herve(),
            on=cast.TODAY,
            by=cast.artist(),
            name="a daughter",
            way="evenings, 04 65 71 00 01",
        )
    assert caught.value.codes == ("never_ring",)
