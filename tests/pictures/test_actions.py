"""What is written about sittings, film, pictures, captions and holds, and what is refused."""

import pytest

from relations.meetings.models import Interview
from relations.people import actions as people
from relations.people.models import InSight, Standing, Why
from relations.pictures import actions, queries
from relations.pictures.models import Picture, Sitting
from relations.privacy.files import light_copies
from relations.privacy.models import Mending
from relations.privacy.refused import Refused
from tests import cast
from tests.pictures.test_light import image

pytestmark = pytest.mark.django_db
NOW = cast.moment()


def refusal(act, /, *args, **rest):
    with pytest.raises(Refused) as caught:
        act(*args, **rest)
    return caught.value.codes


def sit(*who, code="12-T7", **rest):
    given = {"on": cast.TODAY, "by": cast.assistant(), "sheets": 4, **rest}
    return actions.sit(code=code, sitters=who or [cast.danuta()], **given)


def add(sitting, *frame, code="K12", **rest):
    in_frame = frame or [(cast.danuta(), 1, "yes")]
    given = {"made_on": cast.TODAY, "others": "none", "by": cast.artist(), "at": NOW, **rest}
    return actions.add_picture(code=code, sitting=sitting, in_frame=in_frame, **given)


def test_sitting_moves_those_who_agreed_to_taking_part() -> None:
    edelmira, danuta = cast.edelmira(), cast.danuta()
    cast.assistant()
    sitting = sit(edelmira, danuta, edelmira, minutes=65, light="flash")
    assert set(sitting.sitters.all()) == {edelmira, danuta}
    assert (edelmira.standing, danuta.standing_since) == (
        Standing.TAKING_PART, cast.danuta().heard_on,
    )  # fmt: skip
    assert edelmira.last_talk_on == cast.TODAY
    assert InSight.objects.filter(why=Why.SITTING, day=cast.TODAY).count() == 2


@pytest.mark.parametrize(
    ("holders", "expected"),
    [
        ((), ["", "", "", ""]),
        (("11", "12"), ["11", "11", "12", "12"]),
        (("11",), ["11", "11", "", ""]),
        (("1", "2", "3", "4"), ["1", "2", "3", "4"]),
    ],
)
def test_sheets_lie_two_in_a_holder_or_each_in_its_own(holders, expected) -> None:
    sheets = sit(holders=holders).sheets.all()
    assert [sheet.holder for sheet in sheets] == expected
    assert [sheet.number for sheet in sheets] == [1, 2, 3, 4]


def test_sitting_is_refused_with_nobody_twice_or_with_too_many_holders() -> None:
    given = {"on": cast.TODAY, "by": cast.artist()}
    assert refusal(actions.sit, code="X", sitters=[], **given) == ("nobody",)
    sit()
    assert refusal(sit) == ("code_taken",)
    assert refusal(sit, code="X", sheets=1, holders=["1", "2"]) == ("too_many_holders",)


def test_nobody_takes_part_without_a_sheet_or_without_having_agreed() -> None:
    assert refusal(sit, cast.edelmira(), sheets=0) == ("no_sheet_exposed",)
    assert refusal(sit, cast.bruno()) == ("no_such_move",)
    danuta = cast.danuta()
    people.hold(person=danuta, by=cast.artist(), at=NOW)
    assert refusal(sit, danuta) == ("on_hold",)


def test_somebody_steps_in_late_and_sits_too() -> None:
    sitting, edelmira = sit(), cast.edelmira()
    for _ in range(2):
        actions.join(sitting=sitting, person=edelmira, on=cast.TODAY, by=cast.assistant())
    assert edelmira.standing == Standing.TAKING_PART
    assert sitting.sitters.count() == 2


def test_sheets_come_back_from_the_lab_or_are_lost() -> None:
    sitting = sit()
    given = {"sitting": sitting, "by": cast.assistant(), "on": cast.TODAY}
    assert actions.process_sheets(numbers=[1, 2, 3], **given) == 3
    assert actions.lose_sheets(numbers=[4, 4], **given) == 1
    assert [sheet.state for sheet in sitting.sheets.all()] == ["processed"] * 3 + ["lost"]
    assert refusal(actions.lose_sheets, numbers=[5], **given) == ("no_such_sheet",)


