"""How texts are made alike before they are compared: folding, and finding a name in words."""

import unicodedata

# Signs typed for an apostrophe, from ASCII's to the modifier letters, primes and full width.
APOSTROPHES = "'`´‘’‛′‵ʹʻʼʽʾʿˈ׳ꞌ＇"

# Letters that no decomposition takes apart.
UNDECOMPOSED = {
    "ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i",
}  # fmt: skip

# Scripts that part words by spaces; elsewhere particles are joined to the word they go with.
SPACED_SCRIPTS = ("LATIN ", "GREEK ", "CYRILLIC ")

_WITHOUT_APOSTROPHES = str.maketrans("", "", APOSTROPHES)


class _Folding(dict[int, str]):
    """What becomes of each code point, worked out when it is first met: no text is kept."""

    def __missing__(self, point: int) -> str:
        sign = chr(point)
        category = unicodedata.category(sign)
        if category == "Cf" or unicodedata.combining(sign):
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

    Case folded, NFKD, format characters (Cf) and apostrophes dropped, marks with a combining
    class dropped, ł ø đ ð þ æ œ ı spelt out, everything but letters, marks and digits (general
    categories L, M, N of the Unicode Character Database) a space. Folding twice changes nothing.
    """
    bare = text.translate(_WITHOUT_APOSTROPHES)
    # Some signs decompose into capitals (𝐀, ℡), and those into more: twice is always enough.
    plain = _decomposed(_decomposed(bare)).translate(_WITHOUT_APOSTROPHES)
    return " ".join(plain.translate(_FOLDING).split())


def is_spaced(folded: str) -> bool:
    """Whether every letter of the words is Latin, Greek or Cyrillic, and there is one."""
    letters = [sign for sign in folded if unicodedata.category(sign)[0] == "L"]
    return bool(letters) and all(
        unicodedata.name(sign, "").startswith(SPACED_SCRIPTS) for sign in letters
    )


def contains_folded(text: str, name: str) -> bool:
    """As `contains_name`, of a text and a name that are folded already."""
    if not name:
        return False
    if is_spaced(name):
        return f" {name} " in f" {text} "
    return name in text


def contains_name(text: str, name: str) -> bool:
    """Whether the name stands in the text, however either is spelt as to case and accents.

    Latin, Greek and Cyrillic names match as whole words; others anywhere, since there particles
    are joined to words. A name that folds to nothing is in no text.
    """
    return contains_folded(fold(text), fold(name))
