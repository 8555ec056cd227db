"""The digest of all that went into one answer, so that a later look can tell that it is stale."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from datetime import date
from functools import cache
from typing import Any

from relations.consent.values import Person, Picture, Plan


def digest(picture: Picture, people: Mapping[str, Person], plan: Plan) -> str:
    """Give the SHA-256 (64 hex figures) of a picture, everybody in it, and the plan.

    Equal inputs give equal digests whatever the order of their sets; names that the plan shows
    of people in other pictures count for nothing here. The day is no part of it: an answer that
    changes with the days says so by its look-again day. Source: job.md F17.
    """
    return next(digests([picture], people, plan))


def digests(pictures: Iterable[Picture], people: Mapping[str, Person], plan: Plan) -> Iterator[str]:
    """Give the digest of each of many pictures in turn."""
    bare = _named(replace(plan, names={}))
    for picture in pictures:
        codes = {sitter.code for sitter in picture.sitters}
        said = {
            "picture": picture,
            "people": {code: people[code] for code in codes},
            "plan": bare | {"names": {code: plan.names[code] for code in codes & set(plan.names)}},
        }
        yield hashlib.sha256(WRITE(said).encode()).hexdigest()


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
