"""Sealed fields: a value opens in its own row and column only, and no query can look into it."""

import datetime
import uuid

import pytest
from django.core import serializers
from django.db import connection, models
from django.forms import model_to_dict, modelform_factory

from relations.privacy.crypt import SealBroken
from relations.privacy.fields import (
    OVERHEAD,
    Sealed,
    SealedDate,
    SealedJSON,
    SealedText,
    mark,
    place,
    seal,
    unseal,
)
from relations.privacy.keys import Locked, keyring
from relations.privacy.models import Row

KEY, ROW = bytes(32), uuid.UUID(int=7)
HERE = place("table", "column", ROW)


class Letter(Row):
    """A row with every kind of sealed field; its table lives for one test."""

    words = SealedText()
    other = SealedText(null=True)
    sent_on = SealedDate(null=True)
    parts = SealedJSON(default=list)

    class Meta:
        app_label = "sealed_letters"


@pytest.fixture
def letters(transactional_db):
    with connection.schema_editor() as editor:
        editor.create_model(Letter)
    yield Letter.objects
    with connection.schema_editor() as editor:
        editor.delete_model(Letter)


def raw(letter, column):
    """What the database itself holds."""
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {column} FROM {Letter._meta.db_table}")  # noqa: S608
        return bytes(cursor.fetchone()[0])


def test_a_token_has_31_bytes_over_and_says_its_version_and_key():
    token = seal(KEY, b"words", HERE)
    assert len(token) - len(b"words") == OVERHEAD == 31
    assert token[:3] == b"\x01\x00\x01"
    assert unseal(KEY, token, HERE) == b"words"


def test_the_same_words_never_give_the_same_token():
    assert seal(KEY, b"words", HERE) != seal(KEY, b"words", HERE)


@pytest.mark.parametrize(
    "there",
    [
        place("table", "other", ROW),
        place("other", "column", ROW),
        place("table", "column", uuid.UUID(int=8)),
        b"",
    ],
)
def test_a_token_moved_to_another_place_does_not_open(there):
    with pytest.raises(SealBroken):
        unseal(KEY, seal(KEY, b"words", HERE), there)


@pytest.mark.parametrize("byte", range(0, 36, 5))
def test_a_token_with_one_bit_turned_does_not_open(byte):
    token = bytearray(seal(KEY, b"words", HERE))
    token[byte] ^= 1
    with pytest.raises(SealBroken):
        unseal(KEY, bytes(token), HERE)


@pytest.mark.parametrize("length", [0, 3, 15, 30, 35])
def test_a_token_that_was_cut_does_not_open(length):
    with pytest.raises(SealBroken):
        unseal(KEY, seal(KEY, b"words", HERE)[:length], HERE)


def test_values_come_back_as_they_were_saved(letters):
    letter = letters.create(
        words="नमस्ते – à bientôt", sent_on=datetime.date(2026, 11, 23), parts=["a", {"b": None}]
    )
    kept = letters.get(pk=letter.pk)
    assert (kept.words, kept.other) == ("नमस्ते – à bientôt", None)
    assert (kept.sent_on, kept.parts) == (datetime.date(2026, 11, 23), ["a", {"b": None}])


def test_nothing_said_is_the_empty_text_and_is_sealed_too(letters):
    letter = letters.create()
    assert letters.get(pk=letter.pk).words == ""
    assert len(raw(letter, "words")) == OVERHEAD


def test_the_database_holds_tokens_only(letters):
    letter = letters.create(words="words said in trust", parts=["said in trust"])
    for column in ("words", "parts"):
        assert b"trust" not in raw(letter, column)


def test_values_and_dumps_stay_sealed(letters):
    letter = letters.create(words="said in trust", sent_on=datetime.date(2026, 11, 23), parts=7)
    assert type(letters.values_list("words", flat=True).get()) is Sealed
    assert isinstance(letters.values("words").get()["words"], Sealed)
    dumped = serializers.serialize("json", letters.all())
    assert "trust" not in dumped
    assert "2026" not in dumped
    assert model_to_dict(letter) == {}
    assert raw(letter, "words").hex() in dumped


def test_a_model_form_leaves_sealed_fields_out():
    assert modelform_factory(Letter, fields="__all__").base_fields == {}


def test_a_value_moved_to_another_row_does_not_open_and_says_where(letters):
    one, two = letters.create(words="one"), letters.create(words="two")
    with connection.cursor() as cursor:
        table = Letter._meta.db_table
        cursor.execute(
            f"UPDATE {table} SET words = (SELECT words FROM {table} WHERE id = %s) WHERE id = %s",  # noqa: S608
            [Letter._meta.pk.get_db_prep_value(row.pk, connection) for row in (one, two)],
        )
    with pytest.raises(SealBroken, match=r"words of row .* does not open"):
        _ = letters.get(pk=two.pk).words
    assert letters.get(pk=one.pk).words == "one"


def test_a_value_moved_to_another_column_does_not_open(letters):
    letter = letters.create(words="one", other="two")
    letters.update(other=models.F("words"))
    with pytest.raises(SealBroken, match="other"):
        _ = letters.get(pk=letter.pk).other


