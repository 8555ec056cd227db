"""The page from which the register leaves: who presses what, and the file that comes once."""

import io
from contextlib import nullcontext
from hashlib import sha256
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from relations.privacy import slots
from relations.privacy.crypt import Cost
from relations.privacy.models import Posted
from relations.rights import taking_out, taking_out_views
from relations.rights.models import TakingOut
from relations.rights.taking_out_file import opened
from tests import cast

pytestmark = pytest.mark.django_db
OWN, WORDS = "the invented tide comes in twice", "four boats and no harbour"
PAGE = "rights:register"


@pytest.fixture(autouse=True)
def cheap(monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))


@pytest.fixture
def at_once(monkeypatch):
    """A test stands in a transaction already; that of the moment itself is in the flow of it."""
    monkeypatch.setattr(taking_out_views, "snapshot", nullcontext)


@pytest.fixture
def artist():
    return cast.signed_in(Client(), cast.artist())


@pytest.fixture
def keeper():
    user = cast.keeper()
    user.set_password(OWN)
    user.save()
    return cast.signed_in(Client(), user)


def words(answer):
    return " ".join(answer.content.decode().split())


def press(client, what, *args, token=None, **said):
    form = {"token": token or str(uuid4()), **said}
    return client.post(reverse(f"rights:{what}_register", args=args), form)


def asked(artist):
    assert press(artist, "ask", reason="A move.").status_code == 302
    return TakingOut.objects.get(is_open=True)


def take(client, row, **said):
    return press(client, "take", row.pk, **{"passphrase": WORDS, "again": WORDS, **said})


@pytest.mark.usefixtures("at_once")
def test_asked_confirmed_and_taken_once(artist, keeper):
    cast.person("51", "Olga")
    row = asked(artist)
    assert "answers on this page" in words(artist.get(reverse(PAGE)))
    assert "A move." in words(keeper.get(reverse(PAGE)))
    assert press(keeper, "confirm", row.pk, password=OWN).status_code == 302
    assert "Take it out now" in words(artist.get(reverse(PAGE)))
    assert "Take it out now" not in words(keeper.get(reverse(PAGE)))
    answer = take(artist, row)
    assert answer.headers["Content-Type"] == "application/octet-stream"
    assert answer.headers["Content-Disposition"] == 'attachment; filename="2026-11-23.relreg"'
    assert answer.headers["Cache-Control"] == "no-store"
    assert b"Olga" in opened(io.BytesIO(answer.content), WORDS)
    assert b"Olga" not in answer.content
    row.refresh_from_db()
    assert row.digest == sha256(answer.content).hexdigest()
    again = take(artist, row)
    assert (again.status_code, "It was taken out already" in words(again)) == (422, True)
    for client in (artist, keeper):
        for page in (PAGE, "today:today"):
            said = words(client.get(reverse(page)))
            assert "Taken by" in said
            assert row.digest[:16] in said


def test_the_file_is_made_as_of_one_moment_outside_every_other_transaction(artist, keeper):
    row = asked(artist)
    press(keeper, "confirm", row.pk, password=OWN)
    with pytest.raises(RuntimeError, match="inside another transaction"):
        take(artist, row)
    assert TakingOut.objects.get().is_open


def test_nothing_is_made_before_it_is_confirmed(artist, keeper, monkeypatch):
    monkeypatch.setattr(taking_out_views, "_made", lambda _: pytest.fail("it was made"))
    row = asked(artist)
    answer = take(artist, row)
    assert (answer.status_code, "has not confirmed it yet" in words(answer)) == (422, True)
    assert WORDS not in words(answer)
    press(keeper, "refuse", row.pk)
    assert "The keeper said no." in words(take(artist, row))


def test_of_two_at_once_one_gets_the_file_and_the_other_a_sentence(artist, keeper, monkeypatch):
    row = asked(artist)
    press(keeper, "confirm", row.pk, password=OWN)

    def meanwhile(passphrase):
        taking_out.take(asking=row, digest="0" * 64, by=cast.artist(), at=cast.moment())
        return b"the other file"

    monkeypatch.setattr(taking_out_views, "_made", meanwhile)
    answer = take(artist, row)
    assert (answer.status_code, b"the other file" in answer.content) == (422, False)


def test_a_wrong_password_confirms_nothing_and_five_hold_off(artist, keeper):
    row = asked(artist)
    for _ in range(5):
        wrong = press(keeper, "confirm", row.pk, password="not this one at all")
    assert "This is not your password." in words(wrong) or wrong.status_code == 429
    assert press(keeper, "confirm", row.pk, password=OWN).status_code == 429
    assert TakingOut.objects.get().confirmed_at is None


def test_the_same_press_twice_is_once_and_asks_no_second_code(artist, keeper):
    row, token = asked(artist), str(uuid4())
    for _ in range(2):
        assert press(keeper, "confirm", row.pk, token=token, password=OWN).status_code == 302
    assert Posted.objects.filter(by=cast.keeper()).count() == 1


@pytest.mark.parametrize("who", ["artist", "keeper"])
def test_either_calls_it_off_without_a_password(artist, keeper, who):
    row = asked(artist)
    client = {"artist": artist, "keeper": keeper}[who]
    assert press(client, "call_off", row.pk).status_code == 302
    assert "It was called off" in words(client.get(reverse(PAGE)))
    late = press(client, "call_off", row.pk)
    assert (late.status_code, "It was called off. Ask again." in words(late)) == (422, True)


def test_without_a_keeper_nothing_is_asked_and_what_was_typed_stays(artist):
    answer = press(artist, "ask", reason="A move to the coast.")
    assert (answer.status_code, "A move to the coast." in words(answer)) == (422, True)
    assert "nobody takes the register out alone" in words(answer)


def test_an_asking_that_is_not_there_is_404(keeper):
    assert press(keeper, "refuse", uuid4()).status_code == 404