def test_picture_holds_everyone_from_left_to_right() -> None:
    marcel, danuta = cast.marcel(), cast.danuta()
    sitting = sit(danuta, marcel)
    sheet = sitting.sheets.get(number=2)
    picture = add(
        sitting, (danuta, 2, "unsure"), (marcel, 1, "yes"), sheet=sheet, file_name="K12.jpg",
        place_word="city", alt_text="Two at a table",
    )  # fmt: skip
    rows = [(one.person.code, one.place, one.recognisable) for one in picture.appearances.all()]
    assert rows == [("01", 1, "yes"), ("12", 2, "unsure")]
    assert (picture.sheet, picture.place_word, picture.light_copy) == (sheet, "city", "")


def test_only_sitters_are_in_the_frame_each_once_at_a_place_of_their_own() -> None:
    sitting, danuta, marcel = sit(), cast.danuta(), cast.marcel()
    assert refusal(add, sitting, (marcel, 1, "yes")) == ("not_a_sitter",)
    twice = ((danuta, 1, "yes"), (danuta, 2, "yes"))
    assert refusal(add, sitting, *twice) == ("twice_in_frame",)
    sitting.sitters.add(marcel)
    together = ((danuta, 1, "yes"), (marcel, 1, "yes"))
    assert refusal(add, sitting, *together) == ("twice_in_frame",)
    given = {"made_on": cast.TODAY, "others": "none", "by": cast.artist(), "at": NOW}
    assert refusal(
        actions.add_picture, code="K0", sitting=sitting, in_frame=[], **given
    ) == ("nobody_in_frame",)  # fmt: skip


def test_crop_is_a_picture_of_its_own_out_of_the_same_sitting() -> None:
    sitting = sit()
    whole = add(sitting)
    crop = add(sitting, code="K12a", crop_of=whole)
    assert crop.crop_of == whole
    assert refusal(add, sitting) == ("code_taken",)
    other = sit(cast.marcel(), code="01-T7")
    marcel = (cast.marcel(), 1, "yes")
    assert refusal(add, other, marcel, code="K1", crop_of=whole) == ("other_sitting",)
    sheet = sitting.sheets.first()
    assert refusal(add, other, marcel, code="K1", sheet=sheet) == ("other_sitting",)


def test_picture_with_somebody_erased_in_it_stays_marked_and_so_do_its_crops() -> None:
    sitting = sit()
    whole = add(sitting, others="erased")
    given = {"by": cast.artist(), "at": NOW}
    change = {"others": "none"}
    assert refusal(actions.mend, picture=whole, changes=change, **given) == ("erased",)
    copy = {"light_copy": image(), **given}
    assert refusal(actions.set_light_copy, picture=whole, **copy) == ("erased",)
    actions.mend(picture=whole, changes={"place_word": "city"}, **given)
    crop = add(sitting, code="K12a", crop_of=whole, others="none")
    assert crop.others == "erased"
    again = {"code": "K12b", "crop_of": crop, "light_copy": image()}
    assert refusal(add, sitting, **again) == ("erased",)


def test_light_copy_is_kept_sealed() -> None:
    given = image(size=(2000, 1000))
    picture = add(sit(), light_copy=given)
    storage = light_copies()
    assert picture.light_copy_type == "image/jpeg"
    with storage.open(picture.light_copy) as file:
        assert file.read().startswith(b"\xff\xd8\xff")
    assert storage.path_of(picture.light_copy).read_bytes().startswith(b"RELF")


def test_what_is_no_picture_leaves_no_picture() -> None:
    assert refusal(add, sit(), light_copy=b"%PDF-1.7") == ("not_a_picture",)
    assert not Picture.objects.exists()


def test_another_light_copy_takes_the_place_of_the_first(
    django_capture_on_commit_callbacks,
) -> None:
    picture = add(sit())
    for kind in ("JPEG", "PNG"):
        before = picture.light_copy
        with django_capture_on_commit_callbacks(execute=True):
            actions.set_light_copy(
                picture=picture, light_copy=image(kind), by=cast.artist(), at=NOW
            )
    assert picture.light_copy_type == "image/png"
    assert not light_copies().exists(before)
    assert light_copies().exists(picture.light_copy)


