"""How hard an English text is to read: sentence lengths and the Flesch-Kincaid grade."""

import re
from typing import NamedTuple

_SENTENCE_END = re.compile(r"[.!?:]+(?:\s+|$)")
_WORD = re.compile(r"[^\W\d_]+(?:[’'-][^\W\d_]+)*")
_VOWELS = re.compile(r"[aeiouy]+")
_SILENT_END = re.compile(r"(?<=[^aeiouyl])es?$|(?<=[aeiouy]l)es?$|(?<=[^aeiouytd])ed$")


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
