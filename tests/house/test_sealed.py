"""What is sealed in the register and what is not, field by field; a new one must be put here."""

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from django.apps import apps
from django.db import connection, models

from relations.people.models import Participant
from relations.privacy.fields import HEADER, OVERHEAD, SealedDate, SealedJSON, SealedText
from tests.rows import make

# Source: the design's list "Facts kept, by thing", where a star means sealed. Of the scan, which
# has one too, the register holds a key only: the file is sealed where it lies (privacy/files.py).
STARRED = {
    "call-name": "people.Participant.call_name",
    "names, those never to be printed too": "people.Name.text",
    "ways to reach": "people.PhoneLine.as_typed people.PhoneLine.number people.PhoneLine.extension",
    "birth date or year": "people.Participant.born_earliest people.Participant.born_latest "
    "people.Participant.born_said",
    "speaker": "people.Speaker.name people.Speaker.way",
    "place of a meeting in words": "meetings.Meeting.place meetings.Meeting.fallback",
}
# Sealed besides: each could lead to somebody, or is in somebody's own words.
SEALED_TOO = {
    "who uses the site": "privacy.User.called",
    "what makes one-time codes": "privacy.CodeDevice.secret",
    "what telephones seal to, and what they wrote": "privacy.OutboxKey.private "
    "privacy.OutboxEntry.said",
    "what opens a travelling set at home": "meetings.TravellingSet.secret",
    "what a mended row said": "privacy.Mending.old privacy.Mending.why",
    "the word by which somebody is known again": "people.Participant.agreed_word",
    "who passes names on": "people.OutsideIntroducer.label",
    "the words beside a number": "people.PhoneLine.note",
    "who rang us": "people.RangUs.typed people.RangUs.perhaps",
    "who comes along, and how to leave": "meetings.Meeting.company meetings.Meeting.exit_signal",
    "who helps": "meetings.Helper.name",
    "what was read on a form": "consent.Reading.answers",
    "the name agreed for print": "consent.Form.agreed_name",
    "a condition in their own hand": "consent.Form.own_condition",
    "what a form proves": "consent.KeptCopy.record",
    "who answers for a child": "consent.GuardianAnswer.name",
    "how a print is handed over": "prints.Print.into_whose_hand prints.Print.word_at_the_door "
    "prints.Print.when_to_come",
    "where a print is brought": "prints.Print.quarter prints.Print.place",
    "who decided how a print ends": "prints.Print.decided_by",
    "why a promise was not kept": "prints.Promise.ended_why",
    "how to reach who shows a picture": "uses.Shown.reach_holder",
    "where a picture was misused": "rights.Misuse.where",
    "why an authority need not be told": "rights.Alarm.not_needed_why",
    "why the register is taken out": "rights.TakingOut.reason",
}
# Open, because it is none of these: codes, keys and digests; days of the week and hours; what to
# do, never why; words that are printed or shown; the trade's own things.
OPEN = {
    "privacy.User": "password username languages language",
    "privacy.PaperCode": "hashed",
    "privacy.KnownDevice": "digest",
    "privacy.WrongTries": "mark",
    "privacy.AccessEntry": "verb kind mac",
    "privacy.LogHead": "mac",
    "privacy.LedgerHead": "mac",
    "privacy.GoneFile": "folder name",
    "privacy.Posted": "address",
    "privacy.Mending": "kind",
    "privacy.OutboxKey": "public",
    "documents.Layout": "digest boxes",
    "documents.Sheet": "serial version digest kept",
    "documents.Scan": "file media_type digest",
    "documents.Upload": "file left_out",
    "documents.Page": "digest file word",
    "people.Community": "key name",
    "people.OutsideIntroducer": "code",
    "people.Participant": "code languages instruction may_say safe_hours safe_days",
    "people.Name": "script",
    "people.PhoneLine": "mark zone",
    "people.PersonHold": "sentence",
    "people.NeverRing": "mark was",
    "meetings.Trip": "code currency",
    "meetings.Call": "parts outcome next_step",
    "meetings.Helper": "initials languages",
    "meetings.Meeting": "explained told_back ended_why late_why interpreter_ties witness_ties",
    "meetings.Recording": "code file",
    "pictures.Sitting": "code",
    "pictures.FilmSheet": "holder",
    "pictures.Picture": "code alt_text file_name light_copy light_copy_type",
    "pictures.PictureHold": "sentence",
    "pictures.Caption": "version words",
    "pictures.Quote": "code words",
    "consent.Wording": "language labels",
    "consent.KeptCopy": "record_digest file digest",
    "consent.Clause": "key heading text source_words read_back approved_words why",
    **dict.fromkeys(("consent.CaptionAnswer", "consent.QuoteAnswer"), "language"),
    "consent.Form": "old_language uses only_countries not_countries missing_lines",
    "prints.LabOrder": "code currency",
    "prints.LabLine": "size",
    "prints.Round": "code starts_in",
    "prints.RoundDoor": "letter",
    "prints.QuarterMinutes": "start end",
    "prints.Print": "code size box closed_how",
    "prints.Step": "was became reason",
    "prints.Promise": "currency",
    "uses.PlannedUse": "code place countries files_with",
    "uses.Weighing": "result stops conditions digest",
    "uses.ClearanceSheet": "language link_digest phrase",
    "uses.ClearedPicture": "caption instruction",
    "uses.Shown": "code place countries holder",
    "uses.UndoLine": "code",
    "referrals.Shared": "said",
    "rights.OthersAsk": "asked_by answer",
    "rights.Alarm": "what",
    "rights.LettingGo": "sentence thing",
    "rights.Ending": "was",
    "rights.Handover": "counts by_hand why_differs",
    "uses.Standstill": "sentence",
    "rights.CountsReport": "said",
    "rights.TakingOut": "digest",
    "rights.Backup": "log_head counts",
    "trips.Count": "how",
    "trips.Stay": "countries",
}
SEALED = {field for fields in (STARRED | SEALED_TOO).values() for field in fields.split()}
# They hold no words. Whatever else a field is, it stands in one of the tables.
WORDLESS = (
    *(models.BooleanField, models.IntegerField, models.DecimalField, models.UUIDField),
    *(models.DateField, models.TimeField, models.ForeignKey),
)
WORD, PART = "Zéphirine de la rue دلال", "phirine"
SECRET: dict[type, Any] = {
    SealedText: WORD,
    SealedJSON: {"call_name": [WORD]},
    SealedDate: date(1987, 6, 5),
}
READABLE = (WORD, PART, "دلال", "1987-06-05")
WAYS_TO_WRITE = ("utf-8", "utf-16-le", "utf-16-be")


