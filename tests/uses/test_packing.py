"""What is handed on of a cleared selection: agreed public names, and nothing not cleared."""

from datetime import date
from io import BytesIO
from zipfile import ZipFile

import pytest

from relations.consent import values
from relations.consent.answers import Answer, Code, Reason, Result
from relations.people.models import Name, Participant
from relations.pictures.models import Caption, Picture
from relations.privacy.models import AccessEntry
from relations.uses import actions, packing, sidecar
from tests.uses import plans

pytestmark = pytest.mark.django_db


@pytest.fixture
def two():
    return plans.few("K01", "K02")


def packed(plan):
    found = packing.packing(plan, plans.TODAY)
    return {row.picture: row for row in found.rows}


def named(code, text, kind="own"):
    return Name.objects.create(person=Participant.objects.get(code=code), text=text, kind=kind)


def test_only_what_is_cleared_is_packed(django_assert_max_num_queries) -> None:
    plans.demo()
    plan = plans.plan("E1")
    with django_assert_max_num_queries(26):
        found = packing.packing(plan, plans.TODAY)
    assert (len(found.rows), found.not_cleared, found.leaking) == (16, 17, [])
    assert {"K30", "K03"} < {row.picture for row in found.rows}
    assert all(row.told.release in ("MR-LMR", "MR-UMR", "MR-NAP") for row in found.rows)


def test_release_ids_are_the_serials_of_the_forms_that_bind(two) -> None:
    row = packed(plans.plan("E1", "K01"))["K01"]
    newest = Participant.objects.get(code="01").forms.last()
    assert row.told.release_ids == (newest.sheet.serial,)
    assert row.told.title == "K01"


def test_name_is_told_as_the_plan_names_them_and_no_other(two) -> None:
    named("01", "Marcel Thouvenin")
    plan = plans.plan("E1", "K01")
    row = packed(plan)["K01"]
    assert (row.told.people, row.named) == (("Marcel Thouvenin",), ("01",))
    plan.names.update(name_form="none")
    assert packed(plan)["K01"].told.people == ()


def worded(plan, captioned="", caption=None, **names):
    asked = plan.asked.get(picture__code="K01")
    said = {Participant.objects.get(code=code[1:]): how for code, how in names.items()}
    how = {"captioned": captioned, "caption": caption, "names": said}
    actions.word(asked=asked, by=plans.artist(), **how)


def test_one_picture_is_told_as_it_was_weighed_and_not_as_all_the_others(two) -> None:
    named("01", "Marcel Thouvenin")
    first, _newest = Caption.objects.filter(picture__code="K01")
    Caption.objects.filter(pk=first.pk).update(words="At the mole")
    first.refresh_from_db()
    plan = plans.plan("E1", "K01")
    worded(plan, caption=first, _01="none")
    told = packed(plan)["K01"].told
    assert (told.caption, told.people) == ("At the mole", ())
    worded(plan, captioned="none", caption=first, _01="")
    told = packed(plan)["K01"].told
    assert (told.caption, told.people) == ("", ())
    worded(plan, captioned="shown")
    assert packed(plan)["K01"].told.people == ("Marcel Thouvenin",)


def test_name_that_is_never_printed_is_not_told(two) -> None:
    named("01", "Marcel Thouvenin")
    named("01", "Thouvenin", "never_print")
    assert packed(plans.plan("E1", "K01"))["K01"].told.people == ()


def test_plan_without_captions_tells_neither_words_nor_names(two) -> None:
    named("01", "Marcel Thouvenin")
    Caption.objects.filter(picture__code="K01").update(words="At the mole")
    plan = plans.plan("E1", "K01")
    assert packed(plan)["K01"].told.caption == "At the mole"
    plan.captions = False
    plan.save()
    told = packed(plan)["K01"].told
    assert (told.caption, told.people) == ("", ())


