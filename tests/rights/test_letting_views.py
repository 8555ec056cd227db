"""The monthly list on its pages: read by artist and keeper, pressed by the keeper alone, once."""

import time
from datetime import date
from uuid import uuid4

import pytest

from relations.meetings.models import Recording
from relations.people.models import Name, Participant, PersonHold, PhoneLine
from relations.privacy import ledger
from relations.privacy.ending import SURE_AT
from relations.privacy.fields import mark
from relations.privacy.models import AccessEntry
from relations.rights.models import LettingGo
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
LIST = "/alarm/letting-go/"
NAME, NUMBER = "Zéphirine", "+33465710099"


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def keeper(client):
    return sure(cast.signed_in(client, cast.keeper()))


@pytest.fixture
def person():
    since = date(2026, 10, 24)
    said = {"standing": "said_no", "standing_since": since, "heard_on": since}
    found = make(Participant, code="Q7QQ9", call_name=NAME, **said)
    make(Name, person=found, text=NAME)
    make(PhoneLine, person=found, as_typed=NUMBER, number=NUMBER, mark=mark(NUMBER))
    return found


def sure(client):
    session = client.session
    session[SURE_AT] = time.time()
    session.save()
    return client


def text(response):
    return " ".join(response.content.decode().split())


def address(person, more=""):
    return f"{LIST}said_no/{person.pk}/{more}"


def press(client, person, **more):
    return client.post(address(person), {"token": str(uuid4()), "was_read": "on", **more})


def later(client, person, sentence, **more):
    said = {"token": str(uuid4()), "sentence": sentence, **more}
    return client.post(address(person, "later/"), said)


def test_list_says_code_and_day_and_no_name(keeper, person):
    page = text(keeper.get(LIST))
    assert "What is erased here also leaves the backups within 90 days." in page
    assert "Said no 30 days ago" in page
    assert "Q7QQ9" in page
    assert NAME not in page
    assert "marks that hold no number and block it for ever" in page
    assert "as long as copies exist" in page
    assert "name and number of who asked for it, after 24 hours" in page
    assert f'href="{address(person)}"' in page


def test_artist_reads_it_without_the_presses(client, person):
    artist = sure(cast.signed_in(client, cast.artist()))
    page = text(artist.get(LIST))
    assert "Q7QQ9" in page
    assert address(person) not in page
    assert "The keeper confirms." in page
    assert artist.get(address(person)).status_code == 404
    assert press(artist, person).status_code == 404
    assert later(artist, person, "Not yet.").status_code == 404


def test_where_nothing_is_due_it_says_so(keeper, person):
    Participant.objects.filter(pk=person.pk).update(standing_since=date(2026, 10, 25))
    page = text(keeper.get(LIST))
    assert "No clock has run out." in page
    assert "Q7QQ9" not in page
    assert keeper.get(address(person)).status_code == 404
    assert press(keeper, person).status_code == 404


def test_page_of_one_counts_what_goes_and_the_press_lets_it_go(keeper, person):
    page = text(keeper.get(address(person)))
    assert '<dt>Names, numbers, and who speaks for them</dt><dd class="num">2</dd>' in page
    assert NAME not in page
    answer = press(keeper, person)
    assert answer.url == LIST
    assert not Participant.objects.exists()
    assert "Q7QQ9" not in text(keeper.get(LIST))
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.key, last.by) == ("erased", person.log_key, cast.keeper().pk)


def test_pressed_twice_it_is_done_once(keeper, person):
    token = str(uuid4())
    for _ in range(2):
        assert press(keeper, person, token=token).url == LIST
    assert len(ledger.entries()) == LettingGo.objects.count() == 1
    assert press(keeper, person).status_code == 404


def test_without_the_tick_nothing_goes(keeper, person):
    answer = press(keeper, person, was_read="")
    assert answer.status_code == 422
    assert "Read it, then tick it." in text(answer)
    assert ledger.entries() == []


def test_password_is_asked_again(client, person):
    client = cast.signed_in(client, cast.keeper())
    session = client.session
    session[SURE_AT] = time.time() - 11 * 60
    session.save()
    assert client.get(address(person)).url.startswith("/sure/?next=/")
    for asked in (press(client, person), later(client, person, "Not yet.")):
        assert (asked.status_code, b'name="sure-password"' in asked.content) == (403, True)
    assert Participant.objects.exists()
    assert not LettingGo.objects.exists()


def test_what_keeps_somebody_is_said_and_nothing_can_be_pressed(keeper, person):
    make(PersonHold, person=person)
    page = text(keeper.get(address(person)))
    assert "A hold lies on them, and nothing of theirs moves" in page
    assert "Let it go for good" not in page
    assert press(keeper, person).status_code == 422
    assert Participant.objects.exists()


def test_postponed_with_a_sentence_it_stands_apart_until_its_day(keeper, person):
    assert later(keeper, person, "A niece asked for time.").url == LIST
    page = text(keeper.get(LIST))
    assert "No clock has run out." in page
    assert "A niece asked for time." in page
    assert keeper.get(address(person)).status_code == 404
    row = LettingGo.objects.get()
    assert (row.postponed_until, row.person) == (date(2027, 2, 21), person)


def test_without_a_sentence_it_is_asked_for_and_the_page_stays(keeper, person):
    answer = later(keeper, person, "")
    assert answer.status_code == 422
    assert "Let it go for good" in text(answer)
    answer = later(keeper, person, "y" * 141)
    assert answer.status_code == 422
    assert "y" * 141 in text(answer)
    assert not LettingGo.objects.exists()


def test_postponed_before_it_says_so_and_offers_it_no_more(keeper, person):
    LettingGo.objects.create(
        person=person,
        clock="said_no",
        due_on=date(2026, 10, 20),
        postponed_until=date(2026, 11, 22),
        sentence="A niece asked.",
    )
    Participant.objects.update(standing_since=date(2026, 9, 20), heard_on=date(2026, 9, 20))
    assert "Postponed once, until" in text(keeper.get(LIST))
    page = text(keeper.get(address(person)))
    assert "It was postponed once already." in page
    assert "Postpone by 90 days" not in page
    answer = later(keeper, person, "Once more.")
    assert answer.status_code == 422
    assert "This was postponed once already, and cannot be again." in text(answer)
    assert press(keeper, person).url == LIST


def test_thing_that_is_nobody_says_what_goes_and_no_counts(keeper):
    row = make(Recording, code="R-18")
    page = text(keeper.get(f"{LIST}recordings/{row.pk}/"))
    assert 'Recording <bdi dir="ltr" class="nw">R-18</bdi></h1>' in page
    assert "The sealed recording: nobody can listen to it any more." in page
    assert "Its code: what was counted on the trip still comes out." in page
    assert "sums" not in page


def test_todays_page_of_the_keeper_says_how_many(keeper, person):
    assert "1 thing to let go." in text(keeper.get("/"))
    make(Recording)
    assert "2 things to let go." in text(keeper.get("/"))
    Recording.objects.all().delete()
    Participant.objects.all().delete()
    assert "to let go." not in text(keeper.get("/"))
