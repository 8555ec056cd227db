"""The ring list and the ring card in the browser: one press, stored once."""

from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils.translation import override

from relations.meetings import actions, queries
from relations.meetings.models import Call
from relations.meetings.ring_views import scripts
from relations.people import actions as people
from relations.people.models import Standing
from relations.privacy.models import AccessEntry
from tests import cast
from tests.meetings.test_views import page, send

pytestmark = pytest.mark.django_db


@pytest.fixture
def loic(client):
    return cast.signed_in(client, cast.assistant())


@pytest.fixture
def bruno():
    who = cast.bruno()
    cast.in_sight(who, cast.assistant())
    return who


def unlocked_hours(who):
    who.safe_hours = [["08:00", "12:00"]]
    who.save()


def test_card_of_a_shared_telephone_says_whom_to_ask_for_and_shows_no_number(loic, bruno) -> None:
    unlocked_hours(bruno)
    text = page(loic, "meetings:ring", "19")
    assert "This telephone is shared" in text
    assert "say nothing else" in text
    assert "You may be heard" in text
    assert "Show number" in text
    assert "65 71" not in text
    assert "you may say" in text
    assert "Danuta" in text  # Danuta may be named as having sent us
    assert not AccessEntry.objects.exists()


def test_card_outside_safe_hours_offers_no_number(loic, bruno) -> None:
    bruno.safe_hours = [["14:00", "16:00"]]
    bruno.save()
    text = page(loic, "meetings:ring", "19")
    assert "not now" in text
    assert "Show number" not in text


def test_card_gives_the_hours_by_our_clock_too_where_theirs_is_another(loic, bruno) -> None:
    bruno.safe_hours = [["14:00", "16:00"]]
    bruno.save()
    assert "By our own clock" not in page(loic, "meetings:ring", "19")
    bruno.lines.update(zone="Asia/Kathmandu")
    text = page(loic, "meetings:ring", "19")
    assert "By our own clock" in text
    assert "09:15–11:15" in text


def test_card_names_nobody_where_nobody_may_be_named(loic) -> None:
    cast.in_sight(cast.daud(), cast.assistant())
    text = page(loic, "meetings:ring", "42")
    assert "say no name" in text
    assert "Marcel" not in text


def test_outcome_is_one_press_and_is_stored_once(loic, bruno) -> None:
    data = {"token": str(uuid4()), "outcome": "no_answer"}
    for _ in range(2):
        answer = loic.post(reverse("meetings:ring", args=["19"]), data)
        assert answer.headers["Location"] == reverse("meetings:rings")
    assert Call.objects.filter(outcome="no_answer").count() == 1
    assert "No answer" in page(loic, "meetings:ring", "19")
    assert "Not today" in page(loic, "meetings:ring", "19")


def test_yes_goes_on_to_the_meeting(loic) -> None:
    daud = cast.daud()
    cast.in_sight(daud, cast.assistant())
    answer = send(loic, "meetings:ring", "42", outcome="yes_meet")
    assert answer.headers["Location"] == reverse("meetings:fix", args=["42"])


def test_unknown_outcome_is_refused_in_words(loic, bruno) -> None:
    answer = send(loic, "meetings:ring", "19", outcome="nonsense")
    assert answer.status_code == 422
    assert "Please look again" in answer.content.decode()


def test_rest_is_said_with_its_day_and_offers_no_number(loic, bruno) -> None:
    unlocked_hours(bruno)
    for day in (-8, -6, -4, -2):
        Call.objects.create(
            person=bruno, state="settled", outcome="thinking", by=cast.artist(),
            at=cast.moment(cast.days(day)),
        )  # fmt: skip
    text = page(loic, "meetings:ring", "19")
    assert "Let them rest until 15 December 2026" in text
    assert "Show number" not in text
    answer = send(loic, "meetings:ring", "19", outcome="no_answer")
    assert answer.status_code == 422
    assert "15 December 2026" in answer.content.decode()
    assert send(loic, "meetings:ring", "19", outcome="thinking", by_them="on").status_code == 302


def test_hold_leaves_only_the_no(loic, bruno) -> None:
    people.hold(person=bruno, by=cast.artist(), at=cast.moment())
    text = page(loic, "meetings:ring", "19")
    assert 'value="no"' in text
    assert 'value="thinking"' not in text
    assert send(loic, "meetings:ring", "19", outcome="no").status_code == 302


def test_card_of_one_not_vouched_for_says_that_nobody_rings(client) -> None:
    cast.herve()
    text = page(cast.signed_in(client, cast.artist()), "meetings:ring", "41")
    assert "Nobody has vouched for them yet" in text
    cast.person("50", "Ode", Standing.SAID_NO)
    assert "unless they come to us" in page(client, "meetings:ring", "50")


