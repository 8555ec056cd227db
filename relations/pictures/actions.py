"""What is written about sittings, film, pictures and everyone in them, captions and holds."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import IO, TYPE_CHECKING, Any

from django.db import transaction

from relations.meetings.models import Trip
from relations.meetings.rings import show_to_assistants
from relations.people import actions as people
from relations.people.closed import refuse_if_closed
from relations.people.models import Participant, Why
from relations.people.queries import open_hold as hold_on_person
from relations.people.values import Standing
from relations.privacy import holds
from relations.privacy.files import light_copies
from relations.privacy.refused import Refused

from . import leaks, light
from .models import Appearance, FilmSheet, Picture, PictureHold, Sitting
from .strangers import settle
from .values import Light, Others, PlaceWord, Recognisable, SheetState
from .written import add_quote, in_it, write_caption

if TYPE_CHECKING:
    from relations.privacy.models import User

__all__ = [
    "add_picture", "add_quote", "hold", "join", "lift", "lose_sheets", "mend", "process_sheets",
    "set_light_copy", "settle", "sit", "write_caption",
]  # fmt: skip

LEAKY = (leaks.Where.ALT_TEXT, leaks.Where.FILE_NAME)
MENDABLE = {"others", "alt_text", "file_name", "place_word", "sheet", "made_on"}
Frame = tuple[Participant, int, str]


@transaction.atomic
def sit(
    *,
    code: str,
    sitters: Iterable[Participant],
    on: date,
    by: "User",
    trip: Trip | None = None,
    minutes: int | None = None,
    light: str = Light.AVAILABLE,
    sheets: int = 0,
    holders: Sequence[str] = (),
) -> Sitting:
    """Note a sitting and its exposed film; those for whom it was agreed take part from then on.

    `sheets`: how many, numbered from 1; `holders`: one label a sheet, or one for two sheets.
    Refused: project_closed, nobody, code_taken, too_many_holders, on_hold, no_sheet_exposed, and
    the codes of people.rules for one with whom no sitting was agreed.
    """
    refuse_if_closed()
    who = list(dict.fromkeys(sitters))
    if not who:
        raise Refused("nobody")
    if Sitting.objects.filter(code=code).exists():
        raise Refused("code_taken")
    if len(holders) > sheets:
        raise Refused("too_many_holders")
    how = {"minutes": minutes, "light": Light(light)}
    sitting = Sitting.objects.create(code=code, trip=trip, on=on, **how)
    for number in range(1, sheets + 1):
        holder = _holder(holders, number, sheets)
        FilmSheet.objects.create(sitting=sitting, number=number, holder=holder)
    for person in who:
        _sits(sitting, person, on, by)
    return sitting


@transaction.atomic
def join(*, sitting: Sitting, person: Participant, on: date, by: "User") -> Sitting:
    """Note that somebody stepped in late, who sits too and takes part from then on.

    Doing so twice is once. Refused: on_hold, no_sheet_exposed, and the codes of people.rules.
    """
    if not sitting.sitters.filter(pk=person.pk).exists():
        _sits(sitting, person, on, by)
    return sitting


@transaction.atomic
def lose_sheets(*, sitting: Sitting, numbers: Iterable[int], by: "User", on: date) -> int:
    """Note sheets that are lost, fogged or spoilt; give how many. Refused: no_such_sheet."""
    return _turn(sitting, set(numbers), SheetState.LOST)


@transaction.atomic
def process_sheets(*, sitting: Sitting, numbers: Iterable[int], by: "User", on: date) -> int:
    """Note sheets that came back from the lab; give how many. Refused: no_such_sheet."""
    return _turn(sitting, set(numbers), SheetState.PROCESSED)


@transaction.atomic
def add_picture(
    *,
    code: str,
    sitting: Sitting,
    made_on: date,
    in_frame: Sequence[Frame],
    others: str,
    by: "User",
    at: datetime,
    file_name: str = "",
    alt_text: str = "",
    place_word: str = PlaceWord.NONE,
    light_copy: IO[bytes] | bytes | None = None,
    crop_of: Picture | None = None,
    sheet: FilmSheet | None = None,
    means_another: bool = False,
) -> Picture:
    """Note a picture, or a crop of one, with everyone in it from left to right.

    `in_frame`: (person, place in the frame from 1, recognisable yes/no/unsure). `light_copy`: a
    JPEG, PNG or WebP; it is kept small, sealed and without what the camera wrote into it. A crop
    of a picture in which somebody was erased counts as one with them in it.
    Refused: code_taken, nobody_in_frame, not_a_sitter, twice_in_frame, other_sitting,
    not_in_whole for somebody in a crop who is not in the whole picture, not_a_picture,
    too_many_pixels, broken; erased, for the light copy of such a crop; and the codes of
    `leaks.refuse` for alt_text and file_name.
    """
    if Picture.objects.filter(code=code).exists():
        raise Refused("code_taken")
    for part in (crop_of, sheet):
        if part is not None and part.sitting_id != sitting.pk:
            raise Refused("other_sitting")
    _check_frame(sitting, in_frame, crop_of)
    copy = None if light_copy is None else light.make(_bytes(light_copy))
    if crop_of is not None and crop_of.others == Others.ERASED:
        if copy:
            raise Refused("erased")
        others = Others.ERASED
    words = {"alt_text": alt_text, "file_name": file_name}
    leaks.refuse(words, of=sitting.sitters.all(), by=by, means_another=means_another)
    said = {**words, "place_word": PlaceWord(place_word)}
    out_of = {"sitting": sitting, "sheet": sheet, "crop_of": crop_of, "made_on": made_on}
    picture = Picture.objects.create(code=code, others=Others(others), **out_of, **said)
    for person, place, recognisable in in_frame:
        Appearance.objects.create(
            picture=picture, person=person, place=place, recognisable=Recognisable(recognisable)
        )
    if copy:
        _keep(picture, copy)
    return picture


@transaction.atomic
def set_light_copy(
    *, picture: Picture, light_copy: IO[bytes] | bytes, by: "User", at: datetime
) -> Picture:
    """Give a picture its light copy, or another one; the old one goes when this one stands.

    Refused: not_a_picture, too_many_pixels, broken; erased, where somebody in it was.
    """
    if picture.others == Others.ERASED:
        raise Refused("erased")
    old = picture.light_copy
    _keep(picture, light.make(_bytes(light_copy)))
    if old:
        transaction.on_commit(lambda: light_copies().delete(old))
    return picture


@transaction.atomic
def mend(
    *,
    picture: Picture,
    changes: dict[str, Any],
    by: "User",
    at: datetime,
    recognisable: dict[Appearance, str] | None = None,
    means_another: bool = False,
) -> Picture:
    """Put right what is noted of a picture and of those in it; what stood there stays, sealed.

    `changes`: others, alt_text, file_name, place_word, sheet, made_on; `recognisable`: anew for
    those judged otherwise. The old values of the picture are kept with the first in the frame.
    Refused: erased, where somebody in it was and that is to be changed, or all in it were; and the
    codes of `leaks.refuse` for alt_text and file_name.
    """
    if unknown := set(changes) - MENDABLE:
        raise TypeError(f"not mended here: {', '.join(sorted(unknown))}")
    if "others" in changes and picture.others == Others.ERASED:
        raise Refused("erased")
    words = {str(name): changes[name] for name in LEAKY if name in changes}
    leaks.refuse(words, of=in_it(picture), by=by, means_another=means_another)
    if changes:
        first = picture.appearances.select_related("person").first()
        if first is None:
            raise Refused("erased")
        people.mend(row=picture, changes=changes, person=first.person, by=by, at=at)
    for appearance, judged in (recognisable or {}).items():
        values = {"recognisable": Recognisable(judged)}
        people.mend(row=appearance, changes=values, person=appearance.person, by=by, at=at)
    return picture


@transaction.atomic
def hold(
    *, picture: Picture, by: "User", at: datetime, next_look_on: date | None = None
) -> PictureHold:
    """Lay a hold: nothing happens with this picture. Anyone may; a second one finds the first.

    It is looked at again within 14 days, on the last of them if no day is named.
    Refused: look_within_14_days.
    """
    return holds.lay(picture.holds, by=by, at=at, next_look_on=next_look_on)


@transaction.atomic
def lift(*, hold: PictureHold, sentence: str, by: "User", at: datetime) -> PictureHold:
    """Lift a hold with a sentence of what was found. Refused: artist_or_keeper, no_sentence."""
    return holds.lift(hold, sentence=sentence, by=by, at=at)


def _holder(holders: Sequence[str], number: int, sheets: int) -> str:
    """The holder of a sheet: each has one label, or two sheets share a holder."""
    place = number - 1 if len(holders) == sheets else (number - 1) // 2
    return holders[place] if place < len(holders) else ""


def _sits(sitting: Sitting, person: Participant, on: date, by: "User") -> None:
    if hold_on_person(person):
        raise Refused("on_hold")
    sitting.sitters.add(person)
    if person.standing != Standing.TAKING_PART:
        facts = {"sheets_exposed": sitting.sheets.count()}
        people.move(person=person, to=Standing.TAKING_PART, on=on, by=by, facts=facts)
    people.note_talk(person=person, on=on)
    show_to_assistants(person, on, Why.SITTING)


def _turn(sitting: Sitting, numbers: set[int], state: SheetState) -> int:
    rows = sitting.sheets.filter(number__in=numbers)
    if rows.count() != len(numbers):
        raise Refused("no_such_sheet")
    return rows.update(state=state)


def _check_frame(sitting: Sitting, in_frame: Sequence[Frame], whole: Picture | None) -> None:
    if not in_frame:
        raise Refused("nobody_in_frame")
    sat = set(sitting.sitters.values_list("pk", flat=True))
    people_in, places = [one[0].pk for one in in_frame], [one[1] for one in in_frame]
    if not sat.issuperset(people_in):
        raise Refused("not_a_sitter")
    if len(set(people_in)) < len(in_frame) or len(set(places)) < len(in_frame):
        raise Refused("twice_in_frame")
    if whole and not set(people_in) <= set(whole.appearances.values_list("person", flat=True)):
        raise Refused("not_in_whole")


def _bytes(content: IO[bytes] | bytes) -> bytes:
    return content if isinstance(content, bytes) else content.read()


def _keep(picture: Picture, copy: light.LightCopy) -> None:
    picture.light_copy = light_copies().save(copy.content)
    picture.light_copy_type = copy.media_type
    picture.save(update_fields=["light_copy", "light_copy_type"])
