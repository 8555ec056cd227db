"""What may be typed of word that came through: its source, and a day as far as it is known."""

import uuid

import pytest

from relations.people.told_forms import MendToldForm, NewForm, SourceForm
from relations.people.values import Precision
from tests import cast


def typed(**fields: object) -> dict[str, object]:
    return {"token": str(uuid.uuid4()), **fields}


@pytest.mark.django_db
def test_the_own_start_has_no_source_whatever_was_typed_beside() -> None:
    cast.marcel()
    form = NewForm(
        typed(call_name="Nour", source="own", introducer="01", heard_on="2026-11-20",
              outside=str(cast.chaplaincy().pk))
    )  # fmt: skip
    assert form.is_valid(), form.errors
    assert (form.heard["introducer"], form.heard["outside"]) == (None, None)


@pytest.mark.django_db
def test_a_day_is_a_day_unless_somebody_says_that_less_is_known() -> None:
    said = typed(source="own", heard_on="2026-11-20")
    for precision, known in ((None, Precision.DAY), ("", Precision.DAY), ("month", "month")):
        form = SourceForm(said if precision is None else {**said, "precision": precision})
        assert form.is_valid(), form.errors
        assert form.day["precision"] == known
    assert not SourceForm({**said, "precision": "century"}).is_valid()


@pytest.mark.django_db
def test_mending_begins_with_what_stands() -> None:
    marcel, nour = cast.marcel(), cast.person("51", "Nour")
    told = cast.told(nour, marcel, precision="year")
    begun = MendToldForm(told=told).initial
    assert (begun["source"], begun["introducer"], begun["precision"]) == ("person", "01", "year")
    outside = cast.told(nour, outside=cast.chaplaincy())
    assert MendToldForm(told=outside).initial["source"] == "outside"
    assert MendToldForm(told=cast.told(marcel)).initial["source"] == "own"


@pytest.mark.django_db
@pytest.mark.parametrize("source", ["person", "outside"])
def test_a_source_that_is_not_named_is_asked_for(source: str) -> None:
    form = SourceForm(typed(source=source, heard_on="2026-11-20"))
    assert not form.is_valid()
    assert set(form.errors) == {"introducer" if source == "person" else "outside"}
