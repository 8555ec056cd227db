"""Links: put right by the artist, sealed for good, and sealed again where a row comes back."""

from datetime import date

import pytest

from relations.people import actions, links
from relations.people.models import Introduction, Participant, PhoneLine
from relations.people.queries import vouching
from relations.people.rules import vouch
from relations.people.values import Refusal
from relations.privacy import ledger, log
from relations.privacy.ledger import LedgerBroken
from relations.privacy.models import AccessEntry, LedgerHead, Mending
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def told() -> Introduction:
    """Nour, of whom Marcel told us; he said that he may be named, and has power over her."""
    return cast.told(
        cast.person("51", "Nour"), cast.marcel(), heard_on=date(2026, 5, 20), asked_first=True,
        may_say_who=True, has_power=True, vouched_on=date(2026, 5, 21),
    )  # fmt: skip


def seal(*rows: Introduction, wave: int = 1) -> None:
    links.seal(rows=rows, waves={row.pk: wave for row in rows}, by=cast.artist())


def mend(told: Introduction, **said: object) -> None:
    given = {"on": told.heard_on, "introducer": told.introducer, "outside": told.outside, **said}
    links.mend_hearing(told=told, by=cast.artist(), at=AT, **given)


def refused(act, *args: object, **said: object) -> tuple[str, ...]:
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


def test_sealed_link_keeps_its_day_and_wave_and_nothing_of_who_it_was(told):
    mend(told, introducer=cast.bruno())
    mend(told, introducer=cast.marcel())
    Introduction.objects.filter(pk=told.pk).update(may_say_who=True, has_power=True)
    told.refresh_from_db()
    seal(told, wave=1)
    told.refresh_from_db()
    assert (told.introducer, told.outside, told.is_withheld, told.wave) == (None, None, True, 1)
    assert (told.may_say_who, told.has_power) == (None, None)
    assert told.heard_on == date(2026, 5, 20)
    assert not Mending.objects.filter(key=told.pk).exists()
    assert (told.person.introductions.count(), told.asked_first) == (1, None)


def test_what_was_asked_first_and_the_yes_stay_with_the_stub(told):
    seal(told)
    told.refresh_from_db()
    assert (told.asked_first, told.vouched_on) == (True, date(2026, 5, 21))


def test_line_through_whoever_told_us_says_nothing_of_whose_it_is(told):
    line = cast.line(told.person, "06 39 98 00 31", through=told.introducer)
    other = cast.line(told.person, "06 39 98 00 32", through=cast.bruno())
    seal(told)
    assert PhoneLine.objects.filter(pk=line.pk, through=None, is_shared=True).exists()
    assert PhoneLine.objects.get(pk=other.pk).through == cast.bruno()


def test_link_from_outside_is_sealed_too():
    told = cast.told(cast.person("51", "Nour"), outside=cast.chaplaincy())
    seal(told)
    told.refresh_from_db()
    assert (told.outside, told.is_withheld) == (None, True)


def test_sealing_is_written_in_the_ledger_and_the_log_and_marked_as_applied(told):
    seal(told)
    assert [entry.person_id for entry in ledger.entries()] == [told.pk]
    assert LedgerHead.objects.get().seq == 1
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.kind, last.key) == ("sealed", links.KIND, told.person.log_key)
    assert log.broken_at() is None


def test_nothing_older_left_to_clear_lets_the_free_pages_be_cleared(
    told, django_capture_on_commit_callbacks, monkeypatch
):
    cleared = []
    monkeypatch.setattr(links.residue, "clear", cleared.append)
    with django_capture_on_commit_callbacks(execute=True):
        seal(told)
    assert cleared == [["people_introduction", "privacy_mending", "people_phoneline"]]
    ledger.append(cast.bruno().log_key)  # an erasure that was cut short: the next opening ends it
    with django_capture_on_commit_callbacks(execute=True):
        seal(cast.told(cast.bruno(), cast.marcel()))
    assert len(cleared) == 1
    assert LedgerHead.objects.get().seq == 1


def test_sealing_is_for_artist_and_keeper_and_once(told):
    waves = {told.pk: 1}
    by_assistant = {"rows": [told], "waves": waves, "by": cast.assistant()}
    assert refused(links.seal, **by_assistant) == ("artist_or_keeper",)
    links.seal(rows=[told], waves=waves, by=cast.keeper())
    again = {"rows": [Introduction.objects.get(pk=told.pk)], "waves": waves, "by": cast.artist()}
    assert refused(links.seal, **again) == ("sealed_before",)
    assert refused(links.seal, rows=[], waves={}, by=cast.artist()) == ("sealed_before",)


def test_own_start_has_nothing_to_seal():
    own = cast.told(cast.marcel())
    assert refused(seal, own) == ("sealed_before",)


