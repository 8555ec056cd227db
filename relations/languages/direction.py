"""Which way a language runs, and the characters that change it without being seen."""

import unicodedata

RTL_LANGUAGES = frozenset(
    "ar arc arz ckb dv fa he ks lrc mzn nqo ps rhg sd syr ug ur yi".split()  # noqa: SIM905
)
RTL_SCRIPTS = frozenset({"adlm", "arab", "aran", "hebr", "nkoo", "rohg", "syrc", "thaa"})

# Joiners are spelling, not decoration: Nepali and Persian words need them (languages.md 2.2).
JOINERS = frozenset("\u200c\u200d")
# Cf, yet seen: signs written around the digits that follow (Unicode Prepended_Concatenation_Mark).
SEEN_FORMATS = frozenset(
    "\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\U000110bd\U000110cd"
)
HIDDEN_CATEGORIES = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
LINE_CHARACTERS = frozenset("\t\n\r")
# Isolates (UAX 9): what stands between them neither turns its neighbours nor is turned by them.
_ISOLATE = {"ltr": "\u2066", "rtl": "\u2067", "": "\u2068"}
_POP = "\u2069"
_STRONG = frozenset({"L", "R", "AL"})


def direction(lang: str) -> str:
    """Give "rtl" or "ltr" for a BCP 47 tag; a script subtag wins over the language.

    Unknown languages are "ltr". Source: CLDR layout data and ISO 15924, from memory.
    """
    language, *rest = lang.lower().replace("_", "-").split("-")
    scripts = [part for part in rest if len(part) == 4 and part.isalpha()]
    if scripts:
        return "rtl" if scripts[0] in RTL_SCRIPTS else "ltr"
    return "rtl" if language in RTL_LANGUAGES else "ltr"


def is_hidden(char: str) -> bool:
    """Say whether one character is a control, format or direction character nobody sees."""
    if char in JOINERS or char in SEEN_FORMATS:
        return False
    return unicodedata.category(char) in HIDDEN_CATEGORIES


def hidden_characters(text: str, *, lines: bool = False) -> list[str]:
    """List the hidden characters of `text` as "U+202E", each once, in the order met.

    Zero-width joiner and non-joiner are allowed. With `lines`, so are tab and line break (for
    fields of several lines). Source: Unicode categories Cc, Cf, Cs, Zl, Zp; UAX 9.
    """
    found = dict.fromkeys(
        char for char in text if is_hidden(char) and not (lines and char in LINE_CHARACTERS)
    )
    return [f"U+{ord(char):04X}" for char in found]


def runs(text: str) -> str:
    """Give the way a text runs of itself, "rtl" or "ltr": that of its first strong letter.

    What has none (a number, a mark) runs left to right. Source: UAX 9, rules P2 and P3, without
    the letters inside isolates, which hidden_characters keeps out of what is typed.
    """
    strong = (unicodedata.bidirectional(letter) for letter in text)
    return "rtl" if next((kind for kind in strong if kind in _STRONG), "L") != "L" else "ltr"


def isolated(text: str, way: str = "") -> str:
    """Give `text` between marks that keep its direction ("ltr", "rtl", "": its own) to itself."""
    return f"{_ISOLATE[way]}{text}{_POP}"


def strip_marks(text: str, *, lines: bool = False) -> str:
    """Give `text` without its hidden characters; joiners stay.

    Tabs and line breaks become a space, so that two words do not grow together; with `lines`
    they stay too. `hidden_characters` of the answer is always empty.
    """
    kept = []
    for char in text:
        if not is_hidden(char) or (lines and char in LINE_CHARACTERS):
            kept.append(char)
        elif char.isspace():
            kept.append(" ")
    return "".join(kept)