def test_a_value_changed_in_memory_is_saved_and_one_not_opened_stays_as_it_was(letters):
    letter = letters.create(words="one", other="two")
    before = raw(letter, "other")
    kept = letters.get(pk=letter.pk)
    kept.words = "three"
    kept.save()
    assert raw(letter, "other") == before
    again = letters.get(pk=letter.pk)
    assert (again.words, again.other) == ("three", "two")


def test_a_deferred_value_opens_when_it_is_looked_at(letters):
    letter = letters.create(words="one", other="two")
    kept = letters.only("id").get(pk=letter.pk)
    assert kept.words == "one"
    kept = letters.defer("other").get(pk=letter.pk)
    kept.save(force_update=True)
    assert letters.get(pk=letter.pk).other == "two"
    kept.refresh_from_db()
    assert kept.other == "two"


def test_many_rows_are_made_at_once_each_bound_to_itself(letters):
    letters.bulk_create(Letter(words=f"letter {number}") for number in range(30))
    assert sorted(letter.words for letter in letters.all()) == sorted(
        f"letter {number}" for number in range(30)
    )


@pytest.mark.parametrize(
    "lookup", ["words", "words__contains", "sent_on__gt", "parts__0", "words__in"]
)
def test_nothing_can_be_looked_up_in_a_sealed_field(lookup):
    with pytest.raises(TypeError, match="mark"):
        str(Letter.objects.filter(**{lookup: "one"}).query)


def test_whether_something_is_there_can_be_asked(letters):
    letters.create(other="here")
    letters.create()
    assert letters.filter(other__isnull=False).count() == 1


def test_a_clear_value_never_reaches_a_query(letters):
    letter = letters.create(words="one")
    with pytest.raises(TypeError, match="sealed"):
        letters.update(words="two")
    letter.words = "three"
    with pytest.raises(TypeError, match="sealed"):
        letters.bulk_update([letter], ["words"])
    assert letters.get(pk=letter.pk).words == "one"
    letters.update(other=None)


@pytest.mark.parametrize(
    "wrong",
    [
        {"words": 7},
        {"sent_on": "2026-11-23"},
        {"sent_on": datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)},
    ],
)
def test_a_value_of_another_kind_is_refused(letters, wrong):
    with pytest.raises(TypeError, match="holds"):
        letters.create(**wrong)
    assert not letters.exists()


@pytest.mark.unlocked
def test_a_locked_home_opens_no_value(letters):
    keyring.hold(bytes(range(32)))
    letter = letters.create(words="one")
    kept = letters.get(pk=letter.pk)
    keyring.lock()
    try:
        with pytest.raises(Locked):
            _ = kept.words
        with pytest.raises(Locked):
            mark("one")
    finally:
        keyring.hold(bytes(range(32)))


def test_a_mark_finds_an_equal_value_and_says_nothing_of_it():
    assert mark("+33639980001") == mark("+33639980001")
    assert mark("+33639980001") != mark("+33639980002")
    assert len(mark("")) == 16


def test_a_mark_depends_on_the_key():
    first = mark("+33639980001")
    keyring.hold(bytes(31) + b"\x01")
    try:
        assert mark("+33639980001") != first
    finally:
        keyring.hold(bytes(range(32)))


def test_a_sealed_field_is_written_into_migrations_as_itself():
    name, path, args, kwargs = Letter._meta.get_field("other").deconstruct()
    assert (name, path) == ("other", "relations.privacy.fields.SealedText")
    assert (args, kwargs) == ([], {"null": True})
    assert Letter._meta.get_field("words").clone().deconstruct()[1:3] == (path, [])


def test_a_row_copied_without_looking_is_refused_rather_than_lost(letters):
    letter = letters.create(words="one")
    copy = letters.get(pk=letter.pk)
    copy.pk, copy._state.adding = uuid.uuid4(), True
    with pytest.raises(SealBroken):
        copy.save(force_insert=True)
    copy = letters.get(pk=letter.pk)
    assert copy.words == "one"
    copy.other, copy.parts, copy.sent_on = None, copy.parts, None
    copy.pk, copy._state.adding = uuid.uuid4(), True
    copy.save(force_insert=True)
    assert letters.get(pk=copy.pk).words == "one"


def test_a_row_is_checked_with_its_clear_values(letters):
    letter = Letter(words="one", parts=["a"])
    letter.full_clean(exclude=["other", "sent_on"])
    assert letter.words == "one"


def test_a_sealed_field_is_known_on_its_class():
    assert Letter.words.field.name == "words"


def test_a_row_that_was_read_in_part_is_saved_whole(letters):
    letter = letters.create(words="one", other="two")
    part = letters.only("words").get(pk=letter.pk)
    part.save(update_fields=["words", "other"])
    kept = letters.get(pk=letter.pk)
    assert (kept.words, kept.other) == ("one", "two")


def test_a_sealed_field_may_have_a_text_as_its_default():
    class Noted(Row):
        words = SealedText(default="none")

        class Meta:
            app_label = "sealed_noted"

    assert Noted().words == "none"
    assert Noted.check() == []
