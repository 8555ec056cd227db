"""The metadata of a cleared selection, put together: one sidecar a picture, in one file."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from typing import TYPE_CHECKING
from zipfile import ZipFile, ZipInfo

from django.utils import translation
from django.utils.translation import gettext, ngettext

from relations.consent import queries as consent
from relations.consent.answers import Answer, Result
from relations.consent.countries import territories
from relations.consent.models import Form
from relations.consent.rules import binding
from relations.consent.states import NOT_GIVEN
from relations.consent.values import NameForm, Person, Picture, Plan
from relations.consent.words import USES
from relations.languages.finding import Names
from relations.languages.said import figures, listed
from relations.languages.templatetags.words import day
from relations.people.access import note_read
from relations.people.models import Name, NameKind, Participant
from relations.pictures import leaks
from relations.pictures.models import Picture as Row
from relations.privacy.log import note

from . import queries, sidecar
from .models import PlannedUse
from .planned import Planned, planned

if TYPE_CHECKING:
    from relations.privacy.models import User

# A whole word of a file name; another name is not handed on, and the code stands for it.
STEM = re.compile(r"\w[\w-]{0,59}")
# For whoever reads no other: the words of `x-default`.
COMMON = "en"
FURTHER = ("fr",)


@dataclass(frozen=True)
class Packed:
    """One picture of a cleared selection with its sidecar, and under which name that is kept."""

    picture: str
    file: str
    told: sidecar.Sidecar
    named: tuple[str, ...] = ()  # the codes of those whose names are told


@dataclass(frozen=True)
class Packing:
    """What a plan hands on today: the cleared pictures; how many are not; which words leak."""

    rows: list[Packed]
    not_cleared: int
    leaking: list[str]


def packing(plan: PlannedUse, on: date) -> Packing:
    """Weigh a plan as things stand on a day and write a sidecar for what is cleared.

    A picture in whose words a name stands that is never printed is left out, as the list of
    those finds it, which looks closer than the weighing does.
    """
    weighed = queries.weighed(plan, on)
    answers = {
        one.picture: one.answer for one in weighed if one.answer.result is not Result.NOT_CLEARED
    }
    leaking = sorted(set(answers) & {leak.code for leak in leaks.everywhere() if leak.is_in_it})
    codes = answers.keys() - set(leaking)
    said = planned(plan)
    found = consent.load(Row.objects.filter(code__in=codes), on, said.chosen)
    writer = _Writer(plan, said, on, found.people)
    rows = [writer.packed(picture, answers[picture.id]) for picture in found.pictures]
    return Packing(_apart(rows), len(weighed) - len(answers), leaking)


class _Writer:
    """What several pictures of a plan have in common, asked once."""

    def __init__(
        self, plan: PlannedUse, said: Planned, on: date, people: Mapping[str, Person]
    ) -> None:
        self.plan, self.said, self.on, self.people = plan, said, on, people
        self.serials = _serials(people)
        full = {
            code
            for one in (said.plan, *said.own.values())
            for code, how in one.names.items()
            if how is NameForm.FULL
        }
        self.own = _own_names(full & people.keys())

    def packed(self, picture: Picture, answer: Answer) -> Packed:
        """What is told of one picture: as it was weighed, with the names and words of its own."""
        weighed_as = self.said.of(picture.id)
        names = {
            one.code: name
            for one in picture.sitters
            if (name := self._name(one.code, picture, weighed_as))
        }
        told = sidecar.Sidecar(
            title=picture.id,
            release=sidecar.release(picture, self.people, weighed_as.use, on=self.on),
            usage_terms=terms(self.plan, answer, COMMON),
            release_ids=self._release_ids(picture),
            age=sidecar.age_told(picture, self.people),
            people=tuple(names.values()),
            caption=picture.words if weighed_as.shows_captions else "",
            alt_text=picture.alt_text,
            terms_in={tag: terms(self.plan, answer, tag) for tag in FURTHER},
        )
        return Packed(picture.id, _stem(picture), told, tuple(names))

    def _name(self, code: str, picture: Picture, weighed_as: Plan) -> str:
        person = self.people[code]
        how = weighed_as.names.get(code, NameForm.NONE)
        if not weighed_as.shows_captions:
            return ""
        forms = binding(person.forms, picture.sitting)[1]
        name = sidecar.public_name(how, forms, self.own.get(code, ""))
        return "" if Names((code, one) for one in person.never_print).found(name) else name

    def _release_ids(self, picture: Picture) -> tuple[str, ...]:
        found = [
            serial
            for one in picture.sitters
            for form in binding(self.people[one.code].forms, picture.sitting)[1]
            for serial in self.serials[one.code, form.given_on]
        ]
        return tuple(dict.fromkeys(found))


def _serials(people: Iterable[str]) -> dict[tuple[str, date | None], list[str]]:
    """The serials of the forms given, by the person's code and the day; one query."""
    rows = Form.objects.filter(person__code__in=list(people), given_on__isnull=False)
    rows = rows.exclude(state__in=NOT_GIVEN).order_by("sheet__serial")
    found: dict[tuple[str, date | None], list[str]] = defaultdict(list)
    for code, on, serial in rows.values_list("person__code", "given_on", "sheet__serial"):
        found[code, on].append(serial)
    return found