def test_card_of_a_sitter_offers_a_talk_without_the_six_beats(client) -> None:
    artist = cast.signed_in(client, cast.artist())
    danuta = cast.danuta()
    text = page(artist, "meetings:ring", "12")
    assert "Six beats" not in text
    send(artist, "meetings:ring", "12", outcome="spoke")
    danuta.refresh_from_db()
    assert danuta.last_talk_on == cast.TODAY


def test_ring_later_asks_for_the_day_and_comes_back_as_typed(loic, bruno) -> None:
    page(loic, "meetings:ring_later", "19")
    answer = send(loic, "meetings:ring_later", "19", day="soon", hour="10:30")
    assert answer.status_code == 422
    assert 'value="soon"' in answer.content.decode()
    send(loic, "meetings:ring_later", "19", day="2026-11-25", hour="10:30")
    assert bruno.calls.get(state="planned").due_at == cast.moment(cast.days(2), 10, 30)
    past = send(loic, "meetings:ring_later", "19", day="2026-11-20")
    assert past.status_code == 422


def test_thinking_until_the_day_they_named(loic, bruno) -> None:
    page(loic, "meetings:thinking", "19")
    send(loic, "meetings:thinking", "19", outcome="thinking", day="2026-12-01")
    assert bruno.calls.get(state="planned").due_on == cast.days(8)
    assert send(loic, "meetings:thinking", "19", outcome="thinking", day="").status_code == 422


def test_never_ring_asks_once(loic, bruno) -> None:
    assert "Never ring again?" in page(loic, "meetings:never", "19")
    bruno.refresh_from_db()
    assert bruno.standing == Standing.MET
    send(loic, "meetings:never", "19")
    bruno.refresh_from_db()
    assert bruno.standing == Standing.NEVER_RING
    stale = loic.post(reverse("meetings:never", args=["19"]), {"token": "no token"})
    assert stale.status_code == 422


def test_list_shows_what_fits_and_to_the_artist_who_waits(client) -> None:
    artist = cast.signed_in(client, cast.artist())
    daud, bruno = cast.daud(), cast.bruno()
    text = page(artist, "meetings:rings")
    assert "Nobody is to be rung today" in text
    assert "Plan a ring" in text
    actions.plan_ring(person=daud, due_on=cast.TODAY, by=cast.artist())
    actions.plan_ring(person=bruno, due_on=cast.days(-1), by=cast.artist())
    edelmira = cast.edelmira()
    actions.plan_ring(person=edelmira, due_on=cast.days(4), by=cast.artist(), parts=["morning"])
    actions.note_call(person=edelmira, outcome="asks_who", by=cast.artist(), at=cast.moment())
    text = page(artist, "meetings:rings")
    for said in ("দাউদ", "Bruno", "Shared telephone", "Only through whoever told us", "from"):
        assert said in text


def test_assistants_list_holds_people_in_sight_only(loic, bruno) -> None:
    actions.plan_ring(person=bruno, due_on=cast.TODAY, by=cast.artist())
    actions.plan_ring(person=cast.marcel(), due_on=cast.TODAY, by=cast.artist())
    cast.marcel().in_sight.all().delete()
    text = page(loic, "meetings:rings")
    assert "Bruno" in text
    assert "Marcel" not in text
    assert "Only through" not in text


def test_ring_is_planned_and_put_off(client) -> None:
    artist = cast.signed_in(client, cast.artist())
    daud = cast.daud()
    page(artist, "meetings:plan", "42")
    send(artist, "meetings:plan", "42", due_on="2026-11-24")
    assert daud.calls.get().due_on == cast.days(1)
    assert "Not today" in page(artist, "meetings:plan", "42")
    send(artist, "meetings:plan", "42", due_on="2026-11-26")
    assert daud.calls.get().due_on == cast.days(3)
    assert send(artist, "meetings:plan", "42", due_on="2026-11-01").status_code == 422


def test_ring_card_of_somebody_out_of_sight_is_absent(loic) -> None:
    cast.marcel()
    for name in ("ring", "ring_later", "thinking", "never", "plan"):
        address = reverse(f"meetings:{name}", args=["01"])
        assert loic.get(address).status_code == 404
        assert loic.post(address, {"token": str(uuid4())}).status_code == 404


