"""Takes a person out of rows that stay, so that no picture gets clearer and no no is lost."""

import secrets
from collections.abc import Callable
from datetime import datetime
from random import Random
from typing import Any
from urllib.parse import quote

from django.conf import settings
from django.db.models import Q

from relations.documents import actions as papers
from relations.documents.models import Sheet, Upload
from relations.languages.codes import new_code, tidy
from relations.people import links as people
from relations.people import phones
from relations.people.models import Introduction, NeverRing, Participant, RangUs
from relations.pictures.models import Caption, Picture, PictureHold, Sitting
from relations.pictures.values import Others
from relations.privacy import holds, residue
from relations.privacy.fields import marks
from relations.privacy.models import EntryState, Mending, OutboxEntry, Posted, Role, User
from relations.referrals.links import waves
from relations.uses.models import ClearedPicture, Weighing

from .leaving import Going, mendings
from .models import Alarm, LettingGo, Misuse, OthersAsk

Blank = Callable[[Going, datetime], None]


def introductions(going: Going, at: datetime) -> None:
    """Who came through them: the link goes; a stub stays with its wave, so that counts hold."""
    rows = list(
        Introduction.objects.filter(introducer=going.person).select_related(
            "person", "introducer", "outside"
        )
    )
    going.touched |= {row.pk for row in rows}
    people.withhold(rows, waves(rows))
    people.forget_mended(going.person)


def never_rings(going: Going, at: datetime) -> None:
    """Marks stay. On a shared line not settled yet the number is never given to anybody anew."""
    NeverRing.objects.filter(who=going.person.log_key).update(who=None, was="")


def rang_us(going: Going, at: datetime) -> None:
    """What was typed goes where it may mean them; each is opened, there are never many."""
    numbers = {bytes(mark) for mark in going.person.lines.values_list("mark", flat=True) if mark}
    for heard in RangUs.objects.all():
        if going.person.code in heard.perhaps or says(heard.typed, going.person, numbers):
            heard.perhaps = [code for code in heard.perhaps if code != going.person.code]
            heard.typed = ""
            heard.save(update_fields=["perhaps", "typed"])


def says(typed: str, person: Participant, numbers: set[bytes]) -> bool:
    e164 = phones.read(typed, settings.RELATIONS_COUNTRY).e164
    is_number = e164 is not None and not numbers.isdisjoint(marks(e164))
    return is_number or tidy(typed) == person.code


def uploads(going: Going, at: datetime) -> None:
    """Pages of theirs go out of every stack that is not placed yet; it is looked at for that."""
    theirs = Q(form__person=going.person) | Q(of__person=going.person)
    sheets = list(Sheet.objects.filter(theirs).distinct())
    for upload in Upload.objects.exclude(file=""):
        papers.take_out(upload=upload, sheets=sheets)
        going.touched.add(upload.pk)


def sittings(going: Going, at: datetime) -> None:
    """A sitting named by their code is named anew; film in its holder is for the artist's hands."""
    chance: Random = secrets.SystemRandom()
    rows = Sitting.objects.filter(
        Q(sitters=going.person) | Q(pictures__in=going.pictures)
    ).distinct()
    for sitting in rows:
        going.touched.add(sitting.pk)
        sitting.sitters.remove(going.person)
        if going.person.code in sitting.code.replace("/", "-").split("-"):
            _forget_addresses(sitting.code)
            taken = set(Sitting.objects.values_list("code", flat=True))
            sitting.code = new_code(taken, chance)
            sitting.save(update_fields=["code"])


def pictures(going: Going, at: datetime) -> None:
    """A picture with them in it loses its light copy and its words, and is never shown again."""
    rows = Picture.objects.filter(pk__in=going.pictures)
    residue.let_go(residue.PICTURES, rows.values_list("light_copy", flat=True))
    blank = dict.fromkeys(("alt_text", "file_name", "light_copy", "light_copy_type"), "")
    rows.update(others=Others.ERASED, **blank)


def captions(going: Going, at: datetime) -> None:
    """Words under their pictures go. Where they are quoted elsewhere, somebody must look first.

    The stop for a quote without a yes would go with the quote, so a hold takes its place.
    """
    theirs = Q(picture__in=going.pictures)
    quoting = Caption.objects.filter(quotes__by=going.person).exclude(theirs)
    held = list(Picture.objects.filter(captions__in=quoting).distinct())
    keys = set(Caption.objects.filter(theirs).values_list("pk", flat=True))
    keys |= set(quoting.values_list("pk", flat=True))
    going.touched |= keys
    for picture in held:
        holds.lay(picture.holds, by=somebody(), at=at)
    Caption.objects.filter(pk__in=keys).update(words="")


