"""Others ask and nothing is confirmed; a misused picture's sitter hears of it first."""

from datetime import timedelta
from uuid import uuid4

import pytest

from relations.pictures.models import Appearance, Picture, PictureHold
from relations.privacy.refused import Refused
from relations.rights import asked
from relations.rights.models import Misuse, OthersAsk
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
AT, DAY = cast.moment(), cast.TODAY


def seen(level="ordinary", **more):
    picture = make(Picture, code="K12")
    person = cast.danuta()
    person.level = level
    person.save()
    make(Appearance, picture=picture, person=person)
    said = {"where": "a page", "seen_on": DAY, "by": cast.assistant(), "at": AT, **more}
    return asked.note_misuse(picture=picture, **said)


@pytest.mark.parametrize("level", ["raised", "grave", ""])
def test_the_sitter_is_told_before_anybody_is_asked(level):
    misuse, artist = seen(level), cast.artist()
    with pytest.raises(Refused, match="tell_them_first"):
        asked.asked_down(misuse=misuse, on=DAY, by=artist)
    asked.told_sitters(misuse=misuse, on=DAY, by=artist)
    asked.asked_down(misuse=misuse, on=DAY, by=artist)
    asked.gone(misuse=misuse, on=DAY, by=artist)
    misuse.refresh_from_db()
    assert (misuse.told_sitter_on, misuse.asked_down_on, misuse.gone_on) == (DAY, DAY, DAY)


def test_where_no_harm_is_feared_asking_may_come_first_and_a_day_stays():
    misuse, artist = seen(), cast.artist()
    asked.asked_down(misuse=misuse, on=DAY, by=artist)
    asked.asked_down(misuse=misuse, on=DAY + timedelta(1), by=artist)
    assert misuse.asked_down_on == DAY
    with pytest.raises(Refused, match="before_it_was_seen"):
        asked.gone(misuse=misuse, on=DAY - timedelta(1), by=artist)


def test_a_hold_comes_with_it_where_it_is_wished():
    seen(hold=True)
    assert PictureHold.objects.filter(lifted_at=None).count() == 1


@pytest.mark.parametrize(
    ("who", "told", "by", "is_fine"),
    [
        ("press", "passed_on", cast.assistant, True),
        ("scholar", "nothing", cast.assistant, True),
        ("police", "nothing", cast.assistant, True),
        ("police", "to_lawyer", cast.assistant, False),
        ("court", "to_lawyer", cast.artist, True),
        ("court", "passed_on", cast.artist, False),
    ],
)
def test_authorities_hear_the_sentence_or_the_artist(who, told, by, is_fine):
    said = {"asked_by": who, "told": told, "on": DAY, "by": by(), "person": cast.danuta()}
    if is_fine:
        assert asked.others_asked(**said) == OthersAsk.objects.get()
    else:
        with pytest.raises(Refused, match="artist_and_lawyer"):
            asked.others_asked(**said)


def test_the_assistant_notes_and_sees_no_list_the_artist_sees_it(client):
    user = cast.assistant()
    hand = cast.signed_in(client, user)
    said = {"token": str(uuid4()), "asked_by": "press", "told": "nothing", "code": "12"}
    page = hand.post("/alarm/others-ask/", {**said, "asked_on": DAY.isoformat()}, follow=True)
    assert page.status_code == 200
    assert "Asked so far" not in page.content.decode()
    page = cast.signed_in(client, cast.artist()).get("/alarm/others-ask/").content.decode()
    assert "A reporter" in page


def test_misuse_is_noted_by_code_and_followed_by_the_artist(client):
    misuse = seen("grave")
    hand = cast.signed_in(client, cast.assistant())
    said = {"token": str(uuid4()), "picture": "k12", "where": "a wall", "seen_on": DAY.isoformat()}
    assert hand.post("/alarm/misuse/", {**said, "picture": "K99"}).status_code == 422
    page = hand.post("/alarm/misuse/", said, follow=True).content.decode()
    assert "Seen so far" not in page
    assert Misuse.objects.count() == 2
    artist = cast.signed_in(client, cast.artist())
    step = f"/alarm/misuse/{misuse.pk}/"
    early = artist.post(step, {"token": str(uuid4()), "what": "asked"})
    assert early.status_code == 422
    assert "Tell everybody in it first" in early.content.decode()
    for what in ("told", "asked", "gone"):
        page = artist.post(step, {"token": str(uuid4()), "what": what}, follow=True)
        assert page.status_code == 200
    assert "Gone on 23 November 2026." in page.content.decode()
