"""How wide a line of text will be, from a table of advances: nothing is drawn to measure it."""

import unicodedata
from functools import cache

# Advances of Noto Sans in thousandths of the size of type, read from the font itself; the faces of
# our papers are narrower. By advance, so that the table stays small.
_LETTERS = {
    225: "'", 258: "ijl", 260: " ", 268: ",.:;", 269: "!", 273: "J", 281: "`", 300: "()",
    322: "-", 329: "[]", 339: "I", 344: "f", 361: "t", 372: "/\\", 380: "{}", 408: '"', 413: "r",
    434: "?", 444: "_", 470: "z", 479: "s", 480: "c", 500: "–", 508: "v", 510: "y", 519: "F",
    524: "L", 529: "x", 534: "k", 549: "S", 551: "*|", 556: "ET", 561: "a", 564: "e", 566: "Y",
    572: "$+0123456789<=>^~Z", 586: "X", 600: "V", 605: "oP", 615: "bdgpq", 618: "hnu", 619: "K",
    622: "R", 632: "C", 639: "A", 646: "#", 650: "B", 728: "G", 730: "D", 731: "U", 732: "&",
    741: "H", 760: "N", 781: "OQ", 786: "w", 791: "…", 831: "%", 899: "@", 907: "M", 930: "W",
    935: "m", 1000: "—",
}  # fmt: skip
_ADVANCE = {letter: advance for advance, letters in _LETTERS.items() for letter in letters}
# Bold letters are wider: the most of any letter of the table but for "t" and "x".
BOLD = 1.1
# A letter that is in no table: the mean of the Arabic, Bengali and Devanagari faces of our papers
# lies between 630 and 660, those of Han, kana and Hangul fill a square.
OTHER, SQUARE = 660, 1000
_NOTHING = {"Mn", "Me", "Cf"}  # marks that sit on a letter, and what only says how to join


@cache
def _advance(letter: str) -> int:
    """Thousandths of the size of type; a letter with marks is as wide as the letter."""
    found = _ADVANCE.get(letter)
    if found is not None:
        return found
    if unicodedata.category(letter) in _NOTHING:
        return 0
    base = unicodedata.normalize("NFD", letter)[0]
    if base in _ADVANCE:
        return _ADVANCE[base]
    return SQUARE if unicodedata.east_asian_width(letter) in "WF" else OTHER


def width(text: str, size: float, *, is_bold: bool = False) -> float:
    """The width of a line in the unit of `size`, the size of its type; 0 for no text.

    An estimate: within a tenth for Latin letters, rough for others, and rather too wide, since
    letters that join are narrower than they stand alone.
    """
    return sum(map(_advance, text)) * size * (BOLD if is_bold else 1) / 1000
