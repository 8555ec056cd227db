"""Blanks for a trip: how many in which language, printed in one go and signed out to it."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from relations.documents.joining import join
from relations.meetings.models import Meeting, Trip
from relations.meetings.queries import AHEAD, OFF
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import needs, papers
from .models import Form, Wording
from .printing import Blank, print_each, reprint
from .source import is_ready, latest
from .states import State
from .values import FormKind

# Nobody has written on these yet.
BLANK = (State.PRINTED, State.CARRIED, State.BROUGHT_BACK_BLANK)
MOST = 200  # in one go
ENGLISH = "en"


@dataclass(frozen=True)
class Need:
    """What a trip needs in one language.

    `expected` people answer in it, `blanks` are proposed for them, `out` are signed out already.
    `refused` says why none is printed: "no_wording", "unread", "language_unknown"; "" if none.
    """

    language: str
    expected: int
    out: int
    refused: str

    @property
    def blanks(self) -> int:
        """How many are needed in all, or 0 where none may be printed."""
        return 0 if self.refused else needs.blanks(self.expected)

    @property
    def missing(self) -> int:
        """How many are still to be printed."""
        return max(self.blanks - self.out, 0)


def expected(trip: Trip) -> Counter[str]:
    """How many people are expected to answer in each language; "" where none is known.

    Each person with a meeting of the trip ahead counts once, by the language they named first, and
    with them those who come along: counts alone, never who.
    """
    ahead = Meeting.objects.filter(trip=trip, state__in=AHEAD).exclude(OFF)
    rows = ahead.order_by("others").values_list("person", "person__languages", "others")
    people = {person: (said.split() or [""], others) for person, said, others in rows}
    counts: Counter[str] = Counter()
    for said, others in people.values():
        counts[said[0]] += 1 + others
    return counts


def out(trip: Trip) -> QuerySet[Form]:
    """Every form that was signed out to a trip, by serial."""
    found = Form.objects.filter(trip=trip).select_related(
        "sheet", "first_wording", "second_wording", "carried_by", "trip"
    )
    return found.order_by("sheet__serial")


def proposed(trip: Trip) -> list[Need]:
    """What a trip needs, the largest need first; languages that may be printed stand all there."""
    asked = expected(trip)
    signed_out = out(trip).filter(first_wording__isnull=False)
    held = Counter(signed_out.values_list("first_wording__language", flat=True))
    written = {*Wording.objects.values_list("language", flat=True)}
    whys = {tag: why_not(tag) for tag in {*asked, *held, *written}}
    tags = {*asked, *held, *(tag for tag in written if not whys[tag])}
    rows = [Need(tag, asked[tag], held[tag], whys[tag]) for tag in tags]
    return sorted(rows, key=lambda row: (-row.expected, row.language))


def why_not(tag: str) -> str:
    """Why no form is printed in a language, as `Need.refused`."""
    if not tag:
        return "language_unknown"
    wording = latest(tag)
    if wording is None:
        return "no_wording"
    return "" if is_ready(wording) else "unread"


def beside(language: str) -> str:
    """The language that stands second: the project's own, beside that English, then any read."""
    written = sorted({*Wording.objects.values_list("language", flat=True)})
    tags = [settings.RELATIONS_OFFICE_LANGUAGE, ENGLISH, *written]
    return next((tag for tag in tags if tag != language and not why_not(tag)), "")


@transaction.atomic
def print_blanks(
    *,
    trip: Trip,
    counts: Mapping[str, int],
    carrier: User,
    by: User,
    at: datetime,
    second: str = "",
    kind: FormKind = FormKind.ADULT,
    has_heading: bool = False,
) -> list[Form]:
    """Print blanks in these languages and sign them out to a trip; give them in order of need.

    `second` is the language beside them, or "" for the one that `beside` chooses. All are
    printed, or none. Refused with "none_asked", "too_many_blanks", or as `print_form` where a
    language has no wording that was read.
    """
    wanted = {tag: count for tag, count in counts.items() if count > 0}
    if not wanted:
        raise Refused("none_asked")
    if sum(wanted.values()) > MOST:
        raise Refused("too_many_blanks")
    made: dict[str, list[Form]] = {}
    for tag, count in wanted.items():
        first, other = latest(tag), latest(_second(tag, second))
        if first is None or other is None:
            raise Refused("first_unread" if first is None else "second_unread")
        blank = Blank(first, other, FormKind(kind), has_heading)
        made[tag] = print_each(blank, [None] * count, by=by, at=at, trip=trip, carried_by=carrier)
    forms = [made[tag].pop(0) for tag in needs.in_order(wanted)]
    for form in forms:
        papers.step(form, to=State.CARRIED, on=timezone.localtime(at).date())
    return forms


def _second(tag: str, asked: str) -> str:
    return asked if asked and asked != tag else beside(tag)


def still_blank(trip: Trip) -> list[Form]:
    """The blanks of a trip that nobody has written on, in order of need."""
    made: dict[str, list[Form]] = {}
    for form in out(trip).filter(state__in=BLANK, first_wording__isnull=False):
        assert form.first_wording is not None  # noqa: S101 # the filter has looked
        made.setdefault(form.first_wording.language, []).append(form)
    order = needs.in_order({tag: len(forms) for tag, forms in made.items()})
    return [made[tag].pop(0) for tag in order]


def pack(forms: Iterable[Form]) -> bytes:
    """One PDF of forms in the order given, from the very bytes that were kept; as `reprint`."""
    return join(reprint(form=form) for form in forms)
