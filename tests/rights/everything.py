"""Somebody with a row in every table that a person can stand in, and what leads to them."""

import uuid
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.db import models

from relations.consent.models import Form, PaperOf
from relations.documents.models import Page, Scan, Sheet, Upload
from relations.meetings.models import Interview, Recording
from relations.people.links import KIND
from relations.people.models import Introduction, NeverRing, Participant, PhoneLine, RangUs
from relations.pictures.models import Appearance, Caption, Picture, PictureHold, Quote, Sitting
from relations.prints.models import Print
from relations.privacy.fields import SealedDate, SealedField, SealedJSON, mark
from relations.privacy.files import light_copies, scans
from relations.privacy.keys import keyring
from relations.privacy.models import Mending, OutboxEntry, Posted, User
from relations.rights.leaving import GOES
from relations.rights.models import Alarm, LettingGo, Misuse, OthersAsk
from relations.uses.models import ClearedPicture, PlannedPicture, Weighing
from tests.documents.scanner import coded, pdf
from tests.rows import AT, DAY, LATER, NEXT_DAY, make

WORD = "Zéphirine de la rue دلال"
NUMBER, TYPED = "+33465710099", "04 65 71 00 99"


@dataclass(frozen=True)
class Everything:
    """The person, somebody else who is tied to them, two pictures, a caption that quotes them."""

    person: Participant
    other: Participant
    alone: Picture
    together: Picture
    quoting: Caption


def everything(code: str = "Q7QQ9") -> Everything:
    """A person with everything, and the other one in the frame."""
    person, other = make(Participant, code=code, call_name=WORD), make(Participant)
    found = _pictures(person, other)
    _forms(person)
    _people(person, other)
    for label, ways in GOES.items():
        model = apps.get_model(label)
        if label not in {
            "people.Participant",
            "meetings.Recording",
            "documents.Scan",
            "documents.Page",
        }:
            _ensure(model, ways, person)
    _rights(person, found)
    return found


def _pictures(person: Participant, other: Participant) -> Everything:
    alone = make(Picture, sitting=make(Sitting, code=f"{person.code}-T1"))
    together = make(Picture, others="none", alt_text=WORD, file_name="zephirine.tif")
    for picture, sitters in ((alone, [person]), (together, [person, other])):
        picture.light_copy = light_copies().save(WORD.encode())
        picture.save()
        picture.sitting.sitters.set(sitters)
        for place, one in enumerate(sitters, start=1):
            make(Appearance, picture=picture, person=one, place=place)
        make(Caption, picture=picture, words=WORD)
    make(PictureHold, picture=together, sentence=WORD)
    make(PictureHold, picture=alone, sentence=WORD, lifted_at=AT, lifted_by=make(User))
    elsewhere = make(Picture, others="none")
    make(Appearance, picture=elsewhere, person=other)
    quoting = make(Caption, picture=elsewhere, words=WORD)
    quoting.quotes.add(make(Quote, by=person, words=WORD))
    asked = make(PlannedPicture, picture=together)
    reasons = [{"about": person.code, "code": "USE"}, {"about": other.code, "code": "USE"}]
    weighing = make(Weighing, asked=asked, stops=reasons, conditions=reasons)
    make(ClearedPicture, weighing=weighing, caption=WORD, instruction=WORD)
    return Everything(person, other, alone, together, quoting)


def _forms(person: Participant) -> None:
    recording = make(Recording, file=scans().save(WORD.encode()))
    form = make(Form, person=person, recording=recording)
    make(Scan, sheet=form.sheet, file=scans().save(WORD.encode()))
    make(Page, sheet=form.sheet, side=1, file=scans().save(WORD.encode()), word=WORD, place="aside")
    slip = make(Sheet, kind="take_back")
    make(PaperOf, sheet=slip, person=person)
    make(Page, sheet=slip, side=1, file=scans().save(WORD.encode()), word=WORD, place="aside")
    _stack(form.sheet)
    form.sheet.kept = scans().save(WORD.encode())
    form.sheet.save(update_fields=["kept"])
    make(Recording, interview=make(Interview, person=person), file="")


def _stack(theirs: Sheet) -> None:
    """A stack that nobody has looked at, with a side of this paper in it and one of another's."""
    key, other = keyring.subkey("mark"), make(Form, person=make(Participant)).sheet
    content = pdf([coded(int(sheet.serial[:5]), 2, key) for sheet in (theirs, other)], 150)
    make(Upload, file=scans().save(content), count=2, looked=0, ended_at=None)


def _people(person: Participant, other: Participant) -> None:
    # A line of theirs, and one through which the other is reached.
    for whose in (person, other):
        through = None if whose is person else person
        make(
            PhoneLine,
            person=whose,
            through=through,
            as_typed=TYPED,
            number=NUMBER,
            mark=mark(NUMBER),
        )
    make(Introduction, person=other, introducer=person, may_say_who=True)
    make(NeverRing, mark=mark("+33465710098"), who=person.log_key, whole_number=False, was="named")
    said = [(WORD, [person.code, other.code]), (TYPED, []), (person.code, [])]
    for typed, perhaps in (*said, ("somebody else", [other.code])):
        make(RangUs, typed=typed, perhaps=perhaps)


def _ensure(model: type[models.Model], ways: tuple[str, ...], person: Participant) -> None:
    """A row by each way to the person that has none yet; all that is sealed in it leads to them."""
    for way in ways:
        if not model._base_manager.filter(**{way: person.pk}).exists():
            first, *rest = way.split("__")
            linked = {first: _at(first, person) if rest else person}
            make(model, **linked, **_sealed(model))


def _at(first: str, person: Participant) -> models.Model:
    return {
        "form": lambda: Form.objects.get(person=person),
        "print": lambda: Print.objects.filter(person=person).first() or make(Print, person=person),
        "quote": lambda: Quote.objects.get(by=person),
        "interview": lambda: Interview.objects.get(person=person),
    }[first]()


def _sealed(model: type[models.Model]) -> dict[str, Any]:
    said: dict[type, Any] = {SealedDate: DAY, SealedJSON: {"said": WORD}}
    fields = [one for one in model._meta.concrete_fields if isinstance(one, SealedField)]
    return {field.name: said.get(type(field), WORD) for field in fields}


def _rights(person: Participant, found: Everything) -> None:
    make(OthersAsk, person=person)
    make(LettingGo, person=person, postponed_until=NEXT_DAY, sentence=WORD)
    recording = Recording.objects.filter(interview__person=person).get()
    make(LettingGo, thing=str(recording.pk), postponed_until=NEXT_DAY, sentence=WORD)
    make(Alarm).affected.add(person, found.other)
    make(Misuse, picture=found.alone, where=WORD, gone_on=DAY)
    make(Misuse, picture=found.together, where="a wall by the quay")
    make(Mending, about=person.log_key, old={"call_name": WORD})
    make(Mending, key=found.together.pk, old={"alt_text": WORD})
    make(Mending, about=found.other.log_key, old={"call_name": "Bruno"}, at=LATER)
    # That they had told us of the other one, until it was put right.
    old = {"introducer": str(person.pk)}
    make(Mending, kind=KIND, about=found.other.log_key, old=old, at=LATER)
    typed = {"typed": {"kind": "ring", "code": person.code, "said": WORD}}
    make(OutboxEntry, about=person.log_key, said=typed)
    make(OutboxEntry, about=found.other.log_key, said={"typed": {"kind": "ring"}})
    user = make(User)
    for address in (f"/person/{person.code}/", f"/pictures/sitting/{person.code}-T1/"):
        Posted.objects.create(token=uuid.uuid4(), by=user, address=address)
