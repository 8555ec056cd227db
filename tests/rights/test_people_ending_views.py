"""The page of endings for people: the artist's alone, one press each or one for many alike."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.people import closed
from relations.people.models import Participant
from relations.rights import ending
from relations.rights.models import Closing, Ending
from tests import cast
from tests.prints.frames import picture
from tests.rows import make

pytestmark = pytest.mark.django_db
PAGE = "rights:people_endings"


@pytest.fixture
def artist(client):
    for code in ("51", "52", "53"):
        picture(f"K{code}", make(Participant, code=code, standing="taking_part"))
    return cast.signed_in(client, cast.artist())


def words(answer):
    return " ".join(answer.content.decode().split())


def test_before_the_closing_nothing_can_be_pressed(artist):
    page = words(artist.get(reverse(PAGE)))
    assert "Say first that the project is to close." in page
    assert 'name="how"' not in page
    said = {"token": str(uuid4()), "how": "as_agreed"}
    answer = artist.post(reverse("rights:end_for", args=["51"]), said)
    assert (answer.status_code, Ending.objects.count()) == (422, 0)


def test_one_press_for_one_and_one_for_all_the_others(artist):
    ending.begin(on=cast.TODAY, by=cast.artist())
    token = {"token": str(uuid4())}
    assert "3 people have no ending yet." in words(artist.get(reverse("rights:closing")))
    one = reverse("rights:end_for", args=["51"])
    for _twice in range(2):
        assert artist.post(one, {**token, "how": "given_back"}).status_code == 302
    said = {"standing": "taking_part", "has_sat": "on", "how": "as_agreed"}
    assert artist.post(reverse("rights:end_alike"), {**token, **said}).status_code == 302
    found = dict(Ending.objects.values_list("person__code", "how"))
    assert found == {"51": "given_back", "52": "as_agreed", "53": "as_agreed"}
    page = words(artist.get(reverse(PAGE)))
    assert "Everybody has an ending." in page
    assert "Given back" in page


def test_an_ending_that_is_none_is_said_in_words(artist):
    ending.begin(on=cast.TODAY, by=cast.artist())
    said = {"token": str(uuid4()), "how": "could_not_ask"}
    answer = artist.post(reverse("rights:end_for", args=["51"]), said)
    assert answer.status_code == 422
    assert "This is no ending for somebody who stands there." in words(answer)


def test_once_closed_the_page_says_that_the_register_lives_on(client):
    artist = cast.signed_in(client, cast.artist())
    ending.begin(on=cast.TODAY, by=cast.artist())
    ending.close(on=cast.TODAY, by=cast.artist())
    assert "The register of uses lives on" in words(artist.get(reverse("rights:closing")))


def test_pressed_by_mistake_it_is_taken_back_until_the_project_is_closed(artist):
    row = ending.begin(on=cast.TODAY, by=cast.artist())
    token = {"token": str(uuid4())}
    artist.post(reverse("rights:end_for", args=["51"]), {**token, "how": "destroyed"})
    assert "Take this ending back" in words(artist.get(reverse(PAGE)))
    back = reverse("rights:take_back_ending", args=["51"])
    for _twice in range(2):
        assert artist.post(back, token).status_code == 302
    assert not Ending.objects.exists()
    assert Participant.objects.get(code="51").standing == "taking_part"
    artist.post(reverse("rights:end_alike"), {
        **token, "standing": "taking_part", "has_sat": "on", "how": "as_agreed",
    })  # fmt: skip
    Closing.objects.filter(pk=row.pk).update(closed_on=cast.TODAY, closed_by=cast.artist())
    closed.close(on=cast.TODAY)
    assert "Take this ending back" not in words(artist.get(reverse(PAGE)))
    answer = artist.post(back, {"token": str(uuid4())})
    assert answer.status_code == 422
    assert "Say first that it goes on after all." in words(answer)


def test_whoever_is_to_be_looked_for_stands_on_today_and_is_answered_there(artist):
    ending.begin(on=cast.TODAY, by=cast.artist())
    Participant.objects.filter(code="51").update(standing="gone_quiet")
    artist.post(
        reverse("rights:end_for", args=["51"]), {"token": str(uuid4()), "how": "could_not_ask"}
    )
    assert "To be looked for again" not in words(artist.get(reverse("today:today")))
    Ending.objects.update(look_again_on=cast.TODAY)
    assert "To be looked for again" in words(artist.get(reverse("today:today")))
    again = reverse("rights:looked_for", args=["51"])
    assert f'action="{again}"' in words(artist.get(reverse(PAGE)))
    said = {"token": str(uuid4()), "how": "as_agreed"}
    assert artist.post(again, said).status_code == 302
    assert Ending.objects.get().how == "as_agreed"
    assert "To be looked for again" not in words(artist.get(reverse("today:today")))
