"""What is said when a picture is shown and its words are read aloud, and what it changes."""

from datetime import date

import pytest

from relations.consent import aloud, queries, spoken
from relations.consent.models import CaptionAnswer
from relations.meetings.models import Helper
from relations.pictures import actions as pictures
from relations.pictures.queries import open_hold
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk
from tests.rows import make

pytestmark = pytest.mark.django_db
NOW = cast.moment()


@pytest.fixture
def scene():
    """K12 with Danuta in it, whose form stands and asks to see and to hear first."""
    sat = desk.sitting("12/T6", cast.danuta())
    form = desk.standing(show_first=True, approves_captions=True)
    return desk.picture("K12", sat, cast.danuta()), form


def by_loic(language="pl", interpreter=None):
    return spoken.Aloud(cast.assistant(), language, interpreter)


def read(picture, person=None, how=None, on=cast.TODAY, **said):
    who = person or cast.danuta()
    given = {"aloud": how or by_loic(), "on": on, "by": cast.artist(), "at": NOW}
    return aloud.read_to(picture=picture, person=who, **given, **said)


def refused(act, *args, **rest):
    with pytest.raises(Refused) as caught:
        act(*args, **rest)
    return caught.value.codes


def words(picture, text="At the mole", hour=9, **rest):
    at = cast.moment(hour=hour)
    return pictures.write_caption(picture=picture, words=text, by=cast.artist(), at=at, **rest)


def weighed(picture):
    """The binding form of the one person, as the weighing sees it."""
    (person,) = queries.load([picture.pk], cast.TODAY).people.values()
    return person.forms[-1]


def test_yes_is_kept_with_who_read_in_which_language_on_which_day(scene) -> None:
    picture, form = scene
    words(picture)
    helper = make(Helper, kind="interpreter", initials="NB")
    assert read(picture, how=by_loic("pl", helper), seen=True, version="c1", words=True) == [form]
    said = CaptionAnswer.objects.get()
    assert (said.is_yes, said.said_on, said.read_by) == (True, cast.TODAY, cast.assistant())
    assert (said.language, said.interpreter) == ("pl", helper)
    (one,) = aloud.heard(picture)
    assert (one.asks_to_see, one.asks_to_approve) == (True, True)
    assert (one.seen.is_yes, one.caption) == (True, said)
    assert weighed(picture).captions_accepted == {"K12/c1"}
    assert weighed(picture).pictures_accepted == {"K12"}


def test_new_version_is_read_again(scene) -> None:
    picture, _ = scene
    words(picture)
    read(picture, version="c1", words=True)
    words(picture, "At the mole, at dusk", 10)
    (one,) = aloud.heard(picture)
    assert one.caption is None
    assert refused(read, picture, version="c1", words=True) == ("words_changed",)
    assert refused(read, scene[0], version="", words=True) == ("words_changed",)


def test_no_to_words_is_kept_and_opens_nothing(scene) -> None:
    picture, _ = scene
    words(picture)
    read(picture, version="c1", words=True)
    read(picture, version="c1", words=False)
    assert weighed(picture).captions_accepted == frozenset()
    assert open_hold(picture) is None  # their form keeps it off by itself
    assert refused(read, picture, version="c1", words=True) == ("said_no",)


def test_no_is_turned_into_a_yes_on_a_later_day_only(scene) -> None:
    picture, form = scene
    words(picture)
    sooner = date(2026, 11, 21)
    how = {"form": form, "caption": picture.captions.get(), "by": cast.artist()}
    spoken.answer_caption(**how, on=sooner, is_yes=False)
    read(picture, version="c1", words=True)
    assert weighed(picture).captions_accepted == {"K12/c1"}


def test_no_to_words_of_one_who_did_not_ask_holds_the_picture(scene) -> None:
    picture, form = scene
    form.approves_captions = False
    form.save()
    words(picture)
    read(picture, version="c1", words=False)
    assert open_hold(picture) is not None


def test_quote_has_its_own_yes_and_no(scene) -> None:
    picture, _ = scene
    given = {"person": cast.danuta(), "by": cast.artist(), "at": NOW}
    one, two = (pictures.add_quote(code=code, words=f"{code}.", **given) for code in ("q1", "q2"))
    marcel = {**given, "person": cast.marcel()}
    other = pictures.add_quote(code="q3", words="Mine.", **marcel)
    words(picture, quotes=[one, two, other])
    (heard,) = aloud.heard(picture)
    assert {quote.code for quote in heard.unsaid} == {"q1", "q2"}
    read(picture, quotes={one: True})
    assert weighed(picture).quotes_accepted == {"q1"}
    (heard,) = aloud.heard(picture)
    assert (list(heard.quoted), heard.unsaid) == ([one], [two])
    assert heard.quoted[one].read_by == cast.assistant()
    read(picture, quotes={one: False})
    assert weighed(picture).quotes_accepted == frozenset()
    assert refused(read, picture, quotes={other: True}) == ("not_their_words",)


def test_answer_counts_for_every_form_given_by_then_and_for_no_later_one(scene) -> None:
    picture, first = scene
    second = desk.standing(70_043, given_on=date(2026, 11, 22))
    words(picture)
    assert read(picture, version="c1", words=True, seen=False) == [first, second]
    assert read(picture, on=date(2026, 11, 21), seen=True) == [first]
    third = desk.standing(70_044, given_on=cast.TODAY, approves_captions=True)
    (heard,) = aloud.heard(picture)
    assert heard.forms == [first, second, third]
    assert heard.caption is None


def test_form_of_another_sitting_says_nothing_of_this_picture(scene) -> None:
    other = desk.picture("K13", desk.sitting("12/T7", cast.danuta()), cast.danuta())
    assert aloud.heard(other)[0].forms == []
    assert refused(read, other, seen=True) == ("no_form_here",)
    assert refused(read, scene[0], on=date(2026, 11, 1), seen=True) == ("no_form_here",)
    assert refused(read, scene[0]) == ("nothing_said",)


def test_only_artist_and_assistants_read_aloud() -> None:
    cast.everyone()
    assert list(aloud.readers()) == [cast.artist(), cast.assistant()]


def test_somebody_who_is_not_in_the_frame_is_not_heard(scene) -> None:
    assert aloud.heard_of(scene[0], cast.marcel()) is None
    assert aloud.heard_of(scene[0], cast.danuta()).person == cast.danuta()
