"""A name in any script, in Latin letters as people spell them: to find it, not to print it."""

import re
import unicodedata
from collections.abc import Callable

from . import letters
from .sorting import fold

# Scripts whose letters Unicode names by their sound, each consonant with an "a" of its own.
KIN_OF_BRAHMI = frozenset(
    {
        *("DEVANAGARI", "BENGALI", "GURMUKHI", "GUJARATI", "ORIYA", "TAMIL", "TELUGU", "KANNADA"),
        *("MALAYALAM", "SINHALA", "MYANMAR", "KHMER"),
    }
)
# Blanks and lines, the tsheg of Tibetan, and the dots between names.
_BETWEEN = re.compile("[\\s\u0f0b\u0f0c\u2010-\u2015.,\u00b7\u30fb/()-]+")
ETHIOPIC_VOWEL = re.compile(r"(WAA|WA|AA|EE|A|U|I|E|O)$")
THAI_BEFORE = re.compile("([\u0e40-\u0e44\u0ec0-\u0ec4])([\u0e01-\u0e2e\u0e81-\u0eae])")
THAI_SILENT = re.compile("[\u0e01-\u0e2e][\u0e34-\u0e39]?\u0e4c")
ARTICLE = re.compile(r"^(?:وال|ال|لل)(?=..)")
ARABIC_W = re.compile(r"^و|و(?=[اآیيى])|(?<=ا)و")
SYLLABLES, FIRST_SYLLABLE = 28, 0xAC00


def romanise(text: str, *, otherwise: bool = False) -> str:
    """The words of a name in lower-case Latin letters, parted by one space; "" for no letters.

    By the spellings people choose, not by a standard. Arabic, Persian and Hebrew have few vowels,
    and so has what comes of them; `otherwise`: as their letters may be said too, four Arabic ones
    by speakers of Persian and Urdu, the Hebrew vav as a consonant. A sign that no table knows is
    left out. Source: the names of letters in the Unicode Character Database; tables of `letters`.
    """
    plain = unicodedata.normalize("NFC", text.casefold())
    words = _BETWEEN.split(plain)
    said = [_word(word, otherwise) for word in words if word]
    return " ".join(" ".join(said).split())


def is_bare(text: str) -> bool:
    """Whether a name is in a script that writes few vowels: Arabic or Hebrew."""
    return any("\u0590" <= sign <= "\u06ff" for sign in text)


def _script(sign: str) -> str:
    return unicodedata.name(sign, "").partition(" ")[0]


def _word(word: str, otherwise: bool) -> str:
    if word.isascii():
        return fold(word)
    script = next((found for sign in word if (found := _script(sign)) in READERS | BARE), "")
    if not script:
        return _brahmic(word) if _script(word[0]) in KIN_OF_BRAHMI else fold(word)
    return BARE[script](word, otherwise) if script in BARE else READERS[script](word)


def _by(table: dict[str, str]) -> Callable[[str], str]:
    def read(word: str) -> str:
        # Accents part from their letters, but й, ё and ї are letters of their own.
        whole = "".join(
            sign if sign in table else unicodedata.normalize("NFD", sign) for sign in word
        )
        return "".join(table.get(sign, "") if not sign.isascii() else sign for sign in whole)

    return read


def _greek(word: str) -> str:
    said = _by(letters.GREEK)(word)
    for digraph, sound in (("oy", "ou"), ("mp", "b"), ("nt", "d"), ("gk", "g"), ("ay", "av")):
        said = said.replace(digraph, sound)
    return said


def _arabic(word: str, otherwise: bool) -> str:
    signs = "".join(
        sign for sign in unicodedata.normalize("NFKC", word) if not unicodedata.combining(sign)
    )
    bare = ARABIC_W.sub("ڤ", ARTICLE.sub("", signs.replace("\u0640", "")))
    if bare[:1] == "ی" or bare[:1] == "ي":
        bare = "y" + bare[1:]
    inside = bare[:1] + bare[1:].replace("ع", "")
    table = {**letters.ARABIC, **letters.PERSIAN} if otherwise else letters.ARABIC
    return "".join(table.get(sign, sign if sign == "y" else "") for sign in inside)


def _hangul(word: str) -> str:
    said = [_syllable(sign) for sign in word if _script(sign) == "HANGUL"]
    if not 1 <= len(said) <= 4:
        return "".join(said)
    # A family's name is one syllable, and is mostly written together with the given one.
    return f"{letters.FAMILIES.get(said[0], said[0])} {''.join(said[1:])}"


