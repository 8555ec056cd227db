"""People as cards for any book of addresses (vCard 4.0, RFC 6350): what to call them, and where.

No level, no note, no group: a telephone shows its cards to whoever holds it.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from relations.meetings.calendar import ESCAPES, folded

# RFC 5646 in its simple shapes: what stands in a line of its own must not break it.
_TAG = re.compile(r"[A-Za-z]{2,8}(?:-[A-Za-z0-9]{1,8})*")
# E.164, and the digits of an extension (RFC 3966).
_NUMBER, _EXTENSION = re.compile(r"\+[1-9][0-9]{1,14}"), re.compile(r"[0-9]{1,12}")


@dataclass(frozen=True)
class Number:
    """A number in E.164 that may be rung, or written to where `is_text`; `extension` digits."""

    number: str
    extension: str = ""
    is_text: bool = False


@dataclass(frozen=True)
class Card:
    """One person: `key` is their random key, `name` what they are called, never empty."""

    key: str
    name: str
    languages: tuple[str, ...] = ()
    numbers: tuple[Number, ...] = ()


def written(cards: Iterable[Card]) -> bytes:
    """Give the cards as UTF-8 with CRLF; what is no number and no language is left out."""
    return b"".join(folded(line) for card in cards for line in _lines(card))


def _lines(card: Card) -> list[str]:
    name = card.name.translate(ESCAPES)
    return [
        "BEGIN:VCARD",
        "VERSION:4.0",
        f"UID:urn:uuid:{card.key}",
        f"FN:{name}",
        # Family, given, more, before, after: which part of a name is which, we do not ask.
        f"N:;{name};;;",
        *(
            f"LANG;PREF={place}:{tag}"
            for place, tag in enumerate(filter(_TAG.fullmatch, card.languages), 1)
        ),
        *(_tel(one) for one in card.numbers if _NUMBER.fullmatch(one.number)),
        "END:VCARD",
    ]


def _tel(one: Number) -> str:
    kind = "text" if one.is_text else "voice"
    more = f";ext={one.extension}" if _EXTENSION.fullmatch(one.extension) else ""
    return f"TEL;VALUE=uri;TYPE={kind}:tel:{one.number}{more}"
