"""Pages of interviews and recordings: the artist walks them through; nobody else finds them."""

import pytest
from django.urls import reverse

from relations.consent.models import Form, QuoteAnswer
from relations.meetings.models import Interview, Recording
from relations.pictures.models import Quote
from tests import cast
from tests.meetings.test_views import page, send
from tests.rows import make

pytestmark = pytest.mark.django_db


@pytest.fixture
def as_artist(client):
    return cast.signed_in(client, cast.artist())


def test_talk_is_noted_recorded_written_out_and_the_recording_destroyed(as_artist) -> None:
    cast.danuta()
    page(as_artist, "meetings:interviews", "12")
    said = {"held_on": "2026-11-22", "may_record": "yes", "is_heavy": "on"}
    send(as_artist, "meetings:interviews", "12", **said)
    talk = Interview.objects.get()
    assert "Ring them by 29 November 2026" in page(as_artist, "meetings:interview", talk.pk)
    made = {"made_on": "2026-11-22", "made_hour": "08:30", "is_on_a_phone": "on"}
    send(as_artist, "meetings:interview", talk.pk, code="R-1", **made)
    kept = Recording.objects.get()
    text = page(as_artist, "meetings:recordings")
    assert "leaves the phone within 24 hours" in text
    assert "How are you?" in text
    for to in ("off_the_phone", "transcribed"):
        send(as_artist, "meetings:recording", kept.pk, to=to)
    assert "23 November 2027" in page(as_artist, "meetings:recording", kept.pk)
    page(as_artist, "meetings:last_day", kept.pk)
    send(as_artist, "meetings:last_day", kept.pk, destroy_on="2026-12-24")
    assert "the day is theirs" in page(as_artist, "meetings:recording", kept.pk)
    send(as_artist, "meetings:recording", kept.pk, to="destroyed")
    again = send(as_artist, "meetings:recording", kept.pk, to="destroyed")
    assert again.status_code == 422
    assert "noted before" in again.content.decode()
    page(as_artist, "meetings:how_are_you", talk.pk)
    send(as_artist, "meetings:how_are_you", talk.pk, asked_on="2026-11-23")
    assert "Asked how they are on 23 November 2026" in page(
        as_artist, "meetings:interview", talk.pk
    )
    assert "No recording is kept" in page(as_artist, "meetings:recordings")
    assert "R-1" in page(as_artist, "meetings:interviews", "12")


def test_talk_that_may_not_be_recorded_offers_no_recording(as_artist) -> None:
    talk = make(Interview, person=cast.danuta(), held_on=cast.TODAY)
    assert "made_hour" not in page(as_artist, "meetings:interview", talk.pk)
    refused = send(
        as_artist,
        "meetings:interview",
        talk.pk,
        code="R-1",
        made_on="2026-11-23",
        made_hour="08:00",
    )
    assert refused.status_code == 422
    assert not Recording.objects.exists()


def test_quotes_stand_with_their_ids_and_the_answer_to_each(as_artist) -> None:
    talk = make(Interview, person=cast.danuta(), may_record=True)
    make(Quote, by=talk.person, interview=talk, code="q1", words="The tide waits.")
    yes = make(Quote, by=talk.person, interview=talk, code="q2", words="Not today.")
    make(QuoteAnswer, quote=yes, form=make(Form, person=talk.person), said_on=cast.TODAY)
    text = page(as_artist, "meetings:interview", talk.pk)
    assert text.index("q1") < text.index("not asked yet") < text.index("q2")
    assert "said yes" in text


def test_what_is_due_stands_on_the_artists_day_and_on_no_other(as_artist, client) -> None:
    danuta = cast.danuta()
    make(Recording, code="R-77", destroy_on=cast.days(-1))
    danuta.level_next_look_on = cast.days(-1)
    danuta.save()
    text = as_artist.get(reverse("today:today")).content.decode()
    assert "R-77" in text
    assert "Look at the level again" in text
    loic = cast.signed_in(client, cast.assistant())
    cast.in_sight(danuta, cast.assistant())
    text = loic.get(reverse("today:today")).content.decode()
    assert "R-77" not in text
    assert "Look at the level again" not in text


@pytest.mark.parametrize("user", [cast.assistant, cast.keeper, cast.wording_reader])
def test_nobody_else_finds_any_page_of_them(client, user) -> None:
    talk = make(Interview, person=cast.danuta(), may_record=True)
    kept = make(Recording, interview=talk)
    cast.in_sight(talk.person, cast.assistant())
    other = cast.signed_in(client, user())
    for name, args in (
        ("recordings", []), ("interviews", ["12"]), ("interview", [talk.pk]),
        ("how_are_you", [talk.pk]), ("recording", [kept.pk]), ("last_day", [kept.pk]),
    ):  # fmt: skip
        assert other.get(reverse(f"meetings:{name}", args=args)).status_code == 404
        assert send(other, f"meetings:{name}", *args).status_code == 404
