"""One-time codes: those a device shows for half a minute, and those that stand on paper."""

import hmac
import secrets
import unicodedata
from base64 import b32decode, b32encode
from urllib.parse import quote, urlencode

STEP_SECONDS = 30
DIGITS = 6
SECRET_BYTES = 20  # as long as the hash, RFC 4226 section 4, R6
DRIFT = 1  # steps that a device's clock may be early or late
# No I, L, O or U: a paper code is read from handwriting.
SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
PAPER_CODES = 10
PAPER_SIGNS = 12  # the first is the number of the code; eleven random ones are 55 bits


def new_secret() -> str:
    """160 random bits in base 32, as a device takes them."""
    return b32encode(secrets.token_bytes(SECRET_BYTES)).decode()


def hotp(secret: str, counter: int, digits: int = DIGITS) -> str:
    """The code of `digits` figures for a counter (RFC 4226, HMAC-SHA-1). `secret` is base 32."""
    mac = hmac.digest(b32decode(secret), counter.to_bytes(8, "big"), "sha1")
    start = mac[-1] & 0xF
    number = int.from_bytes(mac[start : start + 4], "big") & 0x7FFFFFFF
    return f"{number % 10**digits:0{digits}}"


def step_at(seconds: float) -> int:
    """The number of the half minute, `seconds` after the beginning of 1970 (RFC 6238)."""
    return int(seconds) // STEP_SECONDS


def accepted_step(secret: str, said: str, seconds: float, used: int) -> int | None:
    """The step whose code was said; None where it fits none, or none after the step `used`.

    One step early or late is taken (RFC 6238 section 5.2). The caller keeps what is given back as
    `used`, so that no code, nor an older one, is taken twice.
    """
    typed, now = figures(said), step_at(seconds)
    found = None
    for step in range(max(now - DRIFT, 0), now + DRIFT + 1):
        # Each is compared, so that time does not tell which one it was.
        if hmac.compare_digest(typed.encode(), hotp(secret, step).encode()) and step > used:
            found = step
    return found


def figures(said: str) -> str:
    """The figures of what was typed, whatever script they are in; all else left out."""
    return "".join(str(unicodedata.decimal(sign)) for sign in said if sign.isdecimal())


def in_groups(text: str, size: int = 4) -> str:
    """Text in groups that a person can copy by hand."""
    return " ".join(text[start : start + size] for start in range(0, len(text), size))


def device_address(secret: str, username: str) -> str:
    """What the square code says to a device: the common `otpauth:` form (de facto, no RFC)."""
    asked = urlencode({"secret": secret, "issuer": "Portraits"})
    return f"otpauth://totp/{quote('Portraits:' + username)}?{asked}"


def new_paper_codes() -> list[str]:
    """Ten codes for paper; each begins with its number, by which its hash is found."""
    rest = range(PAPER_SIGNS - 1)
    return [str(n) + "".join(secrets.choice(SIGNS) for _ in rest) for n in range(PAPER_CODES)]


def paper_text(said: str) -> str:
    """A paper code as it was made, however it was typed: letters alike, spaces and lines gone."""
    plain = unicodedata.normalize("NFKC", said).upper().translate(str.maketrans("OIL", "011"))
    return "".join(sign for sign in plain if sign in SIGNS)


def paper_number(said: str) -> int | None:
    """The number of the paper code that was typed; None where it cannot be one."""
    text = paper_text(said)
    return int(text[0]) if len(text) == PAPER_SIGNS and text[0].isdigit() else None
