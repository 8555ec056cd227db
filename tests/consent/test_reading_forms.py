"""Every box of a paper is read; none is filled in beforehand, and blank is no."""

from uuid import uuid4

import pytest

from relations.consent.boxes import BLANK, whole
from relations.consent.reading_forms import CountriesField, FromBeforeForm, ReadForm
from relations.consent.values import FormKind, Use
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def boxes(**said):
    """A paper that was read whole, with every line marked "no"."""
    read = {
        "token": str(uuid4()),
        "way": "signed",
        "given_on": "2026-11-20",
        "name_form": "none",
        "place_word": "none",
        "if_cannot_answer": "ask",
        "if_died": "ask",
        **{f"use_{use}": "no" for use in Use},
    }
    return {key: value for key, value in (read | said).items() if value is not None}


def read(**said):
    form = ReadForm(boxes(**said), user=cast.assistant())
    assert form.is_valid(), form.errors
    return whole(form.answers)


def test_paper_of_noes_is_a_blank_paper():
    assert read() == dict(BLANK) | {"way": "signed", "given_on": "2026-11-20"}


def test_nothing_is_filled_in_beforehand():
    form = ReadForm(user=cast.assistant())
    for use in Use:
        assert form.fields[f"use_{use}"].initial is None
        assert form.fields[f"use_{use}"].required
    assert all(form.fields[box].initial is None for box in ("way", "name_form", "if_died"))


@pytest.mark.parametrize("box", ["use_web", "way", "name_form", "place_word", "if_died"])
def test_box_that_was_not_looked_at_is_asked_for(box):
    assert box in ReadForm(boxes(**{box: None}), user=cast.assistant()).errors


def test_only_a_plain_yes_is_a_yes():
    assert read(use_web="yes", use_book="blank")["uses"] == ["web"]


def test_all_other_boxes_are_kept_as_they_are_read():
    found = read(
        only_countries="fr, Belgium",
        not_countries="PE",
        seen_everywhere="on",
        last_day="٣١.١٢.٢٠٢٦",
        name_form="pseudonym",
        agreed_name="Lia",
        no_face="on",
        own_condition="never in our street",
        childs_answer="no",
        copy_kept="yes",
        may_keep="no",
        lines_missing=["witness"],
    )
    assert found == dict(BLANK) | {
        "way": "signed",
        "given_on": "2026-11-20",
        "only_countries": ["BE", "FR"],
        "not_countries": ["PE"],
        "seen_everywhere": True,
        "last_day": "2026-12-31",
        "name_form": "pseudonym",
        "agreed_name": "Lia",
        "no_face": True,
        "own_condition": "never in our street",
        "childs_answer": "no",
        "copy_kept": True,
        "may_keep": False,
        "lines_missing": ["witness"],
    }


def test_only_in_these_countries_with_none_written_is_nowhere():
    assert read(only_nowhere="on")["only_countries"] == []
    assert read()["only_countries"] is None
    both = ReadForm(boxes(only_nowhere="on", only_countries="FR"), user=cast.assistant())
    assert "only_nowhere" in both.errors


def test_agreed_name_is_written_where_it_was_chosen():
    form = ReadForm(boxes(name_form="pseudonym"), user=cast.assistant())
    assert "agreed_name" in form.errors


def test_country_nobody_knows_is_named_in_the_error():
    form = ReadForm(boxes(only_countries="FR, Atlantis"), user=cast.assistant())
    assert "Atlantis" in form.errors["only_countries"][0]
    assert CountriesField().clean("Peru؛ fr") == ["FR", "PE"]


def test_artist_says_of_which_sittings_it_speaks():
    made = desk.sitting("12/T2", cast.danuta())
    form = ReadForm(boxes(sittings=[str(made.pk)]), user=cast.artist(), sittings=[made])
    assert form.is_valid(), form.errors
    assert form.chosen_sittings == [made]
    # In an Arabic line the code would else be drawn as T2/12.
    assert f'<bdi dir="ltr" class="nw">{made.code}</bdi>' in str(form["sittings"])
    first = ReadForm(boxes(), user=cast.assistant())
    assert first.is_valid() and first.chosen_sittings is None


def old_paper(**said):
    paper = {"serial": "30014-72", "code": "12", "language": "es"}
    return FromBeforeForm(boxes(**{**paper, **said}), user=cast.artist())


def test_old_paper_names_its_person_and_their_sittings():
    made = desk.sitting("12/T2", cast.danuta())
    for typed in ("12/T2", "12/T2،", "؛ 12/T2"):
        form = old_paper(sitting_codes=typed)
        assert form.is_valid(), form.errors
        assert form.cleaned_data["of_sittings"] == [made]
    assert form.cleaned_data["person"] == cast.danuta()


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"sitting_codes": "01/T1"}, "sitting_codes"),
        ({"given_on": None}, "given_on"),
        ({"code": "99"}, "code"),
        ({"serial": "3001"}, "serial"),
        ({"language": None}, "language"),
    ],
)
def test_old_paper_without_its_particulars_is_refused(said, field):
    cast.danuta()
    desk.sitting("01/T1", cast.marcel())
    assert field in old_paper(**said).errors


@pytest.mark.parametrize(
    ("kind", "way"),
    [
        (FormKind.ADULT, None),
        (FormKind.GROUP, None),
        (FormKind.CHILD, "child"),
        (FormKind.CANNOT_READ, "mark_and_witness"),
        (FormKind.SPOKEN, "spoken"),
        (FormKind.SIGN_LANGUAGE, "sign_language"),
    ],
)
def test_way_of_giving_stands_ready_where_it_follows_from_the_kind_printed(kind, way):
    form = ReadForm(user=cast.assistant(), kind=kind)
    assert form["way"].initial == way
    assert all(form[field.name].initial is None for field in form if field.name.startswith("use_"))
