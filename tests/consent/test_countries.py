"""Countries are found by two letters and named in the language of the screen."""

import pytest
from django.utils.translation import override

from relations.consent.countries import territories


def test_countries_are_two_letters_and_no_region_is_among_them():
    found = territories("en")
    assert (found["FR"], found["PE"]) == ("France", "Peru")
    assert not {"001", "419"} & set(found)


@pytest.mark.parametrize(("language", "name"), [("fr", "Pérou"), ("en", "Peru"), ("xx", "Peru")])
def test_name_follows_the_language_or_falls_back_to_english(language, name):
    assert territories(language)["PE"] == name
    with override("fr"):
        assert territories()["PE"] == "Pérou"
