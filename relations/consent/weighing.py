"""The weighing of many pictures in one pass: the pure rule, each sitter's part worked out once."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from types import MappingProxyType
from typing import NamedTuple

from relations.pictures.values import Others

from . import rules
from .answers import Answer, Reason, Scales, judged
from .values import Person, Picture, Plan, Sitter, Windows

NONE_OF_ITS_OWN: Mapping[str, Plan] = MappingProxyType({})
# With these nothing is asked about the frame itself.
SETTLED = frozenset({Others.NONE, Others.SETTLED})


class Part(NamedTuple):
    """What one sitter, or the frame itself, adds to an answer."""

    stops: tuple[Reason, ...]
    conditions: tuple[Reason, ...]
    look: date | None


def weigh_all(
    pictures: Iterable[Picture],
    people: Mapping[str, Person],
    plan: Plan,
    *,
    today: date,
    own: Mapping[str, Plan] = NONE_OF_ITS_OWN,
    windows: Windows = rules.WINDOWS,
) -> list[Answer]:
    """The answer of `rules.weigh` to each picture in turn, for one planned use.

    Nothing here decides: every part is the rule's own. A part is worked out once for all pictures
    that are alike to that sitter, which is most of a sitting. `people` holds at least everybody
    in the frames, by code (KeyError otherwise).
    """
    return list(_answers(pictures, _Parts(people, plan, today, windows), own))


class _Parts:
    """The parts found so far; what is alike to a sitter is looked up, not weighed again."""

    def __init__(
        self, people: Mapping[str, Person], plan: Plan, today: date, windows: Windows
    ) -> None:
        self.people, self.plan, self.today, self.windows = people, plan, today, windows
        self.known: dict[tuple[object, ...], Part] = {}
        self.particular = {code for code, one in people.items() if self._is_particular(one)}

    def _is_particular(self, person: Person) -> bool:
        """Whether this very picture, or its words, may count for somebody and not just its kind."""
        return bool(person.never_print) or any(
            form.shows_first
            or form.pictures_refused
            or (form.approves_captions and self.plan.shows_captions)
            for form in person.forms
        )

    def scales(self, picture: Picture) -> Scales:
        """Empty scales with a picture on them."""
        return Scales(picture, self.plan, self.today, self.windows)

    def alone(self, picture: Picture, plan: Plan) -> Answer:
        """The answer to a picture with a plan of its own."""
        return rules.weigh(picture, self.people, plan, today=self.today, windows=self.windows)

    def of(self, sitter: Sitter, picture: Picture) -> Part:
        """What one sitter adds, weighed by the rule."""
        scales = self.scales(picture)
        scales.about = sitter.code
        rules.weigh_sitter(scales, self.people[sitter.code], sitter.recognisable)
        return _taken_from(scales)

    def alike(self, sitter: Sitter, picture: Picture) -> Part:
        """The same, once for all pictures of a sitting in which nothing differs for a sitter."""
        if sitter.code in self.particular or picture.quotes:
            return self.of(sitter, picture)
        key = (
            sitter.code, sitter.recognisable,
            picture.sitting, picture.made_on, picture.place_word,
        )  # fmt: skip
        part = self.known.get(key)
        if part is None:
            part = self.known[key] = self.of(sitter, picture)
        return part

    def frame(self, picture: Picture) -> Part | None:
        """What the frame itself adds; None where there is nothing to ask about it."""
        if picture.others in SETTLED and not picture.is_on_hold and not picture.quotes:
            return None
        scales = self.scales(picture)
        rules.weigh_frame(scales)
        return _taken_from(scales)


def _taken_from(scales: Scales) -> Part:
    return Part(tuple(scales.stops), tuple(scales.conditions), scales.look)


def _answers(
    pictures: Iterable[Picture], parts: _Parts, own: Mapping[str, Plan]
) -> Iterator[Answer]:
    """Put the parts of each picture together; the earliest day to look again is kept."""
    alike, frame = parts.alike, parts.frame
    end = parts.plan.ends_on if parts.plan.is_span else None
    for picture in pictures:
        if picture.id in own:
            yield parts.alone(picture, own[picture.id])
            continue
        found = [alike(sitter, picture) for sitter in picture.sitters]
        if (itself := frame(picture)) is not None:
            found.insert(0, itself)
        if len(found) == 1:
            (one,) = found
            yield judged(*one)
            continue
        stops = dict.fromkeys([reason for part in found for reason in part.stops])
        conditions = dict.fromkeys([reason for part in found for reason in part.conditions])
        looks = [part.look for part in found if part.look is not None]
        yield judged(tuple(stops), tuple(conditions), min(looks, default=end))
