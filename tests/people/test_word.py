"""Word that comes through, vouching, and somebody ringing us."""

import pytest

from relations.languages.codes import is_well_formed
from relations.people import actions, links
from relations.people.models import InSight, Introduction, OutsideIntroducer, Participant, RangUs
from relations.privacy.models import AccessEntry, User
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()


def codes(caught: pytest.ExceptionInfo[Refused]) -> tuple[str, ...]:
    return caught.value.codes


def vouch(introduction: object, by: object, asked_first: bool | None = True) -> None:
    actions.vouch(
        introduction=introduction,
        asked_first=asked_first,
        may_say_who=False,
        has_power=False,
        on=cast.TODAY,
        by=by,
    )


def test_word_heard_makes_a_person_with_a_drawn_code_and_little_else() -> None:
    person = actions.hear(call_name="Nour", on=cast.TODAY, by=cast.assistant())
    assert is_well_formed(person.code)
    assert (person.standing, person.standing_since) == ("named", cast.TODAY)
    told = person.introductions.get()
    assert (told.introducer, told.outside, told.asked_first) == (None, None, None)


def test_the_same_name_twice_is_two_people_and_nobody_is_told() -> None:
    first = actions.hear(call_name="Nour", on=cast.TODAY, by=cast.assistant())
    second = actions.hear(call_name="Nour", on=cast.TODAY, by=cast.assistant())
    assert first.pk != second.pk


def test_a_code_can_be_given() -> None:
    assert actions.hear(call_name="N", on=cast.TODAY, by=cast.artist(), code="43").code == "43"


def test_word_has_one_source() -> None:
    with pytest.raises(Refused) as caught:
        actions.hear(
            call_name="N", on=cast.TODAY, by=cast.artist(), introducer=cast.marcel(),
            outside=cast.chaplaincy(),
        )  # fmt: skip
    assert codes(caught) == ("two_sources",)
    assert not Participant.objects.filter(code="N").exists()


def test_nobody_tells_of_themselves_or_twice() -> None:
    bruno, say = cast.bruno(), {"on": cast.TODAY, "by": cast.artist()}
    for introducer, code in ((bruno, "by_themselves"), (cast.marcel(), "told_before")):
        with pytest.raises(Refused) as caught:
            actions.hear_again(person=bruno, introducer=introducer, **say)
        assert codes(caught) == (code,)
    told = actions.hear_again(person=bruno, outside=cast.chaplaincy(), asked_first=True, **say)
    assert told.outside == cast.chaplaincy()


def test_an_introducer_who_has_not_sat_does_not_vouch() -> None:
    herve = cast.herve()
    with pytest.raises(Refused) as caught:
        vouch(herve.introductions.get(), cast.artist())
    assert codes(caught) == ("introducer_has_not_sat", "introducer_may_not_vouch")
    herve.refresh_from_db()
    assert herve.standing == "named"


def test_the_artists_yes_moves_a_name_on() -> None:
    person = actions.hear(
        call_name="N", on=cast.days(-3), by=cast.assistant(), introducer=cast.marcel()
    )
    vouch(person.introductions.get(), cast.artist())
    person.refresh_from_db()
    assert (person.standing, person.standing_since) == ("vouched_for", cast.TODAY)
    assert person.introductions.get().vouched_on == cast.TODAY


def test_the_assistants_answers_wait_for_the_artist() -> None:
    person = actions.hear(
        call_name="N", on=cast.days(-3), by=cast.assistant(), introducer=cast.marcel()
    )
    vouch(person.introductions.get(), cast.assistant())
    person.refresh_from_db()
    told = person.introductions.get()
    assert (told.asked_first, told.vouched_on, person.standing) == (True, None, "named")


def test_who_was_not_asked_first_is_not_vouched_for() -> None:
    for community, asked in ((None, None), (cast.aulne(), False), (cast.erable(), None)):
        person = actions.hear(
            call_name="N", on=cast.TODAY, by=cast.artist(), introducer=cast.marcel(),
            community=community,
        )  # fmt: skip
        with pytest.raises(Refused) as caught:
            vouch(person.introductions.get(), cast.artist(), asked_first=asked)
        assert codes(caught) == ("not_asked_first",)


