"""The pages on who told us of somebody: one more word, and a word put right, for the artist."""

from datetime import date
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.people.models import Introduction
from relations.privacy.models import Mending
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def told():
    """Nour, of whom Marcel told us."""
    return cast.told(cast.person("51", "Nour"), cast.marcel(), heard_on=date(2026, 5, 20))


def send(client, name, *args, **typed):
    said = {"token": str(uuid4()), "source": "own", "heard_on": "2026-06-01", **typed}
    answer = client.post(reverse(f"people:{name}", args=args), said)
    return answer.status_code, answer.headers.get("Location") or answer.content.decode()


def test_one_more_word_is_noted_of_a_month(artist, told):
    said = {"source": "person", "introducer": "12", "precision": "month", "heard_on": "2026-06-17"}
    cast.danuta()
    assert send(artist, "told", "51", **said) == (302, reverse("people:detail", args=["51"]))
    word = Introduction.objects.get(person=told.person, introducer=cast.danuta())
    assert (word.heard_on, word.precision, word.number) == (date(2026, 6, 1), "month", 2)
    assert "Jun 2026" in artist.get(reverse("people:detail", args=["51"])).content.decode()


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"source": "person", "introducer": "01"}, "This was noted before."),
        ({"source": "person", "introducer": "51"}, "This must be somebody else."),
        ({"source": "person", "introducer": "ZZZ"}, "Look at this code again."),
        ({"heard_on": "2030-01-01"}, "This day has not come yet."),
    ],
)
def test_word_that_cannot_be_is_not_noted(artist, told, said, words):
    status, text = send(artist, "told", "51", **said)
    assert (status, told.person.introductions.count()) == (422, 1)
    assert words in text


def test_word_is_put_right_and_what_stood_there_can_be_read_by_its_code(artist, told):
    address = reverse("people:mend_told", args=["51", told.pk])
    text = artist.get(address).content.decode()
    assert 'value="01"' in text
    cast.danuta()
    said = {"source": "person", "introducer": "12", "heard_on": "2026-05-20", "precision": "year"}
    assert send(artist, "mend_told", "51", told.pk, **said)[0] == 302
    told.refresh_from_db()
    assert (told.introducer, told.heard_on) == (cast.danuta(), date(2026, 1, 1))
    page = artist.get(reverse("today:person", args=["51"])).content.decode()
    assert 'Told us of them “<bdi dir="ltr" class="words">01</bdi>”' in page
    assert str(cast.marcel().pk) not in page


def test_of_a_sealed_word_the_day_alone_can_be_put_right(artist, told):
    Introduction.objects.filter(pk=told.pk).update(introducer=None, is_withheld=True, wave=1)
    text = artist.get(reverse("people:mend_told", args=["51", told.pk])).content.decode()
    assert 'name="source"' not in text
    assert "Who told us is sealed for good" in text
    said = {"source": "person", "introducer": "01", "heard_on": "2026-04-02"}
    assert send(artist, "mend_told", "51", told.pk, **said)[0] == 302
    told.refresh_from_db()
    assert (told.introducer, told.heard_on) == (None, date(2026, 4, 2))


def test_word_of_somebody_else_is_not_there(artist, told):
    cast.danuta()
    assert send(artist, "mend_told", "12", told.pk)[0] == 404
    assert not Mending.objects.exists()


def test_name_heard_in_a_year_is_said_to_be_of_that_year(artist):
    said = {"call_name": "Nour", "precision": "year", "heard_on": "2024-05-05"}
    assert send(artist, "new", **said)[0] == 302
    code = Introduction.objects.get(person__call_name__isnull=False).person.code
    text = artist.get(reverse("people:detail", args=[code])).content.decode()
    assert "<dt>Heard on</dt><dd>2024</dd>" in text
