"""The words of the whole page of a person."""

from relations.people.forms import MendForm
from relations.today import words


def test_every_field_that_can_be_mended_has_its_words() -> None:
    assert set(MendForm.base_fields) <= set(words.FIELDS)
    assert {"born_earliest", "born_latest", "born_said", "met_as_adult"} <= set(words.FIELDS)
