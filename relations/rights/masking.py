"""Takes other people out of a text before it is handed to the person it is about.

Pure: texts and names in, a text out. What is taken out is replaced by words that the caller gives
("somebody else"); how long it was, and how many words, cannot be told from what stands there.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from relations.languages.finding import Names
from relations.languages.sorting import APOSTROPHES, fold, is_spaced

# Words of somebody else are looked for where they are long enough to be theirs and nobody's else:
# shorter ones ("by day", "alone") are met by chance.
FEWEST_WORDS, FEWEST_SIGNS = 3, 12
# So many digits are a number to ring; a day has eight, and is known by its shape.
FEWEST_DIGITS = 7
_DIGITS = re.compile(r"\+?\d(?:[ \u00a0\u202f().\-/]{0,2}\d){6,}")
_APOSTROPHES = str.maketrans(dict.fromkeys(APOSTROPHES, " "))
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
# What nothing of a text holds: it stands for somebody until the whole text is done.
_GONE = "\ufffc"


@dataclass(frozen=True)
class _Word:
    """One word of a text, folded, and where the piece it came from stands."""

    folded: str
    start: int
    end: int


class Others:
    """What other people are known by, ready to be taken out of any number of texts.

    `names`: in any script, matched whatever their case and accents. `words`: longer words of
    theirs, of three words and twelve signs or more, found the same way. `codes` are found as a
    whole piece between two spaces: "12" is in no "12:30". `own_names` (code and words too) and
    `own_numbers` are the person's own and stay, also where another bears the same name. Any other
    number of seven digits or more is taken to be somebody else's.
    """

    def __init__(
        self,
        names: Iterable[str],
        words: Iterable[str] = (),
        codes: Iterable[str] = (),
        own_names: Iterable[str] = (),
        own_numbers: Iterable[str] = (),
    ) -> None:
        mine = {fold(name) for name in own_names}
        long = (said for said in map(fold, words) if _is_long(said))
        found = {said for said in (*map(fold, names), *long) if said and said not in mine}
        self._names = Names((said, said) for said in sorted(found))
        self._codes = {fold(code) for code in codes} - mine - {""}
        self._own = {_digits(number)[-FEWEST_DIGITS:] for number in own_numbers}

    def masked(self, text: str, somebody: str) -> str:
        """The text with `somebody` wherever another person or their number stood.

        A piece between two spaces goes whole, with the sign or particle that is joined to it. Where
        a name is still found afterwards, which taking pieces out may bring about, nothing is left.
        """
        said = re.sub(r"\S+", self._code, _DIGITS.sub(self._number, text))
        for plain in (fold, _apart):
            if found := self._names.found(plain(said)):
                said = _without(said, found, plain)
        if self._names.found(said) or self._names.found(_apart(said)):
            said = _GONE
        return re.sub(rf"\S*{_GONE}\S*(?:\s+\S*{_GONE}\S*)*", somebody, said)

    def _code(self, match: re.Match[str]) -> str:
        return _GONE if fold(match[0]) in self._codes else match[0]

    def _number(self, match: re.Match[str]) -> str:
        digits = _digits(match[0])
        is_own = digits[-FEWEST_DIGITS:] in self._own
        return match[0] if is_own or _DAY.fullmatch(match[0]) else _GONE


def _apart(text: str) -> str:
    """As `fold`, with what an apostrophe joins to a name apart: "Latifa’s", "d’Amina"."""
    return fold(text.translate(_APOSTROPHES))


def _is_long(folded: str) -> bool:
    return len(folded.split()) >= FEWEST_WORDS and len(folded) >= FEWEST_SIGNS


def _digits(text: str) -> str:
    return "".join(str(int(sign)) for sign in text if sign.isdigit())


def _words(text: str, plain: Callable[[str], str]) -> list[_Word]:
    """The folded words of a text; several may come of one piece between spaces."""
    return [
        _Word(folded, *piece.span())
        for piece in re.finditer(r"\S+", text)
        for folded in plain(piece[0]).split()
    ]


def _without(text: str, names: Iterable[str], plain: Callable[[str], str]) -> str:
    """The text with each piece gone in which, alone or with the next ones, a name stands."""
    words, gone = _words(text, plain), set[tuple[int, int]]()
    joined = " ".join(word.folded for word in words)
    for name in names:
        for start in _found(joined, name):
            touched = _touched(words, start, start + len(name))
            gone |= {(word.start, word.end) for word in touched}
    for start, end in sorted(gone, reverse=True):
        text = f"{text[:start]}{_GONE}{text[end:]}"
    return text


def _found(joined: str, name: str) -> list[int]:
    """Where a folded name begins in a folded text, by the rule of `finding.Names`."""
    pattern = re.escape(name)
    if is_spaced(name):
        pattern = rf"(?<!\S){pattern}(?!\S)"
    return [match.start() for match in re.finditer(f"(?={pattern})", joined)]


def _touched(words: Iterable[_Word], first: int, last: int) -> list[_Word]:
    """The words that stand between two places of the joined text."""
    at, found = 0, []
    for word in words:
        end = at + len(word.folded)
        if at < last and first < end:
            found.append(word)
        at = end + 1
    return found