def test_a_second_word_does_not_move_a_sitter_back() -> None:
    danuta = cast.danuta()
    told = cast.told(danuta, outside=cast.chaplaincy(), heard_on=cast.days(-1))
    vouch(told, cast.artist())
    danuta.refresh_from_db()
    assert danuta.standing == "taking_part"
    assert told.vouched_on == cast.TODAY


def test_vouching_twice_is_vouching_once() -> None:
    daud = cast.daud()
    vouch(daud.introductions.get(), cast.artist())
    daud.refresh_from_db()
    assert daud.standing_since == daud.heard_on


def test_a_yes_to_a_page_of_before_undoes_neither_a_no_nor_a_sealed_link() -> None:
    person = actions.hear(
        call_name="N", on=cast.days(-3), by=cast.assistant(), introducer=cast.marcel()
    )
    told = Introduction.objects.select_related("person").get(person=person)
    actions.never_ring(person=person, by=cast.assistant(), at=cast.moment())
    vouch(told, cast.artist())
    person.refresh_from_db()
    assert person.standing == "never_ring"
    links.seal(rows=[person.introductions.get()], waves={}, by=cast.artist())
    with pytest.raises(Refused):
        vouch(told, cast.artist())
    sealed = person.introductions.get()
    assert (sealed.introducer, sealed.is_withheld, sealed.may_say_who) == (None, True, None)


def test_only_the_artist_says_who_may_vouch() -> None:
    bruno = cast.bruno()
    with pytest.raises(Refused) as caught:
        actions.let_vouch(person=bruno, may_vouch=True, by=cast.assistant())
    assert codes(caught) == ("artist_only",)
    actions.let_vouch(person=bruno, may_vouch=True, by=cast.artist())
    bruno.refresh_from_db()
    assert bruno.may_vouch


def test_groups_and_people_outside_are_kept_by_key() -> None:
    group = actions.add_community(key="orme", name="Orme", is_raised=True, by=cast.artist())
    assert group.is_raised
    for day in (None, cast.TODAY):
        actions.accept_outside(code="X9", label="a choir", accepted_on=day, by=cast.artist())
    row = OutsideIntroducer.objects.get(code="X9")
    assert (row.label, row.accepted_on) == ("a choir", cast.TODAY)


def rang(typed: str) -> RangUs:
    return actions.rang_us(typed=typed, by=cast.assistant(), at=AT)


def seen() -> list[tuple[str, str]]:
    return sorted(InSight.objects.values_list("person__code", "why"))


def test_who_rings_us_comes_into_sight_by_code() -> None:
    cast.danuta()
    heard = rang("12")
    assert heard.perhaps == ["12"]
    assert seen() == [("12", "rang_us")]
    assert AccessEntry.objects.get().key == cast.danuta().log_key


def test_everyone_on_the_line_comes_into_sight_by_number() -> None:
    cast.bruno()
    rang("0465710012")
    assert seen() == [("12", "rang_us"), ("19", "rang_us")]


def test_a_name_that_is_one_persons_brings_them_into_sight() -> None:
    cast.bruno()
    rang("danuta")
    assert seen() == [("12", "rang_us")]


def test_a_name_that_several_have_brings_nobody_into_sight() -> None:
    cast.person("50", "Nour")
    cast.person("51", "nour")
    heard = rang("Nour")
    assert seen() == []
    assert heard.perhaps == ["50", "51"]


def test_an_unknown_caller_is_kept_all_the_same() -> None:
    heard = rang("somebody about a picture")
    heard.refresh_from_db()
    assert (heard.typed, heard.perhaps) == ("somebody about a picture", [])


def test_the_artist_settles_who_rang_and_what_was_typed_goes() -> None:
    heard = rang("somebody")
    with pytest.raises(Refused):
        actions.settle_rang_us(heard=heard, on=cast.TODAY, by=cast.assistant())
    actions.settle_rang_us(heard=heard, on=cast.TODAY, by=cast.artist())
    heard.refresh_from_db()
    assert (heard.typed, heard.settled_on) == ("", cast.TODAY)


