"""Codes of people and of prints: letters drawn at random and one that finds slips of the hand.

Random, never derived from a name or a number: a derived code can be tried out (languages.md 5).
A person's has five characters, a print's six, so that neither is taken for the other. Codes of
pictures are free text and are not read here.
"""

from collections.abc import Container
from random import Random

# A prime number of characters is what makes every swap and twin error show. What looks alike
# (0 O Q, 1 I L, 2 Z, 5 S, 8 B, U) is left out, so that it can be named when typed.
ALPHABET = "34679ACDEFGHJKMNPRTVWXY"
WEIGHT = 5
LENGTH, PRINT_LENGTH = 5, 6
DRAWS = 1_000


class NoCodeLeftError(RuntimeError):
    """No free code was met in a thousand draws."""


def _total(characters: str) -> int:
    """Sum value * 5^(places from the end), modulo 23, by Horner's rule."""
    total = 0
    for character in characters:
        total = (total * WEIGHT + ALPHABET.index(character)) % len(ALPHABET)
    return total


def check_character(body: str) -> str:
    """Give the character that makes the weighted sum of `body` and itself 0 modulo 23.

    `body` holds characters of ALPHABET only, else ValueError.
    Source: languages.md 5 (weighted sum, modulus 23, weight 5; every single error, swap at any
    distance and twin error found, tried on all 279,841 codes of five). The powers of 5 go through
    all 22 values before they come back to 1, so that it holds for codes of up to 22 characters.
    """
    return ALPHABET[-_total(body + ALPHABET[0]) % len(ALPHABET)]


def tidy(text: str) -> str:
    """Give a typed code in capitals without spaces and hyphens."""
    return "".join(text.split()).replace("-", "").upper()


def problem(code: str, length: int = LENGTH) -> str:
    """Say what is wrong with a typed code: "" nothing, "shape", "letter" or "mistyped".

    "shape": not `length` characters; "letter": one that no code holds; "mistyped": the check
    character does not fit, so one or two characters are wrong. Never "not found".
    """
    typed = tidy(code)
    if len(typed) != length:
        return "shape"
    if strangers(typed):
        return "letter"
    return "mistyped" if _total(typed) else ""


def strangers(code: str) -> str:
    """Give the characters of a typed code that no code holds, each once, as a look-alike O."""
    return "".join(dict.fromkeys(one for one in tidy(code) if one not in ALPHABET))


def meant(code: str) -> str:
    """Give the one code that is as typed but for one character that no code holds; else "".

    23 is prime, so that exactly one character fits in its place; it is right only if all others
    are, and a person looks again.
    """
    typed = tidy(code)
    places = [place for place, one in enumerate(typed) if one not in ALPHABET]
    if len(places) != 1:
        return ""
    before, after = typed[: places[0]], typed[places[0] + 1 :]
    return next(whole for one in ALPHABET if not _total(whole := before + one + after))


def is_well_formed(code: str, length: int = LENGTH) -> bool:
    """Say whether `code`, as typed, is so many characters of ours whose check character fits."""
    return not problem(code, length)


def grouped(code: str) -> str:
    """Give a print's code as it is read aloud: three characters, a space, three characters."""
    return f"{code[:3]} {code[3:]}".strip()


def new_code(taken: Container[str], random: Random, length: int = LENGTH) -> str:
    """Draw a code that is not in `taken`; `random` is secrets.SystemRandom() outside tests.

    Raises NoCodeLeftError after a thousand draws. There are 279,841 codes of five and 6,436,343
    of six; with 2,000 in use one draw in 140, or in 3,200, meets a taken one.
    """
    for _ in range(DRAWS):
        body = "".join(random.choice(ALPHABET) for _ in range(length - 1))
        code = body + check_character(body)
        if code not in taken:
            return code
    raise NoCodeLeftError
