"""Many names looked for in many texts at once: folded once, and found however they are spelt."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Generic, TypeVar

from .sorting import fold, is_spaced

Key = TypeVar("Key")

# In the name of a file a name may stand without spaces; shorter ones stand in other words too.
SHORTEST_JOINED = 5


def parted(text: str) -> str:
    """The name of a file with a space wherever a capital follows a small letter, or a digit begins
    or ends: HouriaB04.jpg as Houria B 04.jpg."""
    signs: list[str] = []
    for before, sign in zip(" " + text, text, strict=False):
        turns = before.islower() and sign.isupper()
        counts = (before.isalpha() and sign.isdigit()) or (before.isdigit() and sign.isalpha())
        signs.append(f" {sign}" if turns or counts else sign)
    return "".join(signs)


class Names(Generic[Key]):
    """Names by whose they are, ready to be found in any number of texts.

    A name is found where `sorting.contains_folded` finds it. Looking costs by the words of a text,
    not by the number of names in Latin, Greek or Cyrillic letters.
    """

    def __init__(self, names: Iterable[tuple[Key, str]]) -> None:
        self._by_word: dict[str, list[tuple[str, Key]]] = defaultdict(list)
        self._anywhere: list[tuple[str, Key]] = []
        self._joined: list[tuple[str, Key]] = []
        for key, name in names:
            folded = fold(name)
            if is_spaced(folded):
                self._by_word[folded.split()[0]].append((folded, key))
                self._joined.append((folded.replace(" ", ""), key))
            elif folded:
                self._anywhere.append((folded, key))

    def found(self, text: str) -> list[Key]:
        """Whose names stand in a text, each once."""
        return self._found(fold(text))

    def found_in_file(self, name: str) -> list[Key]:
        """Whose names stand in the name of a file, also where words are written together.

        Stricter than `found`: a Latin, Greek or Cyrillic name of five letters or more counts
        within other letters too, since a file is called anew at no cost.
        """
        together = fold(name).replace(" ", "")
        inside = [
            key
            for joined, key in self._joined
            if len(joined) >= SHORTEST_JOINED and joined in together
        ]
        return list(dict.fromkeys((*self.found(name), *self.found(parted(name)), *inside)))

    def _found(self, text: str) -> list[Key]:
        padded = f" {text} "
        words = dict.fromkeys(text.split())
        near = [one for word in words for one in self._by_word.get(word, ())]
        keys = [key for name, key in near if f" {name} " in padded]
        keys += [key for name, key in self._anywhere if name in text]
        return list(dict.fromkeys(keys))


# A name by the sign that stands for it and the name itself.
Signed = tuple[str, str]


def without(text: str, known: Names[Signed], rest: str = "") -> str:
    """A text with a sign in the place of each name; only `rest` where one would still be seen.

    So that of a name which stands there in another spelling nothing is read.
    """
    for sign, name in known.found(text):
        text = text.replace(name, sign)
    return rest if known.found(text) else text
