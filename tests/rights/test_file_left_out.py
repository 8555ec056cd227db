"""Nothing is left out of a file without a reason, and what is left out is there."""

from django.apps import apps

from relations.rights.file_left_out import LEFT_OUT, NEVER_SAID
from relations.rights.file_table import HOLDS


def test_every_reason_is_a_sentence_and_every_table_is_there():
    for label in LEFT_OUT:
        assert apps.get_model(label) and label not in HOLDS
    assert all(len(why.split()) > 3 for why in (LEFT_OUT | NEVER_SAID).values())


def test_what_is_never_said_of_a_table_is_there_and_not_said():
    for name in (one for one in NEVER_SAID if "." in one):
        label, _dot, field = name.rpartition(".")
        assert apps.get_model(label)._meta.get_field(field), name
        assert field not in HOLDS[label].fields, name


def test_the_word_that_lets_somebody_in_is_in_no_file():
    assert "agreed_word" not in {name for held in HOLDS.values() for name in held.fields}
