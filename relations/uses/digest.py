"""The digest of all that went into one answer, so that a later look can tell that it is stale."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date
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
    """Give the digest of each of many pictures in turn; plan and people are written out once."""
    named, bare = _plain(plan.names), _plain(replace(plan, names={}))
    written: dict[str, Any] = {}
    for picture in pictures:
        codes = sorted({sitter.code for sitter in picture.sitters})
        for code in codes:
            if code not in written:
                written[code] = _plain(people[code])
        said = {
            "picture": _plain(picture),
            "people": {code: written[code] for code in codes},
            "plan": bare | {"names": {code: named[code] for code in codes if code in named}},
        }
        body = json.dumps(said, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
        yield hashlib.sha256(body.encode()).hexdigest()


def _plain(value: Any) -> Any:
    """The value as JSON can say it, one writing for each value; a code is written as its word."""
    if value is None or isinstance(value, str | int):
        return value
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, frozenset):
        return sorted(map(_plain, value))
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    return {str(key): _plain(one) for key, one in value.items()}
