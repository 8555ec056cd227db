"""Links by their rows: what each stub keeps, what is proposed, what still says it, what is open."""

from datetime import date
from uuid import uuid4

import pytest
from django.db.models.signals import post_init
from django.http import Http404

from relations.meetings import queries as rung
from relations.people import links as people
from relations.people.models import Introduction, Participant, Speaker
from relations.people.values import LinkOver, Standing
from relations.pictures.models import Appearance, Picture, Sitting
from relations.referrals import links, queries
from relations.referrals.graph import Kind
from relations.referrals.questions import Ask
from relations.today import person as whole
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


def seal(*rows):
    people.seal(rows=rows, waves=links.waves(rows), by=cast.artist())


def told(code, introducer=None, outside=None, **rest):
    """Somebody new, and the word of them."""
    rest.setdefault("heard_on", date(2026, 6, 1))
    return cast.told(cast.person(code, f"Name {code}"), introducer, outside, **rest)


def waves_of_all():
    return {code: one.wave for code, one in queries.web().reached.items()}


def test_no_wave_moves_whatever_is_sealed():
    cast.herve()  # 01 told us of 12, 12 of 28, 28 of 41
    cast.ibrahima()  # X2 of 35
    first = told("60", cast.marcel(), heard_on=date(2026, 6, 2))
    further = cast.told(
        first.person, Participant.objects.get(code="28"), heard_on=date(2026, 11, 1)
    )
    same_day = cast.told(first.person, cast.danuta(), heard_on=date(2026, 6, 2), number=2)
    early = told("61", first.person, heard_on=date(2026, 6, 1))
    cast.told(early.person, cast.marcel(), heard_on=date(2026, 7, 1))
    before = waves_of_all()
    assert (before["60"], before["61"]) == (1, 1)
    for row in (further, same_day, early, *Introduction.objects.filter(people.naming())):
        row.refresh_from_db()
        if row.is_withheld:
            continue
        seal(row)
        assert waves_of_all() == before


def test_stub_of_somebody_reached_by_nobody_has_no_wave():
    row = told("60", cast.person("61", "Nobody"))
    assert links.waves([row]) == {row.pk: None}


def test_links_of_somebody_are_both_ways_each_with_what_it_was():
    cast.herve()
    danuta = cast.danuta()
    found = links.of(danuta)
    assert [(one.source, one.row.person.code, one.kind) for one in found] == [
        ("01", "12", Kind.FIRST), ("12", "28", Kind.FIRST),
    ]  # fmt: skip
    assert all(one.is_named for one in found)
    own = links.of(cast.marcel())[0]
    assert (own.source, own.is_named) == ("", False)
    seal(found[0].row)
    assert links.of(danuta)[0].source == "?"
    assert not links.of(danuta)[0].is_named


def test_links_of_somebody_outside_are_found_by_their_code():
    cast.ibrahima()
    outside = links.whose_or_404("x2")
    assert outside == cast.chaplaincy()
    assert [one.row.person.code for one in links.of(outside)] == ["35"]
    with pytest.raises(Http404):
        links.whose_or_404("ZZ")


def test_link_that_is_sealed_or_absent_or_an_own_start_is_not_there():
    row = told("60", cast.marcel())
    assert links.row_or_404(row.pk) == row
    seal(row)
    for key in (row.pk, uuid4(), cast.told(cast.marcel()).pk):
        with pytest.raises(Http404):
            links.row_or_404(key)


def test_links_are_proposed_three_years_after_the_last_sitting_and_at_closing():
    marcel, on = cast.marcel(), date(2026, 11, 23)
    rows = {
        code: told(code, marcel, heard_on=date(2023, 1, 1)) for code in ("60", "61", "62", "63")
    }
    days = {"60": [date(2023, 11, 23)], "61": [date(2023, 1, 5), date(2025, 1, 5)]}
    days["62"] = [date(2023, 2, 1)]
    for code, sittings in days.items():
        for day in sittings:
            make(Sitting, on=day).sitters.add(rows[code].person)
    cast.line(rows["62"].person, "06 39 98 00 62", through=marcel)
    Participant.objects.filter(code="63").update(standing=Standing.CLOSED)
    found = [(one.row.person.code, one.source, one.why, one.sat_on) for one in links.over(on)]
    assert found == [
        ("60", "01", LinkOver.SAT_LONG_AGO, date(2023, 11, 23)),
        ("63", "01", LinkOver.CLOSED, None),
    ]
    rows["62"].person.lines.update(ended_on=on)
    assert [one.row.person.code for one in links.over(on)] == ["62", "60", "63"]
    seal(*(one.row for one in links.over(on)))
    assert links.over(on) == []


