"""Phone lines, and numbers that may never be rung."""

from datetime import timedelta

import pytest

from relations.people import actions, queries
from relations.people.models import Name, NeverRing, Participant, PhoneLine
from relations.privacy.models import AccessEntry, Mending
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()
LATER = AT + timedelta(hours=24)


def add(person: Participant, typed: str, country: str | None = "FR", **rest: object) -> PhoneLine:
    return actions.add_line(
        person=person, typed=typed, country=country, by=cast.assistant(), at=AT, **rest
    )


def why_not(person: Participant, typed: str, country: str | None = "FR", **rest: object) -> str:
    with pytest.raises(Refused) as caught:
        add(person, typed, country, **rest)
    return caught.value.codes[0]


def never(person: Participant, **rest: object) -> NeverRing:
    return actions.never_ring(person=person, by=cast.assistant(), at=AT, **rest)


def test_a_number_is_kept_as_typed_and_as_it_is_dialled() -> None:
    line = add(cast.herve(), "٠٦ ٣٩ ٩٨ ٠٠ ٤١")
    line.refresh_from_db()
    assert (line.as_typed, line.number) == ("٠٦ ٣٩ ٩٨ ٠٠ ٤١", "+33639980041")
    assert not line.is_shared


def test_a_number_that_others_have_is_shared_on_both() -> None:
    rachid, herve = cast.rachid(), cast.herve()
    assert add(herve, "06 39 98 00 17").is_shared
    assert rachid.lines.get().is_shared


@pytest.mark.parametrize(
    ("typed", "country", "code"),
    [
        ("06 39 AB 00 41", "FR", "letters"),
        ("06 39 98 00 41 / 06 39 98 00 42", "FR", "two_numbers"),
        ("06 39 98 00 41", None, "country"),
        ("06 39", "FR", "too_short"),
        ("", "FR", "empty"),
    ],
)
def test_what_is_no_number_is_refused_with_its_reason(
    typed: str, country: str | None, code: str
) -> None:
    assert why_not(cast.herve(), typed, country) == code


def test_a_number_can_be_kept_raw_but_not_found() -> None:
    line = add(cast.herve(), "ask at the quay", keep_raw=True)
    assert (line.as_typed, line.number, line.mark) == ("ask at the quay", "", None)
    assert why_not(cast.herve(), "  ", keep_raw=True) == "empty"


def test_the_same_number_stands_once() -> None:
    assert why_not(cast.marcel(), "+33 4 65 71 00 01") == "already_theirs"


def test_somebody_is_reached_through_another() -> None:
    lucas, marcel = cast.lucas(), cast.marcel()
    line = add(lucas, "", through=marcel)
    assert (line.through, line.number, line.is_shared) == (marcel, "", True)
    assert add(lucas, "04 65 71 00 40", through=marcel).is_shared
    assert why_not(marcel, "", through=marcel) == "by_themselves"


def test_an_ended_line_has_its_day() -> None:
    line = cast.marcel().lines.get()
    actions.end_line(line=line, on=cast.TODAY, by=cast.assistant())
    line.refresh_from_db()
    assert line.ended_on == cast.TODAY


def test_never_ring_marks_at_once_and_blocks_the_number_for_all() -> None:
    marcel = cast.marcel()
    mark = never(marcel, line=marcel.lines.get())
    assert (marcel.standing, mark.was, mark.whole_number) == ("never_ring", "taking_part", True)
    assert why_not(cast.herve(), "+33 465 710 001") == "never_ring"


def test_never_ring_said_twice_is_one_mark() -> None:
    marcel = cast.marcel()
    assert never(marcel).pk == never(marcel).pk
    assert NeverRing.objects.count() == 1


def test_a_second_number_is_marked_too_and_the_one_it_was_said_on_is_given_back() -> None:
    marcel = cast.marcel()
    second = cast.line(marcel, "06 39 98 00 01")
    assert bytes(never(marcel, line=second).mark) == bytes(second.mark or b"")
    assert NeverRing.objects.count() == 2
    elsewhere = PhoneLine(person=marcel, as_typed="a booth", mark=b"0" * 16)
    assert never(marcel, line=elsewhere).who == marcel.log_key


def test_on_a_shared_line_only_the_one_who_asked_is_not_rung() -> None:
    bruno = cast.bruno()
    mark = never(bruno)
    assert not mark.whole_number
    assert queries.may_not_be_rung("+33465710012", bruno)
    assert not queries.may_not_be_rung("+33465710012", cast.danuta())
    assert not queries.may_not_be_rung("+33465710012")
    with pytest.raises(Refused):
        actions.settle_shared(mark=mark, by=cast.assistant())
    actions.settle_shared(mark=mark, by=cast.artist())
    assert queries.may_not_be_rung("+33465710012", cast.danuta())


def test_who_has_no_number_is_marked_all_the_same() -> None:
    herve = cast.herve()
    mark = never(herve)
    assert (mark.who, mark.was, herve.standing) == (herve.log_key, "named", "never_ring")


@pytest.mark.parametrize("who", [cast.artist, cast.keeper])
def test_a_slip_is_undone_within_a_day_by_artist_or_keeper(who: object) -> None:
    marcel = cast.marcel()
    mark = never(marcel)
    actions.undo_never_ring(mark=mark, by=who(), at=LATER - timedelta(minutes=1))
    marcel.refresh_from_db()
    assert marcel.standing == "taking_part"
    assert not queries.may_not_be_rung("+33465710001", marcel)
    assert actions.let_never_rings_go(at=LATER) == 0


