"""Codes of the pictures room have words."""

from relations.pictures.leaks import Where
from relations.pictures.templatetags import picture_words
from relations.pictures.values import Became, Light, Others, PlaceWord, Recognisable, SheetState


def test_every_code_has_its_word() -> None:
    for codes, filter_ in (
        (Light, picture_words.light),
        (SheetState, picture_words.sheet_state),
        (Others, picture_words.others),
        (Became, picture_words.became),
        (Where, picture_words.where),
        (PlaceWord, picture_words.place_word),
        (Recognisable, picture_words.recognisable),
    ):
        assert all(str(filter_(code)) for code in codes)
        assert filter_("nowhere") == ""