def test_what_still_says_that_two_know_each_other_is_named():
    row = told("60", cast.marcel())
    assert links.still_told(row) == []
    marcel, nour = row.introducer, row.person
    number = "04 65 71 00 31"
    for one in (marcel, nour):
        cast.line(one, number)
    Speaker.objects.create(person=nour, speaker=marcel, named_on=date(2026, 6, 1))
    picture = make(Picture)
    for place, one in enumerate((marcel, nour), start=1):
        make(Appearance, picture=picture, person=one, place=place)
    nour.may_say = "Say that Marcel sends you."
    nour.save()
    row.refresh_from_db()
    held = links.of(nour)
    assert links.still_told(held[0].row) == ["telephone", "speaker", "picture", "words"]
    assert links.still_told_of_all([*held, *held]) == ["telephone", "speaker", "picture", "words"]


def test_line_that_names_somebody_outside_still_says_it():
    row = told("60", outside=cast.chaplaincy())
    assert links.still_told(row) == []
    row.person.instruction = f"Ring by {cast.chaplaincy().label}."
    row.person.save()
    assert links.still_told(row) == ["words"]


def test_sealed_again_is_the_row_that_is_there_and_names_somebody():
    row = told("60", cast.marcel())
    assert links.seal_again(row.pk)
    row.refresh_from_db()
    assert (row.introducer, row.wave) == (None, 1)
    assert not links.seal_again(row.pk)
    assert not links.seal_again(uuid4())


def test_card_of_a_ring_says_no_name_behind_a_sealed_link():
    row = told("60", cast.marcel(), may_say_who=True)
    assert (rung.may_say(row.person), whole.may_say(row.person)) == ("Marcel", "Marcel")
    seal(row)
    assert (rung.may_say(row.person), whole.may_say(row.person)) == ("", "")
    cast.told(row.person, outside=cast.chaplaincy(), may_say_who=True, heard_on=row.heard_on)
    assert rung.may_say(row.person) == cast.chaplaincy().label


def test_41_named_by_28_who_has_not_sat_is_a_question():
    cast.herve()
    found = [(one.ask, one.hearing.source, one.hearing.person) for one in links.open_questions()]
    assert found == [(Ask.HAS_NOT_SAT, "28", "41")]


def test_word_of_a_month_is_read_with_its_last_day_and_is_not_exact():
    told("60", cast.marcel(), heard_on=date(2026, 6, 1), precision="month")
    told("61", cast.danuta(), heard_on=date(2026, 6, 1), precision="month")
    cast.told(cast.person("61", "Name 61"), cast.marcel(), heard_on=date(2026, 6, 20))
    order = [one.hearing for one in links.open_questions() if one.ask == Ask.ORDER]
    assert [(one.person, one.source, one.last) for one in order] == [
        ("61", "12", date(2026, 6, 30)),
    ]  # fmt: skip
    assert not queries.web().reached["60"].is_exact
    assert queries.web().reached["01"].is_exact


def test_what_is_open_in_the_rehearsal_is_41_alone(rehearsal):
    found = [(one.ask, one.hearing.source, one.hearing.person) for one in links.open_questions()]
    assert found == [(Ask.HAS_NOT_SAT, "28", "41")]


def test_sealing_any_link_of_the_rehearsal_moves_no_wave(rehearsal):
    before = waves_of_all()
    rows = list(Introduction.objects.filter(people.naming()))
    assert len(rows) > 30
    seal(*rows)
    assert waves_of_all() == before
    assert not Introduction.objects.filter(people.naming()).exists()


def test_what_is_not_asked_of_is_not_made_a_row_of():
    """Neither the links of those who sat lately, nor the words of whoever is more than named."""
    marcel, on = cast.marcel(), date(2026, 11, 23)
    Participant.objects.update(standing=Standing.TAKING_PART)
    for code in ("60", "61", "62"):
        row = told(code, marcel)
        make(Sitting, on=date(2026, 1, 5)).sitters.add(row.person)
        Participant.objects.filter(code=code).update(standing=Standing.TAKING_PART)
    made = []
    post_init.connect(hear := lambda instance, **_: made.append(instance), Introduction)
    try:
        assert (links.over(on), links.open_questions()) == ([], [])
        assert made == []
        Participant.objects.filter(code="61").update(standing=Standing.NAMED)
        assert links.open_questions() == []
        assert [row.person.code for row in made] == ["61"]
    finally:
        post_init.disconnect(hear, Introduction)
