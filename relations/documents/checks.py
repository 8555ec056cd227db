"""What is said at start-up about a machine on which papers would come out slowly or not at all.

Cautions, not errors: a site that cannot print must still hear a Stop.
"""

import ctypes
from importlib.util import find_spec
from typing import Any

from django.core.checks import CheckMessage
from django.core.checks import Warning as Caution

from . import fonts

# Without it papers take five times as long (measured: 250 against 1,201 ms) and nothing else says.
SUBSETTER = ("libharfbuzz-subset.so.0", "libharfbuzz-subset.0.dylib")
DEBIAN = "libharfbuzz-subset0"


def _loads(library: str) -> bool:
    try:
        return bool(ctypes.CDLL(library))
    except OSError:
        return False


def subsetter(*_: object, **__: Any) -> list[CheckMessage]:
    """Name the library that makes fonts small, where it is missing."""
    if any(map(_loads, SUBSETTER)):
        return []
    return [
        Caution(
            f"{SUBSETTER[0]} is missing: each paper takes about five times as long.",
            hint=f"Install the Debian package {DEBIAN}.",
            id="documents.W001",
        )
    ]


def letters(*_: object, **__: Any) -> list[CheckMessage]:
    """Name each package of fonts that is missing or empty; without it no paper is made."""
    return [
        Caution(
            f"The fonts of {package} are missing: no paper can be printed.",
            hint="Install what requirements.txt names.",
            id="documents.W002",
        )
        for package in fonts.PACKAGES
        if find_spec(package) is None or not any(fonts.folder_of(package).glob("*.ttf"))
    ]
