"""The headers and cookies that every answer carries, whatever it says, written out once more.

Sources: the design of the screens, 5; OWASP ASVS 5.0, 3.3.1 to 3.3.4 and 3.4.1 to 3.4.6 (the
numbers from its published list, their words from memory).
"""

from collections.abc import Iterator, Mapping
from http.cookies import SimpleCookie
from typing import Any

EVERY = {
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; "
        "connect-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; "
        "font-src 'none'; frame-ancestors 'none'; base-uri 'none'; object-src 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
}
OFF = {"camera", "microphone", "geolocation", "display-capture", "usb", "payment"}
YEAR = 365 * 24 * 3600  # seconds
# Cookies that stand in for a person, and a stranger's language; a device's goes to /in/ only.
OURS = {"sessionid": "/", "csrftoken": "/", "language": "/", "device": "/in/"}


def faults(headers: Mapping[str, str], *, is_static: bool = False) -> Iterator[str]:
    """What an answer's headers lack or say otherwise."""
    for name, value in EVERY.items():
        if headers.get(name) != value:
            yield f"{name} is {headers.get(name)!r}"
    permitted = headers.get("Permissions-Policy", "").split(", ")
    if not {f"{name}=()" for name in OFF} <= set(permitted):
        yield f"Permissions-Policy is {headers.get('Permissions-Policy')!r}"
    kept = headers.get("Cache-Control", "")
    if not (is_static or "no-store" in kept):
        yield f"Cache-Control is {kept!r}"


def cookie_faults(cookies: SimpleCookie, *, is_tls: bool = False) -> Iterator[str]:
    """What the cookies that an answer sets lack; a cookie nobody knows is a fault."""
    for name, cookie in cookies.items():
        plain = name.removeprefix("__Host-").removeprefix("__Secure-")
        if plain not in OURS:
            yield f"cookie {name} is in no table"
            continue
        yield from _flags(name, cookie, OURS[plain], is_tls=is_tls)


def _flags(name: str, cookie: Any, path: str, *, is_tls: bool) -> Iterator[str]:
    prefix = ("__Host-" if path == "/" else "__Secure-") if is_tls else ""
    if not name.startswith(prefix):
        yield f"cookie {name} is not a {prefix} one"
    is_emptied = not cookie.value  # it goes: what it may do any more is nothing
    if not (cookie["httponly"] or is_emptied):
        yield f"cookie {name} can be read by a script"
    if cookie["samesite"] != "Strict":
        yield f"cookie {name} is sent from other sites"
    if is_tls and not cookie["secure"]:
        yield f"cookie {name} travels in clear"
    if cookie["path"] != path or cookie["domain"]:
        yield f"cookie {name} goes to {cookie['domain']}{cookie['path']}"