def test_putting_somebody_in_sight_twice_is_once() -> None:
    for _ in range(2):
        actions.put_in_sight(
            person=cast.marcel(), user=cast.assistant(), day=cast.TODAY, why="ring"
        )
    assert seen() == [("01", "ring")]


def test_a_caller_in_another_spelling_is_for_the_artist_and_comes_into_nobodys_sight() -> None:
    cast.rachid()
    heard = rang("Rashid")
    assert heard.perhaps == ["17"]
    assert seen() == []


def test_word_of_somebody_known_is_noted_with_them_and_nothing_is_put_together() -> None:
    known, introducer = cast.rachid(), cast.person("80", "Odile", "taking_part")
    fresh = actions.hear(
        call_name="Rashid", on=cast.TODAY, by=cast.assistant(), introducer=introducer,
        asked_first=True,
    )  # fmt: skip
    told = actions.same_as(person=fresh, known=known, by=cast.artist())
    assert (told.person, told.introducer, told.asked_first) == (known, introducer, True)
    fresh.refresh_from_db()
    assert fresh.standing == "named"
    assert fresh.introductions.count() == 1


def test_the_same_is_said_by_the_artist_once_and_only_of_word_that_came() -> None:
    known, introducer = cast.rachid(), cast.person("80", "Odile", "taking_part")
    fresh = actions.hear(call_name="Rashid", on=cast.TODAY, by=cast.artist(), introducer=introducer)
    by = cast.artist()

    def why_not(by: User, **who: Participant) -> str:
        with pytest.raises(Refused) as caught:
            actions.same_as(by=by, **who)
        return caught.value.codes[0]

    assert why_not(cast.assistant(), person=fresh, known=known) == "artist_only"
    assert why_not(by, person=cast.person("91", "Alone"), known=known) == "nobody_told"
    assert why_not(by, person=fresh, known=introducer) == "by_themselves"
    actions.same_as(person=fresh, known=known, by=by)
    assert why_not(by, person=fresh, known=known) == "told_before"


def test_what_is_hoped_for_of_a_group_is_said_by_the_artist_and_taken_back() -> None:
    aulne = cast.aulne()
    assert aulne.hoped_for is None
    with pytest.raises(Refused) as caught:
        actions.hope_for(community=aulne, hoped_for=9, by=cast.assistant())
    assert codes(caught) == ("artist_only",)
    for said in (9, None):
        actions.hope_for(community=aulne, hoped_for=said, by=cast.artist())
        aulne.refresh_from_db()
        assert aulne.hoped_for == said


@pytest.mark.parametrize("who", [cast.marcel, cast.chaplaincy])
def test_thanks_are_noted_by_the_artist_with_their_day_and_taken_back(who: object) -> None:
    introducer = who()  # type: ignore[operator]
    with pytest.raises(Refused) as caught:
        actions.thank(introducer=introducer, on=cast.TODAY, by=cast.assistant())
    assert codes(caught) == ("artist_only",)
    for said in (cast.TODAY, None):
        actions.thank(introducer=introducer, on=said, by=cast.artist())
        introducer.refresh_from_db()
        assert introducer.thanked_on == said


def test_who_was_asked_to_tell_of_others_is_noted_by_the_artist_and_taken_back() -> None:
    marcel = cast.marcel()
    with pytest.raises(Refused) as caught:
        actions.ask_to_tell(person=marcel, on=cast.TODAY, by=cast.assistant())
    assert codes(caught) == ("artist_only",)
    for said in (cast.TODAY, None):
        actions.ask_to_tell(person=marcel, on=said, by=cast.artist())
        marcel.refresh_from_db()
        assert marcel.asked_to_tell_on == said


def test_somebody_outside_tells_of_a_person_once() -> None:
    nour = cast.told(cast.person("51", "Nour"), outside=cast.chaplaincy()).person
    with pytest.raises(Refused) as caught:
        actions.hear_again(person=nour, outside=cast.chaplaincy(), on=cast.TODAY, by=cast.artist())
    assert codes(caught) == ("told_before",)
    for _word in range(2):  # our own start has no one who could have told it before
        actions.hear_again(person=nour, on=cast.TODAY, by=cast.artist())
    assert nour.introductions.count() == 3
