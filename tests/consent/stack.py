"""Stacks of papers for the tests of coming home: forms of the desk as a scanner sends them."""

from typing import Any

import numpy as np

from relations.consent import coming_home
from relations.documents.models import Page, Upload
from relations.privacy.keys import keyring
from tests import cast
from tests.consent import desk
from tests.documents import scanner

NUMBER, OTHER = 70_042, 70_043


def sides(number: int, *pages: int, turned: int = 0, kind: str = "F") -> list[np.ndarray]:
    """Sides of a form of this site, under the key that this home has now."""
    seen = scanner.sides(number, *pages, key=keyring.subkey("mark"), kind=kind)
    return [np.rot90(grey, turned // 90) for grey in seen]


def sent(*pictures: np.ndarray, files: Any = None) -> Upload:
    """A scanner's PDF of these pages, received and nothing more."""
    content = files or [scanner.pdf(pictures, 150)]
    return coming_home.receive(files=content, by=cast.assistant(), at=desk.AT)


def step(upload: Upload) -> Upload:
    """One press of "go on"."""
    seen = coming_home.look_on(upload)
    return coming_home.go_on(upload=upload, seen=seen, by=cast.assistant(), at=desk.AT)


def brought(*pictures: np.ndarray, files: Any = None) -> Upload:
    """The same, done to its end."""
    upload = sent(*pictures, files=files)
    for _ in range(30):
        if upload.ended_at is not None:
            return upload
        upload = step(upload)
    raise AssertionError("a stack must come to its end")


def waits() -> int:
    """How many pages wait in the tray."""
    return Page.objects.filter(place="waiting").count()
