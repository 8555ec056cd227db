"""Which of many names are like a typed one, in whatever script either is spelt."""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from heapq import nlargest
from operator import itemgetter
from typing import Generic, TypeVar

from .romanising import is_bare, romanise

Key = TypeVar("Key")

# One sound for letters that stand for each other where a name crosses scripts: Binod and Vinod,
# Rachid and Rashid, Aziz and Ajij. The longer spelling comes first.
SOUNDS = (
    ("x", "ks"), ("ph", "f"), ("tsch", "s"), ("tch", "s"), ("shch", "s"), ("sch", "s"),
    ("chh", "s"), ("ch", "s"), ("sh", "s"), ("ts", "s"), ("tz", "s"), ("cz", "s"),
    ("dj", "j"), ("dz", "j"), ("zh", "j"), ("jh", "j"), ("z", "j"),
    ("kh", "k"), ("gh", "g"), ("th", "t"), ("dh", "d"), ("bh", "b"), ("rh", "r"),
    ("ce", "se"), ("ci", "si"), ("cy", "si"), ("ck", "k"), ("c", "k"), ("q", "k"),
    ("v", "b"), ("w", "b"),
)  # fmt: skip
_SOUND = re.compile("|".join(re.escape(spelt) for spelt, _ in SOUNDS))
_SOUNDS = dict(SOUNDS)
_first, _second = itemgetter(0), itemgetter(1)
_TWICE = re.compile(r"(.)\1+")
_SILENT_H = re.compile(r"(?<=[^aeiouy])h|h$")
_LAST_H = re.compile("h$")
_VOWELS = str.maketrans("", "", "aeiouy")
# Words that say nothing alone.
PARTICLES = frozenset({"al", "el", "bin", "ibn", "ben", "bint", "de", "da", "di", "van", "von"})

# How much the spelling counts beside the sounds, and what a word must reach to count at all.
SPELLING, LEAST = 0.4, 0.55
# How many words of the known names are looked at closely for one typed word.
CLOSE = 60
# One in so many of the pairs of neighbouring sounds must be shared.
SHARED = 3
# How many names are compared with the whole of what was typed.
WEIGHED = 200
# A name that says more than was typed comes after one that says just that.
LENGTH = 0.1
# No name is longer, in letters or words: what is typed beyond is not compared, since the work
# grows with the square of the words.
LETTERS, WORDS = 160, 12


def sounds(word: str, *, is_bare: bool = False) -> str:
    """The consonants of a romanised word, one sign for those that are written for each other.

    A vowel that begins the word is kept as "a", since so many scripts leave the others out. An h
    after a consonant is silent, unless vowels are not written (`is_bare`) and one may come before.
    """
    # Twice: what comes of one spelling may be part of another, as of "shch" in Khrushchov.
    plain = _one_sound(_one_sound(word))
    plain = (_LAST_H if is_bare else _SILENT_H).sub("", plain)
    first = "a" if plain[:1] in {"a", "e", "i", "o", "u", "y"} else ""
    # Twice the same only where no vowel stands between: Daud has two of d.
    return first + _TWICE.sub(r"\1", plain).translate(_VOWELS)


def _one_sound(word: str) -> str:
    return _SOUND.sub(lambda found: _SOUNDS[found[0]], word)


def ratio(one: str, other: str) -> float:
    """How much two words share, from 0 to 1: twice the longest common run of letters, in order,
    beside the letters of both. By whole-number arithmetic (Hyyrö 2004, from memory)."""
    if one == other:
        return 1.0
    return _ratio(_places(one), len(one), other)


def _places(word: str) -> dict[str, int]:
    places: dict[str, int] = {}
    for at, sign in enumerate(word):
        places[sign] = places.get(sign, 0) | 1 << at
    return places


def _ratio(places: dict[str, int], length: int, other: str) -> float:
    row = full = (1 << length) - 1
    for sign in other:
        met = row & places.get(sign, 0)
        row = (row + met) | (row - met)
    both = length + len(other)
    return 2 * (length - (row & full).bit_count()) / both if both else 1.0


@dataclass(frozen=True, slots=True)
class Word:
    """A romanised word, how it sounds, and whether its script writes few vowels."""

    spelt: str
    sounds: str
    is_bare: bool = False


def words(name: str) -> list[list[Word]]:
    """The words of a name, in each of its readings: Arabic letters are read in two ways."""
    name = name[:LETTERS]
    bare = is_bare(name)
    readings = dict.fromkeys([romanise(name), *([romanise(name, otherwise=True)] if bare else [])])
    return [found for reading in readings if (found := _words(reading, bare=bare))]


def _words(reading: str, *, bare: bool) -> list[Word]:
    said = reading.split()
    said = [word for word in said if word not in PARTICLES] or said
    return [Word(word, sounds(word, is_bare=bare), bare) for word in said[:WORDS]]


def _grams(heard: str) -> set[str]:
    whole = f"^{heard}$"
    return {whole[at : at + 2] for at in range(len(whole) - 1)}