def test_number_is_shown_on_the_card_by_a_press_that_is_noted(loic, bruno) -> None:
    unlocked_hours(bruno)
    line = bruno.lines.get()
    address = reverse("meetings:number", args=["19", line.pk])
    assert f'action="{address}"' in page(loic, "meetings:ring", "19")
    shown = loic.post(address).content.decode()
    assert 'href="tel:+33-4-65-71-00-12"' in shown
    assert "number 1 of today" in shown
    assert 'name="outcome" value="no_answer"' in shown, "what came of it is on the same page"
    assert AccessEntry.objects.filter(kind="phone", key=bruno.log_key).count() == 1


def test_number_is_not_shown_outside_safe_hours_nor_where_nobody_rings(loic, bruno) -> None:
    line = bruno.lines.get()
    address = reverse("meetings:number", args=["19", line.pk])
    bruno.safe_hours = [["14:00", "16:00"]]
    bruno.save()
    assert loic.post(address).headers["Location"] == reverse("meetings:ring", args=["19"])
    unlocked_hours(bruno)
    people.hold(person=bruno, by=cast.artist(), at=cast.moment())
    assert loic.post(address).status_code == 302
    assert not AccessEntry.objects.filter(kind="phone").exists()


def test_one_who_is_only_written_to_has_a_number_to_write_to(loic, bruno) -> None:
    unlocked_hours(bruno)
    bruno.text_only = True
    bruno.save()
    shown = loic.post(reverse("meetings:number", args=["19", bruno.lines.get().pk]))
    assert 'href="sms:+33-4-65-71-00-12"' in shown.content.decode()
    assert "tel:" not in shown.content.decode()


def test_line_that_may_not_be_rung_says_so_in_the_words_of_every_role(client, bruno) -> None:
    unlocked_hours(bruno)
    danuta = cast.danuta()
    cast.in_sight(danuta, cast.assistant())
    mark = people.never_ring(person=danuta, by=cast.assistant(), at=cast.moment())
    for user in (cast.artist(), cast.assistant()):
        assert "Show number" in page(cast.signed_in(client, user), "meetings:ring", "19")
    people.settle_shared(mark=mark, by=cast.artist())
    for user in (cast.artist(), cast.assistant()):
        text = page(cast.signed_in(client, user), "meetings:ring", "19")
        assert "This number may not be rung." in text
        assert "Show number" not in text


def test_card_goes_by_the_clock_of_the_line(loic, bruno) -> None:
    """09:00 in Paris is 13:45 in Kathmandu (UTC+5:45, IANA tz database)."""
    bruno.lines.update(zone="Asia/Kathmandu")
    bruno.safe_hours, bruno.safe_days = [["13:00", "15:00"]], [0]
    bruno.save()
    text = page(loic, "meetings:ring", "19")
    for words in ("13:45", "Asia/Kathmandu", "it is a safe hour", "Monday", "days are quiet"):
        assert words in text
    assert "Show number" in text


def test_interpreter_is_named_where_nobody_of_us_speaks_their_language(loic) -> None:
    daud = cast.daud()
    cast.in_sight(daud, cast.assistant())
    daud.languages = "bn"
    daud.save()
    assert "Nobody yet who speaks it" in page(loic, "meetings:ring", "42")
    about = {"kind": "interpreter", "by": cast.artist(), "languages": "bn ur"}
    actions.add_helper(initials="A.D.", **about)
    text = page(loic, "meetings:ring", "42")
    assert "A.D." in text
    assert "promise not signed yet" in text
    daud.languages = "bn en"
    daud.save()
    assert "A.D." not in page(loic, "meetings:ring", "42")


def test_beats_stand_in_their_language_where_the_site_has_it(loic) -> None:
    daud = cast.daud()
    cast.in_sight(daud, cast.assistant())
    for languages, expected in (("en", ["en"]), ("bn", ["en"]), ("", ["en"])):
        daud.languages = languages
        daud.save()
        assert scripts(daud) == expected
        assert page(loic, "meetings:ring", "42").count('class="beats"') == 1
    with override("fr"):
        daud.languages = "en fr"
        assert scripts(daud) == ["en", "fr"]


def test_press_on_an_old_page_is_refused_and_comes_back_fresh(loic, bruno) -> None:
    card = reverse("meetings:ring", args=["19"])
    old = {"seen": "", "outcome": "no_answer"}
    assert loic.post(card, {"token": str(uuid4()), **old}).status_code == 302
    answer = loic.post(card, {"token": str(uuid4()), **old})
    assert answer.status_code == 422
    assert "A ring was noted since this page was opened" in answer.content.decode()
    assert f'name="seen" value="{queries.last_noted(bruno)}"' in answer.content.decode()
    assert Call.objects.exclude(outcome="").count() == 1
