"""A register as large as a life's work: 50,000 pictures with one to five sitters each, invented.

Nothing is drawn by lot: what stands in a row follows from its number, so that two databases hold
the same and two runs weigh the same.
"""

import itertools
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta
from uuid import UUID

from django.db import connection
from django.db.models import Model

from relations.consent.models import Form, TakenBack
from relations.consent.states import State
from relations.documents.models import Scan, Sheet
from relations.documents.serials import check
from relations.people.models import Name, NameKind, Participant, PersonHold
from relations.pictures.models import Appearance, Caption, Picture, PictureHold, Sitting
from relations.privacy.models import User
from tests.rows import AT

PICTURES, PEOPLE, A_SITTING, AT_ONCE = 50_000, 10_000, 10, 2_000
IS_SERVER = connection.vendor == "postgresql"
FIRST = date(2019, 1, 7)
USES = ("exhibition", "book", "web", "teaching", "portfolio")


def people(count: int = PEOPLE) -> list[Participant]:
    """So many people of whom nothing is known but what a weighing asks for."""
    return [_person(number) for number in range(count)]


def enter(
    by: User,
    *,
    everybody: list[Participant],
    pictures: int = PICTURES,
    filed: Callable[[str], str] = str,
) -> None:
    """Fill an empty register: one sitting for each ten pictures, one or two forms a person.

    `filed` gives the name under which the scan of a serial lies; nothing lies there by itself.
    """
    sittings = [
        Sitting(code=f"s{number}", on=_day(number)) for number in range(pictures // A_SITTING)
    ]
    sat = [_sitters(number, everybody) for number in range(len(sittings))]
    keep(everybody, sittings)
    keys = [UUID(int=number + 1).hex for number in range(pictures)]
    _pour(Picture, (_picture(number, key, sittings) for number, key in enumerate(keys)))
    _pour(Caption, (_caption(number, key) for number, key in enumerate(keys)))
    _pour(Appearance, _appearances(keys, sat))
    held = Picture.objects.filter(pk__in=keys[::211])
    keep([PictureHold(picture=one, laid_at=AT, laid_by=by, next_look_on=FIRST) for one in held])
    _people_say(everybody, by)
    _sign(everybody, sittings, sat, by, filed)


def _day(number: int) -> date:
    return FIRST + timedelta(days=number % 2_500)


def _person(number: int) -> Participant:
    year = date(1941 + number % 70, 1 + number % 12, 1 + number % 28)
    return Participant(
        code=f"p{number}",
        heard_on=FIRST,
        standing_since=FIRST,
        level=("ordinary", "ordinary", "raised", "", "grave")[number % 5],
        condition="died" if number % 97 == 0 else "well",
        born_earliest=year,
        born_latest=year,
        last_talk_on=_day(number),
    )


def _sitters(number: int, everybody: list[Participant]) -> list[Participant]:
    first = number * 7 % len(everybody)
    return [everybody[(first + step) % len(everybody)] for step in range(1 + number % 5)]


def _picture(number: int, key: str, sittings: list[Sitting]) -> dict[str, object]:
    sitting = sittings[number // A_SITTING]
    return {
        "id": key,
        "code": f"k{number}",
        "sitting_id": sitting.pk.hex,
        "made_on": sitting.on.isoformat(),
        "others": "unresolved" if number % 83 == 0 else "none",
        "alt_text": f"Somebody by the water, {number}",
        "file_name": f"k{number}.tif",
        "place_word": "city" if number % 3 else "none",
        "light_copy": "",
        "light_copy_type": "",
    }


def _caption(number: int, key: str) -> dict[str, object]:
    return {
        "id": key,
        "picture_id": key,
        "version": "c1",
        "words": f"Port, {number}",
        "written_at": "2026-11-23 08:00:00+00:00" if IS_SERVER else "2026-11-23 08:00:00",
    }


def _appearances(keys: list[str], sat: list[list[Participant]]) -> Iterator[dict[str, object]]:
    number = itertools.count(1)
    for picture, key in enumerate(keys):
        for place, person in enumerate(sat[picture // A_SITTING], start=1):
            yield {
                "id": UUID(int=next(number)).hex,
                "picture_id": key,
                "person_id": person.pk.hex,
                "place": place,
                "recognisable": "no" if (picture + place) % 19 == 0 else "yes",
            }


def _people_say(everybody: list[Participant], by: User) -> None:
    """What holds of some: a hold, a name never to be printed, something taken back."""
    keep(
        [
            PersonHold(person=person, laid_at=AT, laid_by=by, next_look_on=FIRST)
            for person in everybody[::307]
        ],
        [
            Name(person=person, kind=NameKind.NEVER_PRINT, text="Port" if place % 9 else "Ilse")
            for place, person in enumerate(everybody[::20])
        ],
        [
            TakenBack(
                person=person,
                scope="use",
                use="exhibition",
                said_on=date(2026, 1, 5),
                heard_at=AT,
                heard_by=by,
                answer_due_on=date(2026, 1, 19),
            )
            for person in everybody[::31]
        ],
    )


def _sign(
    everybody: list[Participant],
    sittings: list[Sitting],
    sat: list[list[Participant]],
    by: User,
    filed: Callable[[str], str],
) -> None:
    """One form a person for all their sittings, and for every fourth a newer one as well."""
    sheets, forms = [], []
    for number, person in enumerate(everybody):
        for newer in range(2 if number % 4 == 0 else 1):
            sheets.append(Sheet(serial=_serial(number + newer * len(everybody)), kind="form"))
            forms.append(_form(number, newer, person, sheets[-1]))
    keep(sheets, forms)
    of = {person.pk: [] for person in everybody}
    for form in forms:
        of[form.person_id].append(form)
    _pour(
        Form.sittings.through,
        (
            {"form_id": form.pk.hex, "sitting_id": sitting.pk.hex}
            for sitting, sitters in zip(sittings, sat, strict=True)
            for person in sitters
            for form in of[person.pk]
        ),
    )
    keep(
        [
            Scan(
                sheet=sheet, file=filed(sheet.serial), media_type="image/png", digest=sheet.serial,
                size=1, filed_at=AT, filed_by=by,
            )
            for number, sheet in enumerate(sheets)
            if number % 41
        ],
    )  # fmt: skip


def _serial(number: int) -> str:
    return f"{number:05}-{check(f'{number:05}')}"


def _form(number: int, newer: int, person: Participant, sheet: Sheet) -> Form:
    return Form(
        sheet=sheet,
        person=person,
        is_from_before=True,
        state=State.DOUBTFUL,
        state_on=FIRST,
        given_on=date(2025 + newer, 3, 1 + number % 28),
        uses=[use for place, use in enumerate(USES) if (number + place) % 6],
        only_countries=["FR", "BE"] if number % 9 == 0 else None,
        last_day=date(2026, 12, 31) if number % 13 == 0 else None,
        name_form=("full", "first", "none")[number % 3],
        place_word="city",
        no_face=number % 17 == 0,
        show_first=number % 23 == 0,
        approves_captions=number % 29 == 0,
        missing_lines=[] if number % 43 else ["witness"],
        wording_was_read=number % 37 != 0,
        settled_at=None if newer and number % 8 == 0 else AT,
    )


def keep(*kinds: list[Model]) -> None:
    """Rows of one table after another, many at once."""
    for rows in kinds:
        type(rows[0])._default_manager.bulk_create(rows, batch_size=AT_ONCE)


def _pour(model: type[Model], rows: Iterable[dict[str, object]]) -> None:
    """Rows by the hundred thousand, past their instances, as the database writes them."""
    kept = list(rows)
    names = ", ".join(f'"{name}"' for name in kept[0])
    marks = ", ".join(["%s"] * len(kept[0]))
    table = connection.ops.quote_name(model._meta.db_table)
    with connection.cursor() as cursor:
        for first in range(0, len(kept), AT_ONCE):
            some = [list(row.values()) for row in kept[first : first + AT_ONCE]]
            cursor.executemany(f"INSERT INTO {table} ({names}) VALUES ({marks})", some)  # noqa: S608
