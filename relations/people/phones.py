"""A phone number as typed, read by the numbering plans of the world (phonenumbers).

Only the core of the library is used; its place-name data are large and are never imported.
"""

import re
from dataclasses import dataclass

import phonenumbers
from phonenumbers import (
    Leniency,
    NumberParseException,
    PhoneNumber,
    ValidationResult,
)

from relations.languages.digits import to_ascii
from relations.languages.direction import strip_marks

# The library would also take "poste 12" for keypad digits and ", 68" for an extension.
_EXTENSION = re.compile(r"(?:;ext=|\s*\b(?:extn?|x)\b[.:]?\s*|\s*x|\s*#)(\d{1,7})$", re.IGNORECASE)
_SCHEME = re.compile(r"^tel:", re.IGNORECASE)
_SEPARATORS = re.compile(r"[/,;|&\n]")
_FIGURES = re.compile(r"\d+")
_DIGIT = re.compile(r"\d")

_UNREADABLE = {
    NumberParseException.INVALID_COUNTRY_CODE: "country",
    NumberParseException.NOT_A_NUMBER: "not_a_number",
    NumberParseException.TOO_SHORT_AFTER_IDD: "too_short",
    NumberParseException.TOO_SHORT_NSN: "too_short",
    NumberParseException.TOO_LONG: "too_long",
}
_IMPOSSIBLE = {
    ValidationResult.INVALID_COUNTRY_CODE: "country",
    ValidationResult.TOO_SHORT: "too_short",
    ValidationResult.TOO_LONG: "too_long",
    ValidationResult.INVALID_LENGTH: "wrong_length",
    ValidationResult.IS_POSSIBLE_LOCAL_ONLY: "area_code",
}


# What stands between two numbers of one line and is no note.
_BETWEEN = " \t\n\r,;/|&()[]<>+-:.\u2013\u2014\u060c\u061b\u0964"
_OR = frozenset("or and ou et o y e u und oder i أو و বা ও वा र या".split())  # noqa: SIM905

# Signs of a line that is read for numbers; the library takes the longer over each of a long one.
LONGEST = 200


@dataclass(frozen=True)
class Reading:
    """What was found in one cell.

    `kept_raw`: as typed, never thrown away. `e164`: "+33639980042", None with any problem.
    `extension`: digits or "". `problem`: "" or empty, letters, two_numbers, country, too_short,
    too_long, wrong_length, area_code, not_a_number. `warning`: "not_valid" for a number that can
    be dialled but that no known plan gives out. `parts`: the numbers found, for two_numbers.
    """

    kept_raw: str
    e164: str | None = None
    extension: str = ""
    is_possible: bool = False
    is_valid: bool = False
    problem: str = ""
    warning: str = ""
    parts: tuple[str, ...] = ()


def read(text: str, country: str | None) -> Reading:
    """Read one number typed in `country` (ISO 3166-1 alpha-2; None or unknown: needs a +).

    Digits of any script and hidden direction characters are fine. A possible number that is not
    valid is accepted with a warning: numbers set aside for fiction and ranges newer than the
    library are such. Letters are refused, as the library turns them into keypad digits. More than
    `LONGEST` signs are too long for a number and are not read.
    Source: E.164, ITU; checks.md 0 (traps 1-3) and 5; languages.md 4.1.
    """
    if len(text) > LONGEST:
        return Reading(text, problem="too_long")
    typed = _SCHEME.sub("", to_ascii(strip_marks(text, lines=True)).strip())
    if not typed:
        return Reading(text, problem="empty")
    region = country.upper() if country else None
    match = _EXTENSION.search(typed)
    body, extension = (typed[: match.start()], match[1]) if match else (typed, "")
    number, problem = _parse(body, region)
    parts = _parts(typed, region, is_one=number is not None)
    if parts:
        return Reading(text, problem="two_numbers", parts=parts)
    if any(char.isalpha() for char in body):
        return Reading(text, problem="letters")
    if number is None:
        return Reading(text, problem=problem, is_possible=problem == "area_code")
    is_valid = phonenumbers.is_valid_number(number)
    return Reading(
        text,
        e164=phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164),
        extension=extension,
        is_possible=True,
        is_valid=is_valid,
        warning="" if is_valid else "not_valid",
    )


@dataclass(frozen=True)
class Part:
    """One number found in a line, as typed, and the words beside it."""

    number: str
    note: str = ""


@dataclass(frozen=True)
class Split:
    """What a line holds that must be asked about: its numbers, and figures that are in none."""

    parts: tuple[Part, ...] = ()
    left: str = ""