def test_nothing_is_sealed_where_the_ledger_does_not_stand(told, monkeypatch):
    def broken(key):
        raise LedgerBroken(1, ledger.CHANGED)

    monkeypatch.setattr(ledger, "append", broken)
    assert refused(seal, told) == ("ledger",)
    told.refresh_from_db()
    assert told.introducer == cast.marcel()


def test_row_that_comes_back_is_sealed_again_and_a_strange_key_is_nothing(told):
    assert links.seal_again(told.pk, {told.pk: 2})
    told.refresh_from_db()
    assert (told.introducer, told.wave) == (None, 2)
    assert not links.seal_again(told.pk, {told.pk: 2})
    assert not links.seal_again(cast.marcel().pk, {})


def test_older_values_that_name_somebody_are_let_go(told):
    mend(told, introducer=cast.bruno())
    mend(told, on=date(2026, 5, 19))
    links.forget_mended(cast.bruno())
    assert Mending.objects.count() == 2
    links.forget_mended(cast.marcel())
    assert [set(row.old) for row in Mending.objects.all()] == [{"heard_on"}]


def test_name_behind_a_sealed_link_is_vouched_for_by_nobody():
    nour = cast.person("50", "Nour")
    told = cast.told(nour, cast.marcel(), asked_first=True)
    assert vouch(vouching(told, nour)) == ()
    seal(told)
    told.refresh_from_db()
    assert Refusal.INTRODUCER_HAS_NOT_SAT in vouch(vouching(told, nour))


def test_who_told_us_is_mended_and_what_was_asked_of_the_first_one_goes(told):
    mend(told, introducer=cast.bruno())
    told.refresh_from_db()
    assert told.introducer == cast.bruno()
    assert {told.asked_first, told.may_say_who, told.has_power, told.vouched_on} == {None}
    old = Mending.objects.get().old
    assert (old["introducer"], old["may_say_who"]) == (str(cast.marcel().pk), True)


def test_day_is_mended_to_the_first_of_what_is_known_and_what_was_asked_stays(told):
    mend(told, on=date(2026, 5, 20), precision="month")
    told.refresh_from_db()
    assert (told.heard_on, told.precision) == (date(2026, 5, 1), "month")
    assert told.vouched_on == date(2026, 5, 21)
    mend(told, on=date(2025, 5, 20), precision="year")
    told.refresh_from_db()
    assert (told.heard_on, told.precision) == (date(2025, 1, 1), "year")


def test_what_is_as_it_was_is_no_mending(told):
    mend(told)
    assert not Mending.objects.exists()


def test_of_a_sealed_link_the_day_alone_is_mended(told):
    seal(told)
    told.refresh_from_db()
    mend(told, on=date(2026, 4, 1))
    told.refresh_from_db()
    assert (told.heard_on, told.is_withheld, told.introducer) == (date(2026, 4, 1), True, None)
    assert told.vouched_on == date(2026, 5, 21)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"outside": cast.chaplaincy}, "two_sources"),
        ({"introducer": lambda: cast.person("51", "Nour")}, "by_themselves"),
        ({"introducer": cast.bruno}, "told_before"),
        ({"introducer": lambda: None, "outside": cast.chaplaincy}, "told_before"),
        ({"on": lambda: cast.days(1)}, "in_the_future"),
        ({"on": lambda: date(2026, 5, 22)}, "after_yes"),
    ],
)
def test_what_cannot_be_is_no_mending(told, said, code):
    cast.told(told.person, cast.bruno())
    cast.told(told.person, outside=cast.chaplaincy())
    given = {name: value() for name, value in said.items()}
    assert refused(mend, told, **given) == (code,)


def test_mending_who_told_us_is_for_the_artist(told):
    said = {"told": told, "by": cast.assistant(), "at": AT, "on": told.heard_on}
    assert refused(links.mend_hearing, **said) == ("artist_only",)


def test_word_of_a_year_begins_its_clock_on_the_last_day_it_may_be_of():
    say = {"by": cast.artist(), "call_name": "Nour"}
    past = actions.hear(on=date(2024, 3, 4), precision="month", **say)
    assert (past.heard_on, past.standing_since) == (date(2024, 3, 1), date(2024, 3, 31))
    now = actions.hear(on=cast.TODAY, precision="year", **say)
    assert (now.heard_on, now.standing_since) == (date(cast.TODAY.year, 1, 1), cast.TODAY)
    assert {one.precision for one in Introduction.objects.all()} == {"month", "year"}
    assert Participant.objects.count() == 2


def test_words_of_one_person_are_numbered_in_the_order_of_entry():
    nour = cast.person("51", "Nour")
    heard = [
        actions.hear_again(person=nour, introducer=who, on=cast.TODAY, by=cast.artist())
        for who in (cast.marcel(), cast.bruno(), cast.danuta())
    ]
    assert [one.number for one in heard] == [1, 2, 3]
    assert list(nour.introductions.all()) == heard