def all_fields() -> Iterator[tuple[str, models.Field]]:
    """Every column of the site's own tables, as `people.Name.text`."""
    for model in apps.get_models():
        if model.__module__.startswith("relations."):
            for field in model._meta.local_fields:
                yield f"{model._meta.label}.{field.name}", field


def open_words() -> set[str]:
    return {f"{model}.{name}" for model, names in OPEN.items() for name in names.split()}


FIELDS = dict(all_fields())


def test_every_field_that_can_hold_words_is_sealed_or_said_to_be_open():
    wordy = {
        name
        for name, field in FIELDS.items()
        if not field.choices and not isinstance(field, WORDLESS)
    }
    assert wordy == SEALED | open_words()


def test_exactly_the_fields_of_the_table_are_sealed():
    sealed = {name for name, field in FIELDS.items() if type(field) in SECRET}
    assert sealed == SEALED
    assert not SEALED & open_words()


@pytest.mark.django_db
@pytest.mark.parametrize("name", sorted(SEALED))
def test_sealed_field_cannot_be_read_in_the_row(name):
    field = FIELDS[name]
    secret = SECRET[type(field)]
    row = make(field.model, **{field.name: secret})
    kept = stored(field.model, row)
    assert kept[field.column].startswith(HEADER)
    assert len(kept[field.column]) > OVERHEAD
    assert not [column for column in kept if found_in(kept[column])]
    assert getattr(field.model._default_manager.get(pk=row.pk), field.name) == secret


@pytest.mark.django_db
@pytest.mark.parametrize("name", sorted(SEALED))
def test_row_is_not_called_by_what_is_sealed_in_it(name):
    field = FIELDS[name]
    row = make(field.model, **{field.name: SECRET[type(field)]})
    assert not [word for word in READABLE if word in f"{row} {row!r}"]


@pytest.mark.django_db
def test_open_field_can_be_read_in_the_row():
    row = make(Participant, instruction=WORD)
    assert found_in(stored(Participant, row)["instruction"])
    assert found_in(WORD.encode("utf-16-le"))


def found_in(column: bytes) -> list[str]:
    """The words of a secret that can be read in what a database keeps, in any writing of theirs."""
    return [word for word in READABLE if any(word.encode(way) in column for way in WAYS_TO_WRITE)]


def stored(model: type[models.Model], row: models.Model) -> dict[str, bytes]:
    """The columns of a row as the database itself holds them."""
    pk = model._meta.pk
    with connection.cursor() as cursor:
        cursor.execute(
            f'SELECT * FROM "{model._meta.db_table}" WHERE "{pk.column}" = %s',  # noqa: S608
            [pk.get_db_prep_value(row.pk, connection)],
        )
        names = [column[0] for column in cursor.description]
        return {name: as_bytes(value) for name, value in zip(names, cursor.fetchone(), strict=True)}


def as_bytes(value: object) -> bytes:
    if isinstance(value, bytes | memoryview):
        return bytes(value)
    return str(value).encode()
