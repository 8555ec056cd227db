"""Codes of people: four letters drawn at random and one that finds slips of the hand.

Random, never derived from a name or a number: a derived code can be tried out (languages.md 5).
Codes of pictures and prints are free text and are not read here.
"""

from collections.abc import Container
from random import Random

# A prime number of characters is what makes every swap and twin error show. What looks alike
# (0 O Q, 1 I L, 2 Z, 5 S, 8 B, U) is left out, so that it can be named when typed.
ALPHABET = "34679ACDEFGHJKMNPRTVWXY"
WEIGHT = 5
LENGTH = 5
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
    distance and twin error found, tried on all 279,841 codes).
    """
    return ALPHABET[-_total(body + ALPHABET[0]) % len(ALPHABET)]


def tidy(text: str) -> str:
    """Give a typed code in capitals without spaces and hyphens."""
    return "".join(text.split()).replace("-", "").upper()


def problem(code: str) -> str:
    """Say what is wrong with a typed code: "" nothing, "shape", "letter" or "mistyped".

    "shape": not five characters; "letter": one that no code holds; "mistyped": the check
    character does not fit, so one or two characters are wrong. Never "not found".
    """
    typed = tidy(code)
    if len(typed) != LENGTH:
        return "shape"
    if any(character not in ALPHABET for character in typed):
        return "letter"
    return "mistyped" if _total(typed) else ""


def is_well_formed(code: str) -> bool:
    """Say whether `code`, as typed, is five characters of ours whose check character fits."""
    return not problem(code)


def new_code(taken: Container[str], random: Random) -> str:
    """Draw a code that is not in `taken`; `random` is secrets.SystemRandom() outside tests.

    Raises NoCodeLeftError after a thousand draws. There are 279,841 codes; with 2,000 in use
    one draw in 140 meets a taken one.
    """
    for _ in range(DRAWS):
        body = "".join(random.choice(ALPHABET) for _ in range(LENGTH - 1))
        code = body + check_character(body)
        if code not in taken:
            return code
    raise NoCodeLeftError