def test_a_slip_is_not_undone_by_others_or_later() -> None:
    mark = never(cast.marcel())
    for user, at, code in (
        (cast.assistant(), AT, "artist_or_keeper"),
        (cast.artist(), LATER, "day_is_over"),
    ):
        with pytest.raises(Refused) as caught:
            actions.undo_never_ring(mark=mark, by=user, at=at)
        assert caught.value.codes == (code,)


def test_after_a_day_name_and_number_are_erased_and_the_mark_stays() -> None:
    daud = cast.daud()
    Name.objects.create(person=daud, kind="spelling", text="Daud")
    actions.mend(row=daud, changes={"call_name": "D."}, person=daud, by=cast.artist(), at=AT)
    never(daud)
    assert actions.let_never_rings_go(at=LATER - timedelta(minutes=1)) == 0
    assert actions.let_never_rings_go(at=LATER) == 1
    daud.refresh_from_db()
    assert (daud.call_name, daud.lines.count(), daud.names.count()) == ("", 0, 0)
    assert not Mending.objects.exists()
    assert AccessEntry.objects.last().verb == "erased"
    assert why_not(cast.herve(), "06 39 98 00 42") == "never_ring"
    mark = NeverRing.objects.get()
    assert (mark.who, mark.was) == (None, "")
    assert actions.let_never_rings_go(at=LATER) == 0
    with pytest.raises(Refused):
        actions.undo_never_ring(mark=mark, by=cast.artist(), at=LATER)


def test_who_has_sat_keeps_the_names_that_forms_and_prints_speak_of() -> None:
    marcel = cast.marcel()
    line = marcel.lines.get()
    actions.mend(row=line, changes={"zone": "Europe/Rome"}, person=marcel, by=cast.artist(), at=AT)
    actions.mend(
        row=marcel, changes={"call_name": "Marceau"}, person=marcel, by=cast.artist(), at=AT
    )
    never(marcel)
    actions.let_never_rings_go(at=LATER)
    marcel.refresh_from_db()
    assert (marcel.call_name, marcel.lines.count()) == ("Marceau", 0)
    assert [kept.kind for kept in Mending.objects.all()] == ["people.participant"]


def test_on_a_shared_line_who_asked_stays_known_until_the_artist_settles_it() -> None:
    bruno = cast.bruno()
    never(bruno)
    actions.let_never_rings_go(at=LATER)
    mark = NeverRing.objects.get()
    assert (mark.who, mark.was) == (bruno.log_key, "")
    assert queries.can_be_undone(bruno, AT) is None


def test_the_words_beside_a_number_are_kept_apart_and_sealed() -> None:
    line = add(cast.herve(), "06 39 98 00 41", note="sister, after six")
    line.refresh_from_db()
    assert (line.number, line.note) == ("+33639980041", "sister, after six")


@pytest.mark.parametrize(
    ("typed", "country", "zone"),
    [
        ("06 39 98 00 41", "FR", "Europe/Paris"),
        ("07700 900123", "GB", "Europe/London"),
        ("212 555 0142", "US", ""),
    ],
)
def test_the_clock_is_filled_in_where_the_country_has_one(
    typed: str, country: str, zone: str
) -> None:
    assert add(cast.herve(), typed, country).zone == zone


def test_a_clock_that_was_chosen_stays() -> None:
    herve = cast.herve()
    assert add(herve, "212 555 0142", "US", zone="America/Chicago").zone == "America/Chicago"
    assert add(herve, "06 39 98 00 41", zone="Europe/Rome").zone == "Europe/Rome"


def test_whoever_is_reached_through_somebody_goes_by_their_clock() -> None:
    marcel = cast.marcel()
    assert add(cast.herve(), "", through=marcel).zone == ""
    actions.set_zone(line=marcel.lines.get(), zone="Africa/Tunis", by=cast.assistant())
    assert add(cast.rachid(), "", through=marcel).zone == "Africa/Tunis"


@pytest.mark.parametrize(
    ("typed", "country", "rest"),
    [
        ("04 65 71 00 01", "FR", {}),
        ("+33 465 71 00 01", None, {}),
        ("٠٤٦٥٧١٠٠٠١", "FR", {}),
        ("04 65 71 00 01 ext. 12", "FR", {}),
        # Kept as it was given, with words or in no country, it would be shown all the same.
        ("04 65 71 00 01 (sister)", "FR", {"keep_raw": True}),
        ("04 65 71 00 01", None, {"keep_raw": True}),
        ("sister", "FR", {"keep_raw": True, "note": "04 65 71 00 01"}),
        ("06 39 98 00 41", "FR", {"note": "or 04 65 71 00 01"}),
    ],
)
def test_a_number_never_to_be_rung_is_refused_wherever_it_stands(
    typed: str, country: str | None, rest: dict[str, object]
) -> None:
    never(cast.marcel())
    assert why_not(cast.herve(), typed, country, **rest) == "never_ring"


def test_it_is_refused_again_two_years_on_under_another_name() -> None:
    """Name and number are erased after a day; the keyed mark is what is found."""
    never(cast.marcel())
    actions.let_never_rings_go(at=LATER)
    assert not PhoneLine.objects.exists()
    assert why_not(cast.person("90", "Marcelle"), "04 65 71 00 01") == "never_ring"