def _own_names(codes: Iterable[str]) -> dict[str, str]:
    """The name of each as they write it, where one is noted; one query."""
    rows = Name.objects.filter(person__code__in=list(codes), kind=NameKind.OWN)
    found: dict[str, str] = {}
    for row in rows.select_related("person"):
        found.setdefault(row.person.code, row.text)
    return found


def _stem(picture: Picture) -> str:
    """The name of the picture file without its ending, else the picture's code."""
    stem = picture.file_name.rpartition(".")[0] or picture.file_name
    return stem if STEM.fullmatch(stem) else picture.id


def _apart(rows: list[Packed]) -> list[Packed]:
    """The same, each under a name of its own with ".xmp"; who shares one goes by the code."""
    count: dict[str, int] = defaultdict(int)
    for row in rows:
        count[row.file.casefold()] += 1
    return [
        Packed(row.picture, f"{stem}.xmp", row.told, row.named)
        for row in rows
        for stem in [row.file if count[row.file.casefold()] == 1 else row.picture]
    ]


def terms(plan: PlannedUse, answer: Answer, language: str) -> str:
    """What a picture may be used for, in words of one language."""
    with translation.override(language):
        where = (
            gettext("in the whole world")
            if plan.countries is None
            else listed(territories(language).get(code, code) for code in plan.countries)
        )
        said = [
            "; ".join(filter(None, (str(USES[plan.use]), plan.place, where, _days(plan)))) + ".",
            gettext("For this use only; any other is asked for anew."),
            gettext("Comes down when it is asked for."),
            gettext("Not cropped, not altered, not handed on."),
            gettext("Not used to train machines."),
        ]
        if answer.look_again_on:
            said.append(gettext("Ask again by %(day)s.") % {"day": day(answer.look_again_on)})
        if number := len({one.code for one in answer.conditions}):
            said.append(
                ngettext(
                    "%(number)s condition stands on the clearance sheet.",
                    "%(number)s conditions stand on the clearance sheet.",
                    number,
                )
                % {"number": figures(number)}
            )
        return " ".join(said)


def _days(plan: PlannedUse) -> str:
    begin = day(plan.starts_on)
    if plan.one_day:
        return begin
    if plan.ends_on is None:
        return gettext("from %(first)s") % {"first": begin}
    return gettext("%(first)s to %(last)s") % {"first": begin, "last": day(plan.ends_on)}


def as_zip(rows: Iterable[Packed]) -> bytes:
    """All sidecars in one file; the same selection makes the same bytes."""
    packed = BytesIO()
    with ZipFile(packed, "w") as file:
        for row in sorted(rows, key=lambda row: row.file):
            file.writestr(ZipInfo(row.file), sidecar.written(sidecar.properties(row.told)))
    return packed.getvalue()


def hand_out(plan: PlannedUse, user: "User", on: date) -> bytes:
    """The file of a plan's sidecars, with a line in the access log for it and for each name."""
    found = packing(plan, on)
    note(user, "read", "sidecars", plan.pk)
    named = {code for row in found.rows for code in row.named}
    for person in Participant.objects.filter(code__in=named):
        note_read(user, "names", person)
    return as_zip(found.rows)
