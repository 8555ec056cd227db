"""The pack of a trip as one PDF, in order of need: what a cut leaves is of use by itself."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from relations.consent import blanks, team
from relations.consent.models import Form, Wording
from relations.consent.sheets import print_sheet
from relations.consent.source import latest
from relations.documents.joining import join
from relations.documents.one_language import lay_out_in
from relations.documents.values import PaperKind
from relations.meetings.models import Meeting, Trip
from relations.pictures.queries import next_sitting_code
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import queries, rules
from .models import Day
from .values import Part

# Lines on a day sheet and on the sheet of a round; more are a second sheet.
LINES, STOPS = 18, 10
# Blanks on one page of their list.
LISTED = 25


@dataclass(frozen=True)
class Layer:
    """One part of a pack: blanks with their explanations, then sittings, days, rounds, lists."""

    blanks: Sequence[Form] = ()
    sittings: Sequence[Meeting] = ()
    days: Sequence[Day] = ()
    rounds: Sequence[Day] = ()
    lists: Sequence[Sequence[Form]] = ()

    @property
    def size(self) -> rules.Pack:
        """How many sheets of each kind it is."""
        return rules.Pack(
            blanks=len(self.blanks),
            sittings=len(self.sittings),
            days=len(self.days),
            rounds=len(self.rounds),
            lists=len(self.lists),
        )


@dataclass(frozen=True)
class Contents:
    """What a pack holds: `top` lies on it and is the short pack; `rest` follows."""

    top: Layer
    rest: Layer

    @property
    def size(self) -> rules.Pack:
        """The whole pack, in sheets of each kind."""
        top, rest = self.top.size, self.rest.size
        return rules.Pack(
            blanks=top.blanks + rest.blanks,
            sittings=top.sittings + rest.sittings,
            days=top.days + rest.days,
            rounds=top.rounds + rest.rounds,
            lists=top.lists + rest.lists,
        )

    def layers(self, part: Part) -> tuple[Layer, ...]:
        """What is printed of it."""
        return (self.top,) if part is Part.SHORT else (self.top, self.rest)


def contents(trip: Trip) -> Contents:
    """What the pack of a trip holds, in order of need: for the first three days, then the rest.

    Its blanks are those that are signed out to the trip and on which nobody has written. Source:
    job.md, F8.
    """
    days, forms = queries.days(trip), blanks.still_blank(trip)
    first = [day.on for day in days[: rules.FIRST_DAYS]]
    top = _on_top(forms, rules.on_top(_counted(forms), queries.early(trip, first), len(days)))
    keys = {form.pk for form in top}
    sittings = [one for one in queries.ahead(trip) if one.with_camera]
    soon = [one for one in sittings if queries.day_of(one) in first]
    soon_keys = {one.pk for one in soon}
    return Contents(
        Layer(blanks=top, days=days[: rules.FIRST_DAYS], sittings=soon),
        Layer(
            blanks=[form for form in forms if form.pk not in keys],
            sittings=[one for one in sittings if one.pk not in soon_keys],
            days=days[rules.FIRST_DAYS :],
            rounds=[day for day in days if day.has_round],
            lists=list(_lists(trip)),
        ),
    )


def _lists(trip: Trip) -> Iterator[list[Form]]:
    """Every blank that was signed out, by serial, as many as a page of the list has lines."""
    out = list(blanks.out(trip))
    yield from (out[start : start + LISTED] for start in range(0, max(len(out), 1), LISTED))


def _language(form: Form) -> str:
    return form.first_wording.language if form.first_wording else ""


def _counted(forms: Iterable[Form]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for form in forms:
        counts[_language(form)] = counts.get(_language(form), 0) + 1
    return counts


def _on_top(forms: Iterable[Form], counts: dict[str, int]) -> list[Form]:
    """The first of each language, as many as are wanted, in the order in which they lie."""
    left, found = dict(counts), []
    for form in forms:
        if left[_language(form)] > 0:
            left[_language(form)] -= 1
            found.append(form)
    return found


@transaction.atomic
def pack(*, trip: Trip, part: Part, by: User, at: datetime) -> bytes:
    """Print the pack of a trip: one PDF of as many pages as `Contents.size` says.

    Explanations and sitting sheets are printed anew under serials of their own, one explanation
    for each pair of languages however often it lies there; the forms are the very bytes that
    were signed out. Refused: no_days, no_blanks, or as `print_sheet` and `blanks.pack`.
    """
    held = contents(trip)
    if not held.size.days:
        raise Refused("no_days")
    if not held.size.blanks:
        raise Refused("no_blanks")
    printer = _Printer(trip, by, at)
    return join(paper for layer in held.layers(part) for paper in printer.papers(layer))


class _Printer:
    """Prints the layers of one pack; an explanation is laid out once for a pair of languages."""

    def __init__(self, trip: Trip, by: User, at: datetime) -> None:
        self.trip, self.by, self.at = trip, by, at
        self.explained: dict[tuple[object, object], bytes] = {}

    def papers(self, layer: Layer) -> Iterable[bytes]:
        """The papers of one layer, each a PDF."""
        for form in layer.blanks:
            content = blanks.pack([form])
            yield from (content, content, self.explanation(form))
        yield from (self.sitting(meeting) for meeting in layer.sittings)
        # Days lie on top and the list at the end, so neither layer is without such a sheet.
        yield self.pen(layer)

    def explanation(self, form: Form) -> bytes:
        """The explanation in the two languages of a form."""
        first, second = form.first_wording, form.second_wording
        assert first is not None  # noqa: S101 # `still_blank` has looked
        assert second is not None  # noqa: S101
        key = (first.pk, second.pk)
        if key not in self.explained:
            values = {"form_serial": ""}
            self.explained[key] = self._sheet(PaperKind.EXPLANATION, first, second, values)
        return self.explained[key]

    def sitting(self, meeting: Meeting) -> bytes:
        """The sheet of a planned sitting, in the sitter's language where it was read."""
        person = meeting.person
        first, second = _pair(person.language_list)
        code = next_sitting_code(person, self.trip.code)
        values = team.of_sitting(sitting=code, people=[person.code])
        return self._sheet(PaperKind.SITTING, first, second, values, of=[person])

    def _sheet(
        self, kind: PaperKind, first: Wording, second: Wording, values: team.Values, **of: object
    ) -> bytes:
        how = {"first": first, "second": second, "values": values, "by": self.by, "at": self.at}
        return print_sheet(kind=kind, **how, **of)[1]  # type: ignore[arg-type]

    def pen(self, layer: Layer) -> bytes:
        """Day sheets, round sheets and the list of blanks: codes and lines for a pen, no name."""
        context = {
            "trip": self.trip,
            "days": layer.days,
            "rounds": layer.rounds,
            "lists": layer.lists,
            "lines": range(1, LINES + 1),
            "stops": "ABCDEFGHIJ"[:STOPS],
            "at": timezone.localtime(self.at),
            "by_artist": self.by.is_artist,
        }
        made = lay_out_in(
            "trips/paper/pen.html",
            context,
            style="trips/paper/pen.css",
            title=self.trip.code,
            language=self.by.language or settings.RELATIONS_OFFICE_LANGUAGE,
        )
        return made.content


def _pair(spoken: Sequence[str]) -> tuple[Wording, Wording]:
    """The two wordings of a sheet for the team: theirs or the project's own, and one beside it.

    Refused with "first_unread" or "second_unread" where nothing was read yet.
    """
    office = settings.RELATIONS_OFFICE_LANGUAGE
    first = next((tag for tag in (*spoken, office) if not blanks.why_not(tag)), "")
    one, other = latest(first), latest(blanks.beside(first))
    if one is None or other is None:
        raise Refused("first_unread" if one is None else "second_unread")
    return one, other
