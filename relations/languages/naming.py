"""Letters of a name as people count them, and initials in every script."""

import unicodedata
from collections.abc import Iterator

ZWJ, ZWNJ = "\u200d", "\u200c"
# A sign that joins two consonants into one letter group (Unicode: Indic_Syllabic_Category=Virama of
# the scripts whose groups GB9c keeps together).
VIRAMAS = frozenset("\u094d\u09cd\u0acd\u0b4d\u0c4d\u0d4d")
# Vowels written before the consonant after which they are said: alone they are no initial.
VOWELS_BEFORE = frozenset("เแโใไເແໂໃໄ")
# Words of a name that nobody is known by. From memory, common practice; no source.
_PARTICLES = """
    abu af al as ash at az bin bint da das de del della den der di do dos du e el ibn la las le les
    los of san ter van von y zu أبو آل ابن بن بنت
"""
PARTICLES = frozenset(_PARTICLES.split())
ARTICLE = "ال"
DOTTED = "."
MOST = 3


def _joins(before: str, sign: str) -> bool:
    """Whether a sign belongs to the letter before it."""
    if unicodedata.category(sign) in ("Mn", "Me", "Mc") or sign in (ZWJ, ZWNJ):
        return True
    if before[-1] == ZWJ and not before[0].isalpha():
        return True  # one picture of several
    bare = before.rstrip(ZWJ)
    if bare[-1] in VIRAMAS and unicodedata.category(sign) == "Lo":
        return unicodedata.name(sign, "").split()[0] == unicodedata.name(bare[-1], "").split()[0]
    return _hangul(before[-1]) in _BEFORE.get(_hangul(sign), ())


# Which part of a Korean syllable may follow which (UAX 29, GB6 to GB8).
_BEFORE = {"L": ("L",), "V": ("L", "V", "LV"), "T": ("V", "T", "LV", "LVT"), "S": ("L",)}


def _hangul(sign: str) -> str:
    point = ord(sign)
    if 0xAC00 <= point <= 0xD7A3:
        return "LV" if (point - 0xAC00) % 28 == 0 else "LVT"
    if 0x1100 <= point <= 0x11FF:
        return "L" if point < 0x1160 else "V" if point < 0x11A8 else "T"
    return ""


def letters(text: str) -> list[str]:
    """The text letter by letter as a reader sees them: क्षि is one, é is one, however written.

    Extended grapheme clusters of UAX 29 for what stands in names: combining marks, joiners, the
    consonants that a virama binds (GB9c), Korean syllables from their parts (GB6 to GB8). Signs
    of several pictures and flags are kept whole only where joiners bind them.
    """
    found: list[str] = []
    for sign in text:
        if found and not sign.isspace() and _joins(found[-1], sign):
            found[-1] += sign
        else:
            found.append(sign)
    return found


def _words(name: str) -> Iterator[str]:
    for word in name.replace("-", " ").replace("\u2010", " ").split():
        bare = word.strip(".,()«»“”'’ʻ")
        if bare and bare.casefold() not in PARTICLES:
            yield bare


def _initial(word: str) -> str:
    """The first letter of one word, as a capital where its script has them in names."""
    if word.startswith(ARTICLE) and len(letters(word)) > 3:
        word = word[len(ARTICLE) :]
    for particle in ("d'", "d’", "l'", "l’"):
        if word.casefold().startswith(particle) and len(word) > 2:
            word = word[len(particle) :]
    first = letters(word)
    whole = "".join(first[:2]) if first[0] in VOWELS_BEFORE else first[0]
    # Title case: capitals of Georgian are for headlines only, and ǆ begins a name as ǅ.
    return whole.title() if len(whole) == 1 else whole[0].title() + whole[1:]


def initials(name: str) -> str:
    """The initials of a name in its own script: "Anita de la Cruz" gives "A.C.".

    One letter as people count them for each word, MOST words at most, particles and the Arabic
    article left out; each is followed by a dot, which also keeps Arabic letters from joining.
    A name without spaces in a script that needs none gives its first sign. "" for no letter.
    """
    found = [_initial(word) for word in _words(name) if any(map(str.isalpha, word))]
    if len(found) > MOST:
        found = [*found[: MOST - 1], found[-1]]
    return "".join(f"{one}{DOTTED}" for one in found)
