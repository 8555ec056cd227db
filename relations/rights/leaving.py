"""What goes when a person is erased, row by row, what is blanked, and what stays and why."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db.models import Count, Model, Q, QuerySet

from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.models import Mending

# Tables whose rows go, and the ways from a row to the person; in the order in which they may go,
# since some rows are held by others.
GOES: dict[str, tuple[str, ...]] = {
    "uses.UndoLine": ("person",),
    "uses.NameShown": ("person",),
    "prints.Step": ("print__person",),
    "prints.LabLine": ("print__person",),
    "prints.RoundDoor": ("print__person",),
    "prints.Print": ("person",),
    "prints.Promise": ("person",),
    "documents.Page": ("sheet__form__person", "sheet__of__person"),
    "documents.Scan": ("sheet__form__person",),
    "consent.PaperOf": ("person",),
    "trips.MissingBlank": ("form__person",),
    "consent.KeptCopy": ("form__person",),
    "consent.FormStep": ("form__person",),
    "consent.Reading": ("form__person",),
    "consent.GuardianAnswer": ("form__person",),
    "consent.PictureAnswer": ("form__person",),
    "consent.CaptionAnswer": ("form__person",),
    "consent.QuoteAnswer": ("form__person", "quote__by"),
    "consent.ConditionDecision": ("form__person",),
    "consent.Form": ("person",),
    "consent.TakenBack": ("person",),
    "consent.SpeakerAnswer": ("person",),
    "pictures.Appearance": ("person",),
    "pictures.Quote": ("by",),
    "meetings.Recording": ("interview__person", "forms__person"),
    "meetings.Interview": ("person",),
    "meetings.Meeting": ("person",),
    "meetings.Call": ("person",),
    "meetings.DayLine": ("person",),
    "rights.Request": ("person",),
    "rights.Ending": ("person",),
    "rights.ToIntroduce": ("person",),
    "rights.Telling": ("person",),
    # A number through which others are reached is this person's own.
    "people.PhoneLine": ("person", "through"),
    "people.Name": ("person",),
    "people.Speaker": ("person", "speaker"),
    "people.Introduction": ("person",),
    "people.PersonHold": ("person",),
    "people.MovedAbroad": ("person",),
    "people.InSight": ("person",),
    "people.Unwanted": ("person",),
    "people.Participant": ("pk",),
}
# What the keeper's page counts together; the words for it are in `words`.
COUNTED: dict[str, tuple[str, ...]] = {
    "names": ("people.Name", "people.PhoneLine", "people.Speaker"),
    "links": ("people.Introduction",),
    "talks": ("meetings.Call", "meetings.Meeting", "meetings.Interview", "meetings.Recording"),
    "forms": ("consent.Form", "documents.Scan"),
    "noes": ("consent.TakenBack", "consent.SpeakerAnswer"),
    "quotes": ("pictures.Quote",),
    "prints": ("prints.Print", "prints.Promise"),
}
# What the notice to a person names, by the words of a wording; never how much, never what.
NAMED: dict[str, tuple[str, ...]] = {
    "name": ("people.Participant",),
    "ways": ("people.PhoneLine",),
    "talks": ("meetings.Call", "meetings.Meeting", "meetings.Interview", "meetings.Recording"),
    "forms": ("consent.Form", "consent.TakenBack", "consent.SpeakerAnswer"),
    "pictures": ("pictures.Appearance", "pictures.Quote"),
    "prints": ("prints.Print", "prints.Promise"),
    "links": ("people.Introduction",),
}
# Tables that keep rows in which this person was, and what is taken out of them; `blanking` does it.
BLANKED: dict[str, str] = {
    "documents.Upload": "pages of theirs in a stack that is not placed yet",
    "documents.Sheet": "the bytes that were printed; serial, kind and digest stay, of nobody",
    "people.Introduction": "who they told us of: a stub stays, with its wave",
    "people.NeverRing": "whose mark it was; the keyed mark itself stays and blocks the number",
    "people.RangUs": "what was typed by or of them, and their code among those it may mean",
    "pictures.Sitting": "that they sat, and their code in the sitting's own",
    "pictures.Picture": "light copy, words and file name; it is marked as never to be shown again",
    "pictures.Caption": "the words, under their pictures and wherever they are quoted",
    "pictures.PictureHold": "lifted ones with their sentence; open ones stay and lose it",
    "uses.Weighing": "reasons and digest; what was cleared with them in it is so no more",
    "uses.ClearedPicture": "the caption of a picture of theirs, and what was to be kept to",
    "rights.OthersAsk": "whom somebody asked about; that somebody asked stays",
    "rights.LettingGo": "who was let go, and the sentence; that the clock ran out stays",
    "rights.Alarm": "that they were among those it may touch",
    "rights.Misuse": "of a picture of theirs, what is over; what must still come down stays",
    "privacy.OutboxEntry": "what a telephone wrote of them; its key stays and is taken in once",
    "privacy.Mending": "every older value of them and of a row of theirs",
    "privacy.Posted": "the address of a page of theirs that a form led to",
}
# Every other table of the site, and why what stands there may stay.
WHAT_STAYS: dict[str, str] = {
    "documents.Layout": "where boxes stand on a printed page, of nobody",
    "uses.Shown": "the use register says where copies are as long as there are any",
    "uses.PlannedUse": "a plan is of pictures; whom it names goes with them",
    "uses.PlannedPicture": "that a picture was asked for; it is not cleared any more",
    "uses.ClearanceSheet": "a numbered list that was handed out; its line loses its words",
    "pictures.Stranger": "a place in a frame, of somebody who is noted by no name and no code",
    "pictures.FilmSheet": "film in its holder, by number; what is on it is for the artist",
    "people.Community": "a tree's name for a group, without its people",
    "people.OutsideIntroducer": "somebody else, under a label of their own",
    "meetings.Helper": "somebody else, who interprets or witnesses",
    "consent.Wording": "words of the form, of nobody",
    "consent.Clause": "words of the form, of nobody",
    "meetings.Trip": "days of the artist at the place",
    "meetings.TravellingSet": "that a set was made and came home; whom it held is not kept",
    "trips.Count": "how many of a thing on a trip",
    "trips.Day": "days on which we work",
    "trips.Stay": "the countries of a trip, and when it was closed",
    "prints.LabOrder": "a slip for the lab by code and price",
    "prints.Round": "a way of the assistant on a day",
    "prints.QuarterMinutes": "minutes between two quarters",
    "referrals.Shared": "numbers of groups, as they left the house, of nobody",
    "rights.Handover": "counts signed by two who use the site",
    "uses.Standstill": "days on which new uses were held back, of nobody",
    "people.ProjectClosed": "the day since which the project is closed",
    "rights.Closing": "days on which the project began to close and was closed",
    "rights.TakingOut": "that two who use the site took the register out, and when",
    "rights.CountsReport": "numbers that were given out, of nobody",
    "rights.Backup": "how many rows a backup holds, never whose",
    "privacy.User": "who uses the site",
    "privacy.CodeDevice": "of who uses the site",
    "privacy.PaperCode": "of who uses the site",
    "privacy.KnownDevice": "of who uses the site",
    "privacy.WrongTries": "of who tries to sign in, as a mark",
    "privacy.AccessEntry": "random keys and verbs; nothing ties them to anybody any more",
    "privacy.OutboxKey": "the pair that telephones seal to, of nobody",
    "privacy.LogHead": "a number and a hash",
    "privacy.LedgerHead": "a number and a hash",
    "privacy.GoneFile": "random names of files, until those are gone",
}


@dataclass
class Going:
    """One person on the way out: their rows by table, their pictures, and all keys touched."""

    person: Participant
    rows: dict[str, list[UUID]]
    pictures: list[UUID]
    touched: set[UUID] = field(default_factory=set)

    def of(self, label: str) -> QuerySet[Any]:
        """The rows of a table that go."""
        return table(label)._base_manager.filter(pk__in=self.rows[label])


def table(label: str) -> type[Model]:
    """The model of a table by its label."""
    return apps.get_model(label)


def going(person: Participant) -> Going:
    """Find everything of a person before any of it goes."""
    rows = {label: _keys(label, ways, person) for label, ways in GOES.items()}
    pictures = _pictures(person)
    touched = {key for keys in rows.values() for key in keys} | set(pictures)
    return Going(person, rows, pictures, touched)


def _keys(label: str, ways: Iterable[str], person: Participant) -> list[UUID]:
    found = Q()
    for way in ways:
        found |= Q(**{way: person.pk})
    rows = table(label)._base_manager.filter(found).order_by()
    return list(rows.values_list("pk", flat=True).distinct())


def _pictures(person: Participant) -> list[UUID]:
    return list(Picture.objects.filter(appearances__person=person).values_list("pk", flat=True))


def tables() -> list[str]:
    """The tables of the database out of which something goes, those between two others too."""
    found = set()
    for label in (*GOES, *BLANKED):
        meta = table(label)._meta
        found.add(meta.db_table)
        found |= {many.m2m_db_table() for many in meta.local_many_to_many}
    return sorted(found)


def counts(person: Participant) -> dict[str, int]:
    """How much goes, by the names of COUNTED, and `alone`, `together`, `mended`; never who."""
    leaving = going(person)
    found = {
        name: sum(len(leaving.rows[label]) for label in labels) for name, labels in COUNTED.items()
    }
    found["links"] += person.introduced.count()
    frames = Picture.objects.filter(pk__in=leaving.pictures).annotate(faces=Count("appearances"))
    alone = sum(picture.faces == 1 for picture in frames)
    mended = Mending.objects.filter(mendings(leaving)).count()
    return {**found, "alone": alone, "together": len(leaving.pictures) - alone, "mended": mended}


def kinds(person: Participant) -> list[str]:
    """Which kinds of things are kept about somebody, by the names of NAMED, in its order."""
    rows = going(person).rows
    return [name for name, labels in NAMED.items() if any(rows[label] for label in labels)]


def mendings(leaving: Going) -> Q:
    """Which older values are theirs: noted of them, or of a row of theirs."""
    return Q(about=leaving.person.log_key) | Q(key__in=leaving.touched)
