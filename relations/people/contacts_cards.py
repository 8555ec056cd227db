"""The cards of a telephone's contacts (vCard 2.1, 3.0 and 4.0), read for names, numbers and notes.

Only what may be asked for is opened; of everything else no more than the name of its property is
kept. One walk over the lines: a file of junk takes no longer than a file of cards.
"""

import quopri
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

# Never splitlines: a value may hold any other sign that Python takes for the end of a line.
LINES = re.compile(r"\r\n|\n|\r")
BEGIN, END = "BEGIN:VCARD", "END:VCARD"
OLDEST = "2.1"
# What may be mapped, and what says nothing of anybody.
NAME, CALLED, GIVEN, NICKNAME, NUMBER, NOTE = "N", "FN", "GIVEN", "NICKNAME", "TEL", "NOTE"
TAKEN = frozenset({NAME, CALLED, NICKNAME, NUMBER, NOTE})
SILENT = frozenset({"VERSION", "PRODID", "REV", "UID", "CLASS", "SOURCE", "KIND", "PROFILE"})
# What quoted-printable bytes may say they are; any other name of a charset is not looked up.
CHARSETS = {
    "UTF-8": "utf-8",
    "US-ASCII": "ascii",
    "ISO-8859-1": "cp1252",
    "ISO-8859-15": "iso8859-15",
    "WINDOWS-1252": "cp1252",
    "WINDOWS-1256": "cp1256",
}

_PROPERTY = re.compile(r"[A-Z][A-Z0-9-]{0,29}")
_ESCAPED = re.compile(r"\\(.)", re.DOTALL)


class NotRead(ValueError):  # noqa: N818 - read as a sentence where it is raised
    """A file that cannot be read as contacts; `code` says why, for the page to put in words."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


@dataclass
class Card:
    """One contact: what stood under each property that may be taken, and the names of the rest."""

    values: dict[str, list[str]] = field(default_factory=dict)
    left: set[str] = field(default_factory=set)


def cards(text: str) -> Iterator[Card]:
    """Each card of a text, in its order; a card inside another is left out.

    Raise NotRead("cut_short") where a card has no end. Source: RFC 6350, 3.2 to 3.4 and 6; RFC
    2426 for 3.0; the vCard 2.1 specification (versit, 1996) for bare parameters and
    quoted-printable (from memory).
    """
    depth, lines = 0, list[str]()
    for line in LINES.split(text):
        mark = line.strip().upper()
        if mark == BEGIN:
            depth += 1
        elif mark == END and depth:
            depth -= 1
            if not depth:
                yield _card(lines)
                lines = []
        elif depth == 1:
            lines.append(line)
    if depth:
        raise NotRead("cut_short")


def _card(lines: list[str]) -> Card:
    is_oldest = any(line.strip().upper() == f"VERSION:{OLDEST}" for line in lines)
    card = Card()
    for whole in unfolded(lines, keep=is_oldest):
        name, parameters, value = _parted(whole)
        if name in TAKEN:
            said = _decoded(parameters, value)
            card.values.setdefault(name, []).append(said)
        elif name not in SILENT and _PROPERTY.fullmatch(name):
            card.left.add(name)
    given = parts(next(iter(card.values.get(NAME, [])), ""), ";")
    named = {
        CALLED: card.values.get(CALLED) or [" ".join(filter(None, (*given[1:2], *given[:1])))],
        GIVEN: given[1:2],
        NICKNAME: parts(next(iter(card.values.get(NICKNAME, [])), ""), ","),
    }
    firsts = {key: [one_line(plain(said[0]))] for key, said in named.items() if said and said[0]}
    rest = {key: [*map(plain, card.values.get(key, []))] for key in (NUMBER, NOTE)}
    card.values = {key: said for key, said in {**firsts, **rest}.items() if any(said)}
    return card


def unfolded(lines: list[str], *, keep: bool = False) -> Iterator[str]:
    """Whole lines of folded ones; `keep` the space at a fold, as vCard 2.1 does (RFC 822).

    A line of quoted-printable that ends in "=" goes on in the next one, whatever that begins with.
    """
    open_line = list[str]()
    is_printable = False
    for line in lines:
        if open_line and is_printable and open_line[-1].endswith("="):
            open_line[-1] = open_line[-1][:-1]
            open_line.append(line)
        elif open_line and line[:1] in (" ", "\t"):
            open_line.append(line if keep else line[1:])
        else:
            if open_line:
                yield "".join(open_line)
            open_line = [line]
            is_printable = "QUOTED-PRINTABLE" in line.partition(":")[0].upper()
    if open_line:
        yield "".join(open_line)


def _parted(line: str) -> tuple[str, list[str], str]:
    """Name, parameters and value of a line; a colon or semicolon in quotes parts nothing."""
    ends, in_quotes = [], False
    colon = -1
    for at, sign in enumerate(line):
        if sign == '"':
            in_quotes = not in_quotes
        elif sign in ":;" and not in_quotes:
            ends.append(at)
            if sign == ":":
                colon = at
                break
    if colon < 0:
        return "", [], ""
    begins = [0, *(end + 1 for end in ends)]
    head = [line[begin:end].upper() for begin, end in zip(begins, ends, strict=False)]
    # A group, as in "item1.TEL", says which lines an app shows together.
    return head[0].rpartition(".")[2].strip(), head[1:], line[colon + 1 :]


def _decoded(parameters: list[str], value: str) -> str:
    """A value as text: quoted-printable in the charset it names, as far as it is one we know."""
    if not any(one.removeprefix("ENCODING=") == "QUOTED-PRINTABLE" for one in parameters):
        return value
    named = next((one[8:].strip('"') for one in parameters if one.startswith("CHARSET=")), "")
    content = quopri.decodestring(value.encode())
    for charset in (CHARSETS.get(named, "utf-8"), "utf-8", "cp1252"):
        try:
            return content.decode(charset)
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1")


def parts(value: str, sign: str) -> list[str]:
    """A value parted at each `sign` that no backslash stands before."""
    found, begin, at = [], 0, 0
    while at < len(value):
        if value[at] == "\\":
            at += 1
        elif value[at] == sign:
            found.append(value[begin:at])
            begin = at + 1
        at += 1
    return [*found, value[begin:]]


def plain(value: str) -> str:
    """A value without its backslashes (RFC 6350, 3.4): "Huarcaya\\, Ponte" is one name."""
    return _ESCAPED.sub(lambda found: "\n" if found[1] in "nN" else found[1], value).strip()


def one_line(value: str) -> str:
    """Words in one line, each space one space."""
    return " ".join(value.split())
