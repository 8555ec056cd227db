"""How texts are made alike before they are compared: folding, sorting, finding a name in words."""

import unicodedata
from collections.abc import Callable, Iterable
from typing import TypeVar

Row = TypeVar("Row")

# Signs typed for an apostrophe, from ASCII's to the modifier letters, primes and full width.
APOSTROPHES = "'`´‘’‛′‵ʹʻʼʽʾʿˈ׳ꞌ＇"

# Letters that no decomposition takes apart.
UNDECOMPOSED = {
    "ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i",
}  # fmt: skip

# The stroke that draws an Arabic word long; Unicode counts it among the letters.
STRETCH = 0x0640

# Marks that make no other letter where names stand in a list: Latin, Greek and Cyrillic accents,
# Arabic vowel signs and the hamza over or under its bearer, and the stroke that lengthens a word.
# No other script's: Devanagari's virama and vowel signs are its spelling (languages.md 5).
UNSORTED_MARKS = {
    *range(0x0300, 0x0370),
    *range(0x064B, 0x0656),
    *(STRETCH, 0x0670),
}

# Where a letter of the Arabic script stands in the alphabet, where its number says otherwise: the
# hamza before all, long alef before alef, Persian's own letters after those they are made from.
ARABIC_ORDER = str.maketrans({
    "ؤ": "ء", "ئ": "ء", "آ": "ا!", "ی": "ي", "ى": "ي", "ک": "ك",
    "پ": "ب\uffff", "چ": "ج\uffff", "ژ": "ز\uffff", "گ": "ك\uffff",
})  # fmt: skip

# Scripts that part words by spaces; elsewhere particles are joined to the word they go with.
SPACED_SCRIPTS = ("LATIN ", "GREEK ", "CYRILLIC ")

_ONE_APOSTROPHE = dict.fromkeys(map(ord, APOSTROPHES), "'")
_WITHOUT_APOSTROPHES = str.maketrans("", "", APOSTROPHES)


class _Folding(dict[int, str]):
    """What becomes of each code point, worked out when it is first met: no text is kept."""

    def __missing__(self, point: int) -> str:
        sign = chr(point)
        category = unicodedata.category(sign)
        if category == "Cf" or unicodedata.combining(sign) or point == STRETCH:
            kept = ""
        elif category[0] in "LMN":
            kept = UNDECOMPOSED.get(sign, sign)
        else:
            kept = " "
        self[point] = kept
        return kept


_FOLDING = _Folding()


def _decomposed(text: str) -> str:
    return unicodedata.normalize("NFKD", text.casefold())


def fold(text: str) -> str:
    """The text without case, accents, format signs and punctuation: words parted by one space.

    Case folded, NFKD, format characters (Cf), apostrophes and the stroke that lengthens an Arabic
    word dropped, marks with a combining class dropped, ł ø đ ð þ æ œ ı spelt out, everything but
    letters, marks and digits (general categories L, M, N of the Unicode Character Database) a
    space. Folding twice changes nothing.
    """
    bare = text.translate(_WITHOUT_APOSTROPHES)
    # Some signs decompose into capitals (𝐀, ℡), and those into more: twice is always enough.
    plain = _decomposed(_decomposed(bare)).translate(_WITHOUT_APOSTROPHES)
    return " ".join(plain.translate(_FOLDING).split())


def sort_key(text: str) -> tuple[str, str]:
    """What a name, a group or a place is put in order by, for people who read the list.

    Case folded and NFKD; accents of U+0300-036F, Arabic vowel signs and hamza marks and the
    tatweel make no difference, ł ø đ ð þ æ œ ı are spelt out, what is not seen is dropped, and
    signs that stand for an apostrophe are one. Names that are alike in all that stand in the
    order of their own signs, so that a list is the same every time. Not for numbers or codes.
    """
    composed = unicodedata.normalize("NFC", text)
    kept = (
        UNDECOMPOSED.get(sign, sign)
        for sign in _decomposed(composed.translate(_ONE_APOSTROPHE).translate(ARABIC_ORDER))
        if ord(sign) not in UNSORTED_MARKS and unicodedata.category(sign) != "Cf"
    )
    return " ".join("".join(kept).split()), text


def by_name(rows: Iterable[Row], name: Callable[[Row], object] = str) -> list[Row]:
    """The rows in the order of what each is called on the screen; those without a name last."""
    said = [(str(name(row) or ""), row) for row in rows]
    return [row for _name, row in sorted(said, key=lambda one: (not one[0], sort_key(one[0])))]


def is_spaced(folded: str) -> bool:
    """Whether every letter of the words is Latin, Greek or Cyrillic, and there is one."""
    letters = [sign for sign in folded if unicodedata.category(sign)[0] == "L"]
    return bool(letters) and all(
        unicodedata.name(sign, "").startswith(SPACED_SCRIPTS) for sign in letters
    )


def contains_folded(text: str, name: str) -> bool:
    """Whether the name stands in the text; both are folded already.

    Latin, Greek and Cyrillic names match as whole words; others anywhere, since there particles
    are joined to words. A name that folds to nothing is in no text.
    """
    if not name:
        return False
    if is_spaced(name):
        return f" {name} " in f" {text} "
    return name in text