def somebody() -> User:
    """Who answers for a hold that the ledger lays: the keeper, else the artist, else anybody."""
    order = {Role.KEEPER: 0, Role.ARTIST: 1}
    return min(User.objects.all(), key=lambda user: (order.get(Role(user.role), 2), user.username))


def picture_holds(going: Going, at: datetime) -> None:
    """A sentence about one of their pictures may be about them."""
    rows = PictureHold.objects.filter(picture__in=going.pictures)
    rows.exclude(lifted_at=None).delete()
    rows.update(sentence="")


def weighings(going: Going, at: datetime) -> None:
    """Kept answers name people by code; one about their picture is an answer no more."""
    code = going.person.code
    told = {
        key
        for key, *reasons in Weighing.objects.values_list("pk", "stops", "conditions").iterator()
        if any(reason["about"] == code for found in reasons for reason in found)
    }
    rows = Weighing.objects.filter(Q(pk__in=told) | Q(asked__picture__in=going.pictures))
    rows.update(result="not_cleared", stops=[], conditions=[], digest="", look_again_on=None)


def cleared_pictures(going: Going, at: datetime) -> None:
    """The line of a clearance sheet keeps its place and loses its words."""
    ClearedPicture.objects.filter(weighing__asked__picture__in=going.pictures).update(
        caption="", instruction=""
    )


def others_ask(going: Going, at: datetime) -> None:
    """That somebody asked stays, and not about whom."""
    OthersAsk.objects.filter(person=going.person).update(person=None)


def letting_go(going: Going, at: datetime) -> None:
    """That a clock ran out and was confirmed stays, and not whose."""
    things = [str(key) for key in going.touched]
    rows = LettingGo.objects.filter(Q(person=going.person) | Q(thing__in=things))
    rows.update(person=None, thing="", postponed_until=None, sentence="")


def alarms(going: Going, at: datetime) -> None:
    """An alarm stays without them among those it may touch."""
    Alarm.affected.through._base_manager.filter(participant=going.person).delete()


def misuses(going: Going, at: datetime) -> None:
    """Where a picture of theirs was misused stays until it is gone from there."""
    Misuse.objects.filter(picture__in=going.pictures).exclude(gone_on=None).delete()


def sheets(going: Going, at: datetime) -> None:
    """What was printed for them goes; that a paper existed stays, so that its code is still ours.

    A paper that is theirs in other ways than as a form falls under the room that prints it.
    """
    rows = Sheet.objects.filter(form__person=going.person)
    residue.let_go(residue.SCANS, rows.values_list("kept", flat=True))
    rows.update(kept="")


def written(going: Going, at: datetime) -> None:
    """What a telephone wrote of them; its key stays, so that a telephone cannot send it again."""
    for entry in OutboxEntry.objects.filter(about=going.person.log_key):
        entry.about, entry.said = None, {}
        entry.state = EntryState.LET_GO
        entry.save(update_fields=["about", "said", "state"])


def mended(going: Going, at: datetime) -> None:
    """Every older value of them and of a row of theirs; last, when all touched rows are known."""
    Mending.objects.filter(mendings(going)).delete()


def posted(going: Going, at: datetime) -> None:
    """Where a form of theirs led: a page whose address has their code."""
    _forget_addresses(going.person.code)


def _forget_addresses(code: str) -> None:
    said = {f"/{form}" for form in (code, quote(code), quote(code, safe=""))}
    found = Q()
    for part in said:
        found |= Q(address__contains=f"{part}/") | Q(address__endswith=part)
    Posted.objects.filter(found).update(address="/")


# One for each table of leaving.BLANKED, in the order in which they may be done.
BLANKING: dict[str, Blank] = {
    "documents.Upload": uploads,
    "people.Introduction": introductions,
    "documents.Sheet": sheets,
    "people.NeverRing": never_rings,
    "people.RangUs": rang_us,
    "uses.Weighing": weighings,
    "uses.ClearedPicture": cleared_pictures,
    "pictures.Sitting": sittings,
    "pictures.Picture": pictures,
    "pictures.Caption": captions,
    "pictures.PictureHold": picture_holds,
    "rights.OthersAsk": others_ask,
    "rights.LettingGo": letting_go,
    "rights.Alarm": alarms,
    "rights.Misuse": misuses,
    "privacy.Posted": posted,
    "privacy.OutboxEntry": written,
    "privacy.Mending": mended,
}


def files(going: Going) -> dict[str, Any]:
    """The sealed files of rows that go, by the folder they lie in."""
    names = [
        *going.of("documents.Scan").values_list("file", flat=True),
        *going.of("consent.KeptCopy").values_list("file", flat=True),
        *going.of("documents.Page").values_list("file", flat=True),
        *going.of("meetings.Recording").values_list("file", flat=True),
    ]
    return {residue.SCANS: names}