def _syllable(sign: str) -> str:
    point = ord(sign) - FIRST_SYLLABLE
    if not 0 <= point < len(letters.BEGINNINGS) * len(letters.VOWELS) * SYLLABLES:
        return ""
    rest, ending = divmod(point, SYLLABLES)
    beginning, vowel = divmod(rest, len(letters.VOWELS))
    return letters.BEGINNINGS[beginning] + letters.VOWELS[vowel] + letters.ENDINGS[ending]


def _han(word: str) -> str:
    said = [letters.han().get(sign, "") for sign in word]
    return f"{said[0]} {''.join(said[1:])}"


def _kana(word: str) -> str:
    return "".join(unicodedata.name(sign, "").rpartition(" ")[2].lower() for sign in word)


def _ethiopic(word: str) -> str:
    return "".join(
        _ethiopic_syllable(name.removeprefix("ETHIOPIC SYLLABLE "))
        for sign in word
        if (name := unicodedata.name(sign, "")).startswith("ETHIOPIC SYLLABLE ")
    )


def _ethiopic_syllable(name: str) -> str:
    vowel = ETHIOPIC_VOWEL.search(name)
    order = vowel[0] if vowel else ""
    sound = name.removesuffix(order)
    sound = letters.ETHIOPIC_SOUNDS.get(sound, sound.lower())
    first = "e" if sound else "a"
    said = {"A": first, "AA": "a", "EE": "e", "E": "" if sound else "e", "WA": "wa", "WAA": "wa"}
    return sound + said.get(order, order.lower())


def _thai(word: str) -> str:
    turned = THAI_BEFORE.sub(r"\2\1", THAI_SILENT.sub("", word)).replace("รร", "ั")
    return "".join(_thai_sign(sign) for sign in turned)


def _thai_sign(sign: str) -> str:
    kind, _, rest = unicodedata.name(sign, "").partition(" ")[2].partition(" ")
    if kind == "VOWEL":  # of Lao
        said = rest.removeprefix("SIGN ")
        return letters.VOWEL_SOUNDS.get(said, said.lower()[:2])
    name = rest.split()[0] if kind in {"CHARACTER", "LETTER"} else ""
    if name == "SARA":
        said = rest.split()[1]
        return {"AA": "a", "II": "ee", "UU": "u", "UEE": "ue", "AM": "am"}.get(said, said.lower())
    if sign == "จ":
        return "j"
    if name == "O":
        return ""
    return "a" if sign == "ั" else name.lower().removesuffix("o") if name.endswith("O") else ""


def _hebrew(word: str, otherwise: bool) -> str:
    return _by(letters.HEBREW)(word.replace("ו", "ב") if otherwise else word)


# Scripts that write few vowels, and how a letter is said is not sure.
BARE: dict[str, Callable[[str, bool], str]] = {"ARABIC": _arabic, "HEBREW": _hebrew}


def _tibetan(syllable: str) -> str:
    """One syllable as it is said in Lhasa, near enough: what is written and silent is left out."""
    stacks: list[list[str]] = []
    vowels: list[str] = []
    for sign in syllable:
        kind, sound = _SIGNS[sign]
        if kind in {"letter", "own"}:
            stacks.append([sound if kind == "letter" else ""])
            vowels.append("")
        elif stacks and kind == "subjoined":
            stacks[-1].append(sound)
        elif stacks and kind == "vowel":
            vowels[-1] = sound
    if not stacks:
        return ""
    root = _tibetan_root(stacks, vowels)
    after = stacks[root + 1][0] if root + 1 < len(stacks) else ""
    ending = letters.TIBETAN_ENDINGS.get(after, after)
    return _tibetan_stack(stacks[root]) + (vowels[root] or "a") + ending


def _tibetan_root(stacks: list[list[str]], vowels: list[str]) -> int:
    """Which stack is said: the one with a vowel, else with letters below, else by its place."""
    for marked in (vowels, [stack[1:] for stack in stacks]):
        found = next((at for at, mark in enumerate(marked) if mark), None)
        if found is not None:
            return found
    return int(len(stacks) > 2 and stacks[0][0] in letters.TIBETAN_SILENT)