def test_mending_keeps_what_stood_there() -> None:
    picture = add(sit(), others="unresolved")
    one = picture.appearances.get()
    actions.mend(
        picture=picture, changes={"others": "settled"}, recognisable={one: "no"},
        by=cast.artist(), at=NOW,
    )  # fmt: skip
    picture.refresh_from_db()
    one.refresh_from_db()
    assert (picture.others, one.recognisable) == ("settled", "no")
    kept = {row.kind: row.old for row in Mending.objects.all()}
    assert kept == {
        "pictures.picture": {"others": "unresolved"},
        "pictures.appearance": {"recognisable": "yes"},
    }


def test_picture_of_which_everybody_was_erased_is_mended_no_more() -> None:
    picture = add(sit())
    picture.appearances.all().delete()
    told = {"changes": {"alt_text": "A mole"}, "by": cast.artist(), "at": NOW}
    assert refusal(actions.mend, picture=picture, **told) == ("erased",)


def test_mending_changes_nothing_else() -> None:
    picture = add(sit())
    with pytest.raises(TypeError, match="code"):
        actions.mend(picture=picture, changes={"code": "K99"}, by=cast.artist(), at=NOW)
    actions.mend(picture=picture, changes={}, by=cast.artist(), at=NOW)
    assert not Mending.objects.exists()


def caption(picture, words, hour=9, **rest):
    at = cast.moment(hour=hour)
    return actions.write_caption(picture=picture, words=words, by=cast.artist(), at=at, **rest)


def test_any_change_of_words_is_a_new_version() -> None:
    picture = add(sit())
    quote = actions.add_quote(
        code="Q1", person=cast.danuta(), words="The tide waits.", by=cast.artist(), at=NOW
    )
    assert caption(picture, "At the mole").version == "c1"
    assert refusal(caption, picture, "At the mole") == ("nothing_changed",)
    second = caption(picture, "At the mole", 10, quotes=[quote])
    assert (second.version, list(second.quotes.all())) == ("c2", [quote])
    assert refusal(caption, picture, "At the mole", quotes=[quote]) == ("nothing_changed",)
    assert refusal(caption, picture, "Else", version="c1") == ("version_taken",)
    assert caption(picture, "At the mole", 11, version="c9").version == "c9"
    assert queries.newest_caption(picture).version == "c9"


def test_quote_has_a_code_of_its_own_and_may_come_out_of_an_interview() -> None:
    picture = add(sit())
    words = caption(picture, "At the mole")
    talk = Interview.objects.create(person=cast.danuta(), held_on=cast.TODAY)
    given = {"person": cast.danuta(), "words": "The tide waits.", "by": cast.artist(), "at": NOW}
    quote = actions.add_quote(code="Q1", interview=talk, captions=[words], **given)
    assert (quote.interview, list(quote.captions.all())) == (talk, [words])
    assert refusal(actions.add_quote, code="Q1", **given) == ("code_taken",)
    other = Interview.objects.create(person=cast.bruno(), held_on=cast.TODAY)
    assert refusal(actions.add_quote, code="Q2", interview=other, **given) == ("not_their_talk",)


def test_anyone_lays_a_hold_and_a_second_one_finds_the_first() -> None:
    picture = add(sit())
    laid = actions.hold(picture=picture, by=cast.keeper(), at=NOW)
    assert laid.next_look_on == cast.days(14)
    assert actions.hold(picture=picture, by=cast.assistant(), at=NOW) == laid
    for day in (15, -1):
        assert refusal(
            actions.hold, picture=picture, by=cast.artist(), at=NOW, next_look_on=cast.days(day)
        ) == ("look_within_14_days",)  # fmt: skip


def test_hold_is_lifted_by_artist_or_keeper_with_a_sentence() -> None:
    picture = add(sit())
    laid = actions.hold(picture=picture, by=cast.artist(), at=NOW)
    given = {"hold": laid, "at": NOW}
    no = refusal(actions.lift, sentence="A slip.", by=cast.assistant(), **given)
    assert no == ("artist_or_keeper",)
    assert refusal(actions.lift, sentence=" ", by=cast.artist(), **given) == ("no_sentence",)
    actions.lift(sentence=" A slip. ", by=cast.keeper(), **given)
    assert laid.sentence == "A slip."
    assert queries.open_hold(picture) is None
    assert Sitting.objects.count() == 1