def test_words_in_which_a_name_stands_are_left_out(two) -> None:
    """The name of the file, in which the weighing does not find it, since it is joined."""
    named("01", "Thouvenin", "never_print")
    Picture.objects.filter(code="K01").update(file_name="K01marcelthouvenin.jpg")
    found = packing.packing(plans.plan("E1", "K01", "K02"), plans.TODAY)
    assert [row.picture for row in found.rows] == ["K02"]
    assert (found.not_cleared, found.leaking) == (0, ["K01"])


@pytest.mark.parametrize(
    ("file_name", "kept"),
    [
        ("T1_mole-03.tif", "T1_mole-03.xmp"),
        ("mole", "mole.xmp"),
        ("", "K01.xmp"),
        ("../../mole.jpg", "K01.xmp"),
        ("a b.jpg", "K01.xmp"),
        (".jpg", "K01.xmp"),
        ("ميناء.jpg", "ميناء.xmp"),
    ],
)
def test_sidecar_bears_the_name_of_the_picture_file_where_it_is_one_word(file_name, kept) -> None:
    picture = values.Picture("K01", "01/T1", plans.TODAY, (), file_name=file_name)
    assert f"{packing._stem(picture)}.xmp" == kept


def test_two_files_of_one_name_go_by_their_codes(two) -> None:
    Picture.objects.filter(code="K01").update(file_name="Scan.jpg")
    Picture.objects.filter(code="K02").update(file_name="scan.tif")
    rows = packed(plans.plan("E1", "K01", "K02"))
    assert [row.file for row in rows.values()] == ["K01.xmp", "K02.xmp"]


ANSWER = Answer(Result.CLEARED, (), (), None)


def test_terms_say_the_use_and_nothing_beyond_in_two_languages(two) -> None:
    plan = plans.plan("E1", "K01", place="Halle aux Voiles")
    told = packed(plan)["K01"].told
    assert told.usage_terms.startswith("Exhibition wall; Halle aux Voiles; France; ")
    assert "For this use only; any other is asked for anew." in told.usage_terms
    assert "Not used to train machines." in told.usage_terms
    assert told.terms_in["fr"].startswith("Mur d’exposition; Halle aux Voiles; France; ")
    assert "Pour cet usage seulement" in told.terms_in["fr"]


def test_terms_say_until_when_they_hold_and_that_conditions_stand_on_the_sheet() -> None:
    plan = plans.plan("E1")
    plan.countries, plan.ends_on = None, None
    assert "in the whole world; from " in packing.terms(plan, ANSWER, "en")
    plan.one_day = True
    assert "from" not in packing.terms(plan, ANSWER, "en").split(".")[0]
    reasons = (Reason("01", Code.AS_WRITTEN), Reason("02", Code.AS_WRITTEN))
    answer = Answer(Result.CONDITIONS, (), reasons, date(2027, 1, 31))
    said = packing.terms(plan, answer, "en")
    assert "Ask again by 31 January 2027." in said
    assert said.endswith("1 condition stands on the clearance sheet.")


def test_same_selection_makes_the_same_bytes(two) -> None:
    found = packing.packing(plans.plan("E1", "K01", "K02"), plans.TODAY)
    content = packing.as_zip(found.rows)
    assert content == packing.as_zip(found.rows[::-1])
    with ZipFile(BytesIO(content)) as file:
        assert file.testzip() is None
        assert file.namelist() == ["K01.xmp", "K02.xmp"]
        told = sidecar.properties(found.rows[0].told)
        assert file.read(f"{found.rows[0].file}") == sidecar.written(told)


def test_handing_out_is_noted_for_the_plan_and_each_name(two) -> None:
    named("01", "Marcel Thouvenin")
    plan, user = plans.plan("E1", "K01", "K02"), plans.artist()
    packing.hand_out(plan, user, plans.TODAY)
    rows = AccessEntry.objects.filter(verb="read").values_list("by", "kind", "key")
    marcel = Participant.objects.get(code="01")
    assert set(rows) == {(user.pk, "sidecars", plan.pk), (user.pk, "names", marcel.log_key)}