def _tibetan_stack(stack: list[str]) -> str:
    if len(stack) > 1 and stack[0] in {"r", "l", "s"} and stack[1] not in {"r", "l", "y", "w"}:
        stack = stack[1:]
    base, below = stack[0], stack[1:]
    if "l" in below:
        return "l"
    if "r" in below:
        return letters.TIBETAN_WITH_R.get(base, base)
    return letters.TIBETAN_WITH_Y.get(base, base + "y") if "y" in below else base


READERS: dict[str, Callable[[str], str]] = {
    "CYRILLIC": _by(letters.CYRILLIC),
    "GREEK": _greek,
    "GEORGIAN": _by(letters.GEORGIAN),
    "ARMENIAN": _by(letters.ARMENIAN),
    "HANGUL": _hangul,
    "CJK": _han,
    "HIRAGANA": _kana,
    "KATAKANA": _kana,
    "ETHIOPIC": _ethiopic,
    "THAI": _thai,
    "LAO": _thai,
    "TIBETAN": _tibetan,
}


class _Signs(dict[str, tuple[str, str]]):
    """The kind (as letter, vowel, kill) and sound of each sign, when it is first met."""

    def __missing__(self, sign: str) -> tuple[str, str]:
        script, _, name = unicodedata.name(sign, "").partition(" ")
        self[sign] = found = _named(script, name)
        return found


def _named(script: str, name: str) -> tuple[str, str]:
    if name.endswith(("SIGN VIRAMA", "SIGN ASAT", "SIGN COENG", "AL-LAKUNA")):
        return "kill", ""
    if name.endswith("SIGN NUKTA"):
        return "dot", ""
    if name.endswith(("ANUSVARA", "CANDRABINDU", "BINDI", "TIPPI", "NIKAHIT")):
        return "sign", "n"
    if " MEDIAL " in name:
        return "medial", {"RA": "y", "YA": "y", "WA": "w"}.get(name.rpartition(" ")[2], "")
    vowel = re.search(r"VOWEL SIGN (.+)$", name)
    if vowel:
        return "vowel", letters.VOWEL_SOUNDS.get(vowel[1], vowel[1].lower()[:2])
    letter = re.search(r"(?:SUBJOINED )?LETTER (.+)$", name)
    if not letter:
        return "nothing", ""
    said = letter[1]
    if said in letters.VOWEL_SOUNDS or said in {"A", "I", "U", "E", "O", "AI", "AU"}:
        return "own", letters.VOWEL_SOUNDS.get(said, said.lower())
    sound = said.removesuffix("A")
    own = letters.MYANMAR_SOUNDS if script == "MYANMAR" else letters.SOUNDS
    return ("subjoined" if "SUBJOINED" in name else "letter"), own.get(sound, sound.lower())


_SIGNS = _Signs()


def _brahmic(word: str) -> str:
    """Consonants with their vowels; an "a" at the end of a word is not said after one consonant."""
    said: list[str] = []
    is_open = was_killed = False  # whether the last consonant still has its own "a"
    tamil = _script(word[0]) == "TAMIL"
    for sign in word:
        kind, sound = _SIGNS[sign]
        if kind in {"letter", "own", "sign", "subjoined", "medial"} and is_open:
            said += ["a"] if kind not in {"subjoined", "medial"} else []
        if kind == "letter" and tamil:
            sound = _tamil(sound, said, is_after_vowel=not was_killed)
        if kind == "vowel" and not is_open and said and said[-1] in {"a", "e"}:
            said[-1] = "au" if said[-1] == "e" else ""  # ေ and ာ together; အ only carries
        if kind == "dot" and said:
            said[-1] = letters.WITH_DOT.get(said[-1], said[-1])
            continue
        was_killed = kind == "kill"
        is_open = kind in {"letter", "subjoined", "medial"}
        if sound and not (kind == "vowel" and said and said[-1] == "au"):
            said.append(sound)
    return _ended(said, is_open=is_open, has_cluster=_ends_in_cluster(word)).replace("jny", "gy")


def _tamil(sound: str, said: list[str], *, is_after_vowel: bool) -> str:
    if sound == "ch" and not said:
        return "s"
    return letters.TAMIL_VOICED.get(sound, sound) if said and is_after_vowel else sound


def _ends_in_cluster(word: str) -> bool:
    return len(word) > 2 and _SIGNS[word[-2]][0] == "kill"


def _ended(said: list[str], *, is_open: bool, has_cluster: bool) -> str:
    return "".join(said) + ("a" if is_open and has_cluster else "")
