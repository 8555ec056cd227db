"""The digest of all that went into one answer, so that a later look can tell that it is stale."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from datetime import date
from functools import cache
from typing import Any

from relations.consent.values import NameForm, Person, Picture, Plan
from relations.consent.weighing import NONE_OF_ITS_OWN

NOWHERE: frozenset[str] = frozenset()


def digest(picture: Picture, people: Mapping[str, Person], plan: Plan) -> str:
    """Give the SHA-256 (64 hex figures) of a picture, everybody in it, and the plan.

    Equal inputs give equal digests whatever the order of their sets; names that the plan shows
    of people in other pictures count for nothing here, nor do forms that speak of other sittings.
    The day is no part of it: an answer that changes with the days says so by its look-again day.
    Source: job.md F17.
    """
    return next(digests([picture], people, plan))


def digests(
    pictures: Iterable[Picture],
    people: Mapping[str, Person],
    plan: Plan,
    own: Mapping[str, Plan] = NONE_OF_ITS_OWN,
) -> Iterator[str]:
    """Give the digest of each of many pictures in turn.

    `own` is the plan of a picture that is shown otherwise than the others, by its id. Of a sitter
    those forms count that cover the sitting, as in the rule; each is written down once.
    """
    usual = _bare(plan)
    sat = cache(lambda code, sitting: WRITE(_covering(people[code], sitting)))
    for picture in pictures:
        mine = own.get(picture.id)
        names = plan.names if mine is None else mine.names
        said = [WRITE(picture), usual if mine is None else _bare(mine)]
        for code in sorted({sitter.code for sitter in picture.sitters}):
            said += [names.get(code, NameForm.NONE), sat(code, picture.sitting)]
        yield hashlib.sha256("\n".join(said).encode()).hexdigest()


def _bare(plan: Plan) -> str:
    """A plan without whom it names: those who are not in a picture count for nothing in it."""
    return WRITE(replace(plan, names={}))


def _covering(person: Person, sitting: str) -> Person:
    """The same person with the forms that cover a sitting; which others they cover is no matter."""
    forms = [form for form in person.forms if sitting in form.sittings]
    return replace(person, forms=tuple(replace(form, sittings=NOWHERE) for form in forms))


def _plain(value: Any) -> Any:
    """What JSON has no writing for, as something it has one for; always the same one."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, frozenset):
        return sorted(value)
    return _named(value)


def _named(value: Any) -> dict[str, Any]:
    """The fields of a plain value by name."""
    return {name: getattr(value, name) for name in _names(value.__class__)}


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


# One writing for each value; a code is written as its word.
WRITE = json.JSONEncoder(
    ensure_ascii=False, sort_keys=True, separators=(",", ":"), default=_plain
).encode
