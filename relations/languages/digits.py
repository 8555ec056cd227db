"""Digits of every script, read as ASCII and written back for a page in that script."""

import unicodedata

# The zero of each script; the other nine digits follow it (Unicode keeps every Nd run in order).
# Which language uses which digits: CLDR's default numbering systems, as Babel 2.18 gives them.
ARABIC, PERSIAN, DEVANAGARI, BENGALI = "\u0660", "\u06f0", "\u0966", "\u09e6"
ZEROS = {
    "ar": ARABIC,
    "as": BENGALI,
    "bn": BENGALI,
    "ckb": ARABIC,
    "dz": "\u0f20",
    "fa": PERSIAN,
    "mr": DEVANAGARI,
    "my": "\u1040",
    "ne": DEVANAGARI,
    "ps": PERSIAN,
}
# Arabic with European digits: the Maghreb, the Emirates, and Arabic of no country.
EUROPEAN = frozenset({"ar", "ar-001", "ar-ae", "ar-dz", "ar-eh", "ar-ly", "ar-ma", "ar-tn"})


def to_ascii(text: str) -> str:
    """Give `text` with every decimal digit of any script (Unicode Nd) as 0-9.

    Numerals that are no decimal digits (Ethiopic, Roman, fractions) stay as they are: they have
    no place value, so turning them into digits would make another number.
    Source: Unicode Character Database, general category Nd.
    """
    if text.isascii():
        return text
    return "".join(
        char if (value := unicodedata.decimal(char, None)) is None else str(value) for char in text
    )


def to_native(text: str, lang: str) -> str:
    """Give `text` with 0-9 in the digits that readers of `lang` (BCP 47) are used to.

    Languages without digits of their own get the text back. Only for our own days and counts:
    never for phones, codes, money or e-mail addresses, which stay ASCII (languages.md 2.1, 3).
    """
    tag = lang.lower().replace("_", "-")
    return text if tag in EUROPEAN else to_script(text, tag)


def to_script(text: str, lang: str) -> str:
    """Give `text` with 0-9 in the digits of the script of `lang`, whatever its country's habit.

    For counts that stand in two scripts beside each other on paper: page ١ of ٢ beside 1 of 2.
    The same numbers stay ASCII as with `to_native`.
    """
    zero = ZEROS.get(lang.lower().replace("_", "-").partition("-")[0])
    if zero is None:
        return text
    return text.translate({ord("0") + step: chr(ord(zero) + step) for step in range(10)})