def split(text: str, country: str | None) -> Split | None:
    """Part a line into its numbers and notes; None where it is one number and nothing else.

    Nothing is thrown away: words go to the number beside them, and figures that belong to no number
    stay in the note and are named in `left`, as they may be a second number cut short, or an
    extension. No parts: no number was found. `country` as for `read`. Source: languages.md 4.1.
    """
    reading = read(text, country)
    if reading.e164 is not None:
        return None
    typed = _SCHEME.sub("", to_ascii(strip_marks(text, lines=True)).strip())
    region = country.upper() if country else None
    found = list(phonenumbers.PhoneNumberMatcher(typed, region, leniency=Leniency.POSSIBLE))
    if len(found) < len(reading.parts):
        return Split(tuple(Part(number) for number in reading.parts))
    if not found:
        return Split()
    notes = _notes(typed, [(match.start, match.end) for match in found])
    parts = tuple(Part(match.raw_string, note) for match, note in zip(found, notes, strict=True))
    return Split(parts, " ".join(_FIGURES.findall(" ".join(part.note for part in parts))))


def _notes(typed: str, spans: list[tuple[int, int]]) -> list[str]:
    """The words that go with each number: before it where the line begins with words, else behind.

    As in "home 04 65 71 00 07, work 06 39 98 00 42" and "04 65 71 00 07 (home), 06 …".
    """
    starts, ends = [start for start, _ in spans], [end for _, end in spans]
    if _note(typed[: starts[0]]):
        between = [typed[end:start] for end, start in zip([0, *ends], starts, strict=False)]
        between[-1] += f" {typed[ends[-1] :].strip(_BETWEEN)}"
    else:
        between = [typed[end:start] for end, start in zip(ends, [*starts[1:], None], strict=True)]
    return [_note(words) for words in between]


def _note(words: str) -> str:
    """The words beside a number, without what only parts it from the next."""
    kept = words.strip(_BETWEEN).split()
    while kept and kept[-1].casefold() in _OR:
        kept.pop()
    while kept and kept[0].casefold() in _OR:
        kept.pop(0)
    return " ".join(kept).strip(_BETWEEN)


def numbers_in(text: str, country: str | None) -> tuple[str, ...]:
    """Every number in E.164 that a text may hold, also one that is kept as it was typed."""
    typed = to_ascii(strip_marks(text, lines=True))
    region = country.upper() if country else None
    found = phonenumbers.PhoneNumberMatcher(typed, region, leniency=Leniency.POSSIBLE)
    form = phonenumbers.PhoneNumberFormat.E164
    return tuple(dict.fromkeys(phonenumbers.format_number(one.number, form) for one in found))


def international(e164: str, extension: str = "") -> str:
    """Give "+33 6 39 98 00 42 ext. 12": how a number is shown to eyes in any country."""
    return _format(e164, extension, phonenumbers.PhoneNumberFormat.INTERNATIONAL)


def link(e164: str, extension: str = "") -> str:
    """Give "tel:+33-6-39-98-00-42;ext=12", what a phone dials (RFC 3966)."""
    return _format(e164, extension, phonenumbers.PhoneNumberFormat.RFC3966)


def _format(e164: str, extension: str, form: int) -> str:
    """Write a stored number in one of the library's forms."""
    number = phonenumbers.parse(e164)
    number.extension = extension or None
    return phonenumbers.format_number(number, form)


def _parse(body: str, region: str | None) -> tuple[PhoneNumber | None, str]:
    """Give the number, or None and the code of what is wrong with it."""
    try:
        number = phonenumbers.parse(body, region)
    except NumberParseException as error:
        return None, _UNREADABLE[error.error_type]
    if number.extension:
        # The library's own extension: digits behind a comma, most often a second number.
        return None, "not_a_number"
    reason = phonenumbers.is_possible_number_with_reason(number)
    if reason != ValidationResult.IS_POSSIBLE:
        return None, _IMPOSSIBLE[reason]
    return number, ""


def _parts(typed: str, region: str | None, *, is_one: bool) -> tuple[str, ...]:
    """Give the numbers in a cell that holds several; () for one or none.

    "06/39/98/00/42" is one number; "984-1234567/68" is two, the second cut short by the writer.
    """
    found = phonenumbers.PhoneNumberMatcher(typed, region, leniency=Leniency.POSSIBLE)
    numbers = tuple(match.raw_string for match in found)
    if len(numbers) > 1:
        return numbers
    if is_one or any(char.isalpha() for char in typed):
        return ()
    chunks = [chunk.strip() for chunk in _SEPARATORS.split(typed) if _DIGIT.search(chunk)]
    if len(chunks) > 1:
        return tuple(chunks)
    words = typed.split()
    halves = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    whole = [pair for pair in halves if all(_parse(half, region)[0] for half in pair)]
    return whole[0] if len(whole) == 1 else ()