class _Heard:
    """Distinct words by how they sound, and in which names they stand."""

    def __init__(self) -> None:
        self._holders: dict[Word, list[int]] = defaultdict(list)
        self._sounding: dict[str, list[Word]] = defaultdict(list)
        self._gram: dict[str, list[str]] = defaultdict(list)

    def add(self, word: Word, at: int) -> None:
        if word not in self._holders:
            if word.sounds not in self._sounding:
                for gram in _grams(word.sounds):
                    self._gram[gram].append(word.sounds)
            self._sounding[word.sounds].append(word)
        self._holders[word].append(at)

    def near(self, word: Word) -> dict[int, float]:
        """Which names hold a word like this one, and how like."""
        heard, spelt = _places(word.sounds), _places(word.spelt)
        found: list[tuple[float, Word]] = []
        for other in self._close(word.sounds):
            alike = 1.0 if other == word.sounds else _ratio(heard, len(word.sounds), other)
            if alike < LEAST:
                continue
            for known in self._sounding[other]:
                score = _likeness(word, known, alike, spelt)
                if score >= LEAST:
                    found.append((score, known))
        near: dict[int, float] = {}
        for score, known in sorted(found, key=_first, reverse=True):
            for at in self._holders[known]:
                near.setdefault(at, score)
        return near

    def _close(self, heard: str) -> list[str]:
        """The sounds of known words that share most with these: a third of their pairs at least."""
        shared: Counter[str] = Counter()
        grams = _grams(heard)
        for gram in grams:
            shared.update(self._gram.get(gram, ()))
        least = max(1, len(grams) // SHARED)
        close = [(many / (len(one) + 4), one) for one, many in shared.items() if many >= least]
        return [other for _, other in nlargest(CLOSE, close)]


class Known(Generic[Key]):
    """Names by whose they are, ready to be asked which are like a typed one.

    Words are compared in any order, by sounds and by spelling; two that are written together in
    one name and apart in the other meet too. Each distinct word is kept once, so that a question
    costs by the words that sound alike, not by the number of names.
    """

    def __init__(self, names: Iterable[tuple[Key, str]] = ()) -> None:
        self._keys: list[Key] = []
        self._lengths: list[int] = []
        self._apart = _Heard()
        # Neighbours written together, by their length: only a word about as long is one of them.
        self._together: dict[int, _Heard] = defaultdict(_Heard)
        for key, name in names:
            self.add(key, name)

    def __len__(self) -> int:
        return len(self._keys)

    def add(self, key: Key, name: str) -> None:
        """Know one more name."""
        for reading in words(name):
            at = len(self._keys)
            self._keys.append(key)
            self._lengths.append(_length(reading))
            for word in dict.fromkeys(reading):
                self._apart.add(word, at)
            for word in dict.fromkeys(_joined(reading)):
                self._together[len(word.sounds)].add(word, at)

    def like(self, name: str, limit: int = 20, least: float = LEAST) -> list[tuple[Key, float]]:
        """Whose names are like this one, the likest first, each once, and how like from 0 to 1."""
        best: dict[int, float] = {}
        for reading in words(name):
            for at, score in self._weighed(reading):
                best[at] = max(score, best.get(at, 0.0))
        found: dict[Key, float] = {}
        for at, score in sorted(best.items(), key=_second, reverse=True):
            if score >= least:
                found.setdefault(self._keys[at], score)
        return list(found.items())[:limit]

    def _weighed(self, reading: list[Word]) -> Iterator[tuple[int, float]]:
        """How like each name is that shares a word, the likest few hundred of them."""
        near = {word: self._near(word) for word in reading}
        near |= {word: self._apart.near(word) for word in _joined(reading) if word not in near}
        scores: dict[int, float] = {}
        for parts in _partings(reading):
            letters = sum(len(word.spelt) for word in parts)
            told: dict[int, float] = defaultdict(float)
            for word in parts:
                share = len(word.spelt) / letters
                for at, likeness in near[word].items():
                    told[at] += share * likeness
            for at, score in told.items():
                if score > scores.get(at, 0.0):
                    scores[at] = score
        length = _length(reading)
        for at, score in nlargest(WEIGHED, scores.items(), key=_second):
            shorter, longer = sorted((length, self._lengths[at]))
            yield at, score * (1 - LENGTH + LENGTH * shorter / longer)

    def _near(self, word: Word) -> dict[int, float]:
        near = self._apart.near(word)
        for length in (len(word.sounds) - 1, len(word.sounds), len(word.sounds) + 1):
            if length in self._together:
                for at, likeness in self._together[length].near(word).items():
                    near[at] = max(likeness, near.get(at, 0.0))
        return near


def _length(reading: list[Word]) -> int:
    return sum(len(word.sounds) for word in reading) or 1


def _likeness(word: Word, known: Word, alike: float, spelt: dict[str, int]) -> float:
    if word.spelt == known.spelt:
        return 1.0
    if word.is_bare or known.is_bare:
        # Where vowels are not written, the sounds say all; an equal spelling comes before them.
        return alike * 0.97
    alike_spelt = _ratio(spelt, len(word.spelt), known.spelt)
    return (1 - SPELLING) * alike + SPELLING * alike_spelt


def _join(parts: list[Word]) -> Word:
    spelt = "".join(word.spelt for word in parts)
    is_bare = any(word.is_bare for word in parts)
    return Word(spelt, sounds(spelt, is_bare=is_bare), is_bare)


def _joined(reading: list[Word]) -> list[Word]:
    """What neighbours are written together, and the whole."""
    pairs = [_join(reading[at : at + 2]) for at in range(len(reading) - 1)]
    return [*pairs, _join(reading)] if len(reading) > 2 else pairs


def _partings(reading: list[Word]) -> list[list[Word]]:
    """The words as typed, with one pair written together, and all together."""
    pairs = [
        [*reading[:at], _join(reading[at : at + 2]), *reading[at + 2 :]]
        for at in range(len(reading) - 1)
    ]
    return [reading, *pairs, *([[_join(reading)]] if len(reading) > 2 else [])]
