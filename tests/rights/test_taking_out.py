"""The whole register leaves by two people, once, in a short time, or not at all."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.http import Http404

from relations.privacy.models import AccessEntry, Role, User
from relations.privacy.refused import Refused
from relations.rights import actions, rules, taking_out
from relations.rights.models import Alarm, TakingOut
from relations.rights.values import Lost, TakingEnd
from relations.uses import standstill
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()
MINUTE = timedelta(minutes=1)
DIGEST = "0" * 64


def asked(at=AT, reason=" A move. "):
    cast.keeper()
    return taking_out.ask(reason=reason, by=cast.artist(), at=at)


def confirmed(at=AT):
    return taking_out.confirm(asking=asked(at), by=cast.keeper(), at=at + MINUTE)


def take(row, at, by=None):
    return taking_out.take(asking=row, digest=DIGEST, by=by or cast.artist(), at=at)


def refuses(code, act, **said):
    with pytest.raises(Refused) as refused:
        act(**said)
    assert refused.value.codes == (code,)


def test_asked_confirmed_and_taken_once_and_each_step_is_logged():
    row = confirmed()
    taken = take(row, AT + 2 * MINUTE)
    assert (taken.reason, taken.digest, taken.is_open) == ("A move.", DIGEST, None)
    assert (taken.asked_by, taken.confirmed_by) == (cast.artist(), cast.keeper())
    refuses("taking_taken", take, row=row, at=AT + 3 * MINUTE)
    lines = AccessEntry.objects.filter(kind=taking_out.KIND, key=row.pk).order_by("seq")
    assert [(line.verb, line.by) for line in lines] == [
        ("asked", cast.artist().pk),
        ("confirmed", cast.keeper().pk),
        ("taken", cast.artist().pk),
    ]


def test_a_second_press_finds_the_first():
    row = asked()
    assert asked(AT + MINUTE, "Another.") == row
    first = taking_out.confirm(asking=row, by=cast.keeper(), at=AT + MINUTE)
    again = taking_out.confirm(asking=row, by=cast.keeper(), at=AT + 2 * MINUTE)
    assert first.confirmed_at == again.confirmed_at == AT + MINUTE
    assert TakingOut.objects.count() == 1


def test_nobody_else_asks_confirms_or_takes():
    row = asked()
    for user in (cast.assistant(), cast.keeper(), cast.wording_reader()):
        refuses("artist_only", taking_out.ask, reason="A move.", by=user, at=AT)
        refuses("artist_only", take, row=row, at=AT, by=user)
    for user in (cast.assistant(), cast.artist()):
        refuses("keeper_only", taking_out.confirm, asking=row, by=user, at=AT)
        refuses("keeper_only", taking_out.refuse, asking=row, by=user, at=AT)
    refuses("artist_or_keeper", taking_out.call_off, asking=row, by=cast.assistant(), at=AT)
    refuses("not_confirmed", take, row=row, at=AT)


def test_one_account_never_does_both():
    """Who asked as the artist and is the keeper since confirms nothing: it is over."""
    row = asked()
    User.objects.filter(pk=cast.artist().pk).update(role=Role.KEEPER)
    refuses("taking_one_is_gone", taking_out.confirm, asking=row, by=cast.artist(), at=AT)


def test_who_asked_confirms_nothing_even_where_the_roles_would_let_them(monkeypatch):
    row = asked()
    User.objects.filter(pk=cast.artist().pk).update(role=Role.KEEPER)
    monkeypatch.setattr(taking_out, "over", lambda row, at: None)
    refuses("one_for_both", taking_out.confirm, asking=row, by=cast.artist(), at=AT)


def test_it_is_too_late_after_the_hour_and_after_the_half_and_before_a_clock_put_back():
    row = asked()
    late = AT + rules.ANSWER_WITHIN
    refuses("taking_too_late", taking_out.confirm, asking=row, by=cast.keeper(), at=late)
    refuses("taking_too_late", taking_out.confirm, asking=row, by=cast.keeper(), at=AT - MINUTE)
    assert taking_out.current(late) is None
    assert [one.ended_how for one in taking_out.ended(late)] == [TakingEnd.TOO_LATE]
    ready = taking_out.confirm(asking=row, by=cast.keeper(), at=late - MINUTE)
    refuses("taking_too_late", take, row=ready, at=late - MINUTE + rules.TAKE_WITHIN)
    assert take(ready, late + 28 * MINUTE).ended_how == TakingEnd.TAKEN


def test_asking_anew_ends_the_one_that_is_over_and_says_how():
    row = asked()
    later = AT + timedelta(days=1)
    other = asked(later)
    assert other != row
    row.refresh_from_db()
    assert (row.ended_how, row.ended_by, row.is_open) == (TakingEnd.TOO_LATE, None, None)
    assert taking_out.current(later) == other
    assert taking_out.ended(later) == [row]


@pytest.mark.parametrize("step", [asked, confirmed])
def test_the_keeper_says_no_and_either_calls_it_off_before_and_after_a_yes(step):
    row = step()
    at = AT + 2 * MINUTE
    assert taking_out.refuse(asking=row, by=cast.keeper(), at=at).ended_how == TakingEnd.REFUSED
    refuses("taking_refused", taking_out.call_off, asking=row, by=cast.artist(), at=at)
    for by in (cast.artist(), cast.keeper()):
        other = step()
        taking_out.call_off(asking=other, by=by, at=at)
        refuses("taking_called_off", take, row=other, at=at)


def test_an_alarm_ends_it_for_good_and_nothing_is_asked_before_it_is_closed():
    row = confirmed()
    lost = actions.raise_alarm(what=Lost.PHONE, by=cast.assistant(), at=AT + MINUTE)
    refuses("taking_alarm", take, row=row, at=AT + 2 * MINUTE)
    refuses("taking_alarm", asked, at=AT + 2 * MINUTE)
    Alarm.objects.filter(pk=lost.pk).update(closed_on=cast.TODAY)
    refuses("taking_alarm", take, row=row, at=AT + 3 * MINUTE)
    assert asked(AT + 4 * MINUTE) != row


def test_a_lost_blank_names_nobody_and_ends_nothing():
    row = confirmed()
    actions.raise_alarm(what=Lost.BLANK, by=cast.assistant(), at=AT + MINUTE)
    assert take(row, AT + 2 * MINUTE).digest


def test_the_hold_on_every_new_use_ends_it_also_once_it_is_lifted():
    row = confirmed()
    standstill.lay(by=cast.keeper(), at=AT + MINUTE)
    refuses("taking_held_back", take, row=row, at=AT + 2 * MINUTE)
    refuses("taking_held_back", asked, at=AT + 2 * MINUTE)
    standstill.lift(sentence="Settled.", by=cast.keeper(), at=AT + 3 * MINUTE)
    refuses("taking_held_back", take, row=row, at=AT + 4 * MINUTE)


@pytest.mark.parametrize("who", [cast.artist, cast.keeper])
def test_it_ends_when_one_of_the_two_is_let_go(who):
    row = confirmed()
    User.objects.filter(pk=who().pk).update(is_active=False)
    by = make_artist()
    refuses("taking_one_is_gone", take, row=row, at=AT + 2 * MINUTE, by=by)


def make_artist():
    return User.objects.create_user("noor", None, role=Role.ARTIST, called="Noor")


def test_without_a_reason_or_a_keeper_nothing_is_asked():
    refuses("no_keeper", taking_out.ask, reason="A move.", by=cast.artist(), at=AT)
    refuses("no_reason", asked, reason=" ")
    assert not TakingOut.objects.exists()


def test_both_are_told_for_a_month():
    take(confirmed(), AT + 2 * MINUTE)
    told = taking_out.on_today(AT + timedelta(days=29))
    assert [one.digest for one in told["taken"]] == [DIGEST]
    assert told["row"] is None
    later = AT + timedelta(days=31)
    row = asked(later)
    assert taking_out.on_today(later) == {"row": row, "taken": []}
    assert taking_out.on_today(later + timedelta(days=1)) == {"row": None, "taken": []}


def test_an_asking_that_is_not_there_is_404():
    row = asked()
    assert taking_out.asking_or_404(row.pk) == row
    with pytest.raises(Http404):
        taking_out.asking_or_404(uuid4())
