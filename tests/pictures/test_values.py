"""The codes of pictures are the strings of the shared examples."""

from relations.pictures.values import Others, PlaceWord, Recognisable


def test_codes_are_those_of_the_examples() -> None:
    assert list(Others) == ["none", "settled", "unresolved", "erased"]
    assert list(PlaceWord) == ["none", "country", "city", "district", "exact"]
    assert list(Recognisable) == ["yes", "no", "unsure"]
