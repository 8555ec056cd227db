"""A name that is never printed is found wherever it stands; nobody learns of one out of sight."""

import pytest

from relations.people import actions as people
from relations.pictures import actions, leaks
from relations.pictures.leaks import Where
from tests import cast
from tests.pictures.test_actions import NOW, add, caption, refusal, sit

pytestmark = pytest.mark.django_db


def never(person, text, script="Latn"):
    given = {"kind": "never_print", "script": script, "by": cast.artist(), "at": NOW}
    return people.add_name(person=person, text=text, **given)


@pytest.fixture
def picture():
    """K12 with Danuta in it, whose name is never printed in two scripts; Bruno's neither."""
    for text, script in (("Zofia Wrzos", "Latn"), ("زوفيا", "Arab")):
        never(cast.danuta(), text, script)
    never(cast.bruno(), "Ljubomir")
    return add(sit())


@pytest.mark.parametrize(
    "words",
    ["With ZÓFIA WRZOS at the mole", "زوفيا في الميناء", "الَزُوفِيَا", "زوفـــيا", "Ｚofia wrzos"],
)
def test_caption_with_a_name_never_to_be_printed_is_refused_in_any_script(picture, words) -> None:
    assert refusal(caption, picture, words) == ("caption_leaks",)
    assert refusal(caption, picture, words, means_another=True) == ("caption_leaks",)
    assert not picture.captions.exists()


def test_words_for_those_who_do_not_see_and_names_of_files_are_looked_through_too(picture) -> None:
    given = {"by": cast.artist(), "at": NOW}
    told = {"alt_text": "Zofia Wrzos, standing", "file_name": "zofiawrzos12.jpg"}
    assert refusal(add, picture.sitting, code="K13", **told) == (
        "alt_text_leaks",
        "file_name_leaks",
    )
    assert refusal(actions.mend, picture=picture, changes=told, **given) == (
        "alt_text_leaks",
        "file_name_leaks",
    )
    said = {"code": "q1", "person": cast.danuta(), "words": "They call me زوفيا."}
    assert refusal(actions.add_quote, **said, **given) == ("quote_leaks",)
    actions.mend(picture=picture, changes={"place_word": "city"}, **given)
    picture.refresh_from_db()
    assert (picture.alt_text, picture.file_name, picture.place_word) == ("", "", "city")


def test_name_of_somebody_who_was_cropped_away_is_refused_all_the_same() -> None:
    danuta, marcel = cast.danuta(), cast.marcel()
    never(marcel, "Bastien")
    both = add(sit(danuta, marcel), (danuta, 1, "yes"), (marcel, 2, "yes"))
    alone = add(both.sitting, (danuta, 1, "yes"), code="K12a", crop_of=both)
    assert refusal(caption, alone, "Beside Bastien") == ("caption_leaks",)


def test_name_of_somebody_elsewhere_may_be_another_of_that_name(picture) -> None:
    assert refusal(caption, picture, "With Ljubomir") == ("caption_leaks_elsewhere",)
    assert caption(picture, "With Ljubomir", means_another=True).version == "c1"


def test_nobody_learns_of_the_name_of_somebody_out_of_sight(picture) -> None:
    changes, given = {"alt_text": "With Ljubomir"}, {"by": cast.assistant(), "at": NOW}
    cast.bruno().in_sight.all().delete()
    actions.mend(picture=picture, changes=changes, **given)
    cast.in_sight(cast.bruno(), cast.assistant())
    leaked = ("alt_text_leaks_elsewhere",)
    assert refusal(actions.mend, picture=picture, changes=changes, **given) == leaked
    cast.danuta().in_sight.all().delete()
    changes = {"alt_text": "With Zofia Wrzos"}
    assert refusal(actions.mend, picture=picture, changes=changes, **given) == ("alt_text_leaks",)


def test_every_leak_that_stands_is_found_with_whose_it_is(
    picture, django_assert_num_queries
) -> None:
    danuta = cast.danuta()
    caption(picture, "Anatol at the mole", hour=8)
    given = {"by": cast.artist(), "at": NOW}
    changes = {"alt_text": "Anatol", "file_name": "K12anatol.jpg"}
    actions.mend(picture=picture, changes=changes, **given)
    other = add(sit(cast.marcel(), code="01-T7"), (cast.marcel(), 1, "yes"), code="K01")
    caption(other, "With Anatol")
    actions.add_quote(code="q1", person=danuta, words="Anatol, they say.", **given)
    assert leaks.everywhere() == []
    never(danuta, "Anatol")
    with django_assert_num_queries(6):
        found = leaks.everywhere()
    assert [(one.code, one.where, one.person, one.is_in_it) for one in found] == [
        ("K12", Where.ALT_TEXT, danuta, True),
        ("K12", Where.CAPTION, danuta, True),
        ("K12", Where.FILE_NAME, danuta, True),
        ("q1", Where.QUOTE, danuta, True),
        ("K01", Where.CAPTION, danuta, False),
    ]
    caption(picture, "At the mole", hour=10)
    assert (Where.CAPTION, "K12") not in {(one.where, one.code) for one in leaks.everywhere()}


def test_leak_says_neither_the_name_nor_the_words() -> None:
    assert set(leaks.Leak.__dataclass_fields__) == {"where", "code", "person", "is_in_it"}
