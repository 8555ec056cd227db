"""How hard a text is to read: sentence lengths, the Flesch-Kincaid grade and LIX."""

import re
from typing import NamedTuple

_SENTENCE_END = re.compile(r"[.!?:]+(?:\s+|$)")
# Devanagari and Bengali end a sentence with a danda, Arabic asks with a mark of its own.
_ANY_END = re.compile(r"[.!?:؟।॥]+(?:\s+|$)")
_WORD = re.compile(r"[^\W\d_]+(?:[’'-][^\W\d_]+)*")
_VOWELS = re.compile(r"[aeiouy]+")
_SILENT_END = re.compile(r"(?<=[^aeiouyl])es?$|(?<=[aeiouy]l)es?$|(?<=[^aeiouytd])ed$")
# Where a text becomes hard: school years, LIX points, words in one sentence (languages.md 7).
GRADE, LIX, SENTENCE = 8.0, 40.0, 20
# Languages for which LIX says something; English has its grade, the others no formula we trust.
BY_LIX = frozenset({"fr", "es", "pt"})
_LONG_WORD = 6


class Measure(NamedTuple):
    """What was counted in a text."""

    sentences: int
    words: int
    syllables: int


def sentences(text: str) -> list[list[str]]:
    """Split into sentences at . ! ? and :, each a list of its words; numbers are no words."""
    found = [_WORD.findall(part) for part in _SENTENCE_END.split(text)]
    return [words for words in found if words]


def syllables(word: str) -> int:
    """Count the syllables of an English word by its groups of vowels, at least one.

    A silent ending (e, es, ed) does not count. Near enough for a grade, not for a poem.
    """
    lowered = word.lower()
    return max(1, len(_VOWELS.findall(_SILENT_END.sub("", lowered))))


def measure(text: str) -> Measure:
    """Count the sentences, words and syllables of an English text."""
    said = sentences(text)
    words = [word for sentence in said for word in sentence]
    return Measure(len(said), len(words), sum(map(syllables, words)))


def grade(text: str) -> float:
    """Give the Flesch-Kincaid grade of an English text (school years; 6 is easy).

    0.39 words per sentence + 11.8 syllables per word - 15.59. Source: Kincaid, Fishburne,
    Rogers and Chissom, "Derivation of New Readability Formulas", 1975 (by way of
    languages.md 7). Raises ValueError for a text without words. It approves nothing by itself.
    """
    counted = measure(text)
    if not counted.words:
        raise ValueError("a text without words has no grade")
    return (
        0.39 * counted.words / counted.sentences + 11.8 * counted.syllables / counted.words - 15.59
    )


def longest(text: str) -> int:
    """Give the words of the longest sentence of a text in any language; 0 without a sentence.

    What stands between white space and holds a letter or a number is a word.
    """
    parts = _ANY_END.split(text)
    return max(sum(any(map(str.isalnum, word)) for word in part.split()) for part in parts)


def lix(text: str) -> float:
    """Give the LIX of a text (20 very easy, 60 very hard); meant for Latin letters.

    Words per sentence + 100 * words of more than 6 letters / words. Source: Björnsson,
    "Läsbarhet", 1968 (by way of languages.md 7). Raises ValueError for a text without words.
    """
    said = sentences(text)
    words = [word for sentence in said for word in sentence]
    if not words:
        raise ValueError("a text without words has no LIX")
    long_ones = sum(len(word) > _LONG_WORD for word in words)
    return len(words) / len(said) + 100 * long_ones / len(words)


class Level(NamedTuple):
    """How hard a text is: by which measure ("grade", "lix" or "sentence"), and how much.

    `is_over` says that it passes the bar of its measure or has a sentence that is too long. It
    is a warning to a person and approves nothing.
    """

    by: str
    value: float
    longest: int
    is_over: bool


def level(text: str, language: str) -> Level | None:
    """Measure a text by what fits its language (a BCP 47 tag); None for a text without words."""
    most, spoken = longest(text), language.split("-")[0]
    if not most or not sentences(text):
        return None
    if spoken == "en":
        by, value, bar = "grade", grade(text), GRADE
    elif spoken in BY_LIX:
        by, value, bar = "lix", lix(text), LIX
    else:
        by, value, bar = "sentence", float(most), float(SENTENCE)
    return Level(by, value, most, value > bar or most > SENTENCE)
