"""What the pages show of a stack that was sent, and of the tray."""

from typing import Any

from django.db.models import Count

from relations.documents.models import Page, Upload
from relations.documents.sorting import Place, Why
from relations.privacy.models import User

from . import access, coming_home

# Parts of the tray, in the order in which they ask for somebody's eyes.
PARTS: dict[str, tuple[str, ...]] = {
    "whose": (Why.WHOSE,),
    "sheets": (Why.TAKEN_BACK, Why.OTHER_SHEET),
    "two": (Why.TWO_SCANS, Why.ANOTHER_SCAN),
    "form": (Why.NOT_EXPECTED, Why.ALREADY_FILED, Why.UNKNOWN, Why.BESIDE),
    "read": (Why.TORN, Why.NO_CODE, Why.TWO_PAPERS, Why.FOREIGN),
    "blank": (Why.BLANK,),
}
LATEST = 10


def before(user: User) -> dict[str, Any]:
    """Stacks sent before: those not placed yet, the last that were, and how much the tray holds."""
    uploads = access.uploads(user)
    return {
        "open": uploads.filter(ended_at=None),
        "done": uploads.exclude(ended_at=None)[:LATEST],
        "waiting": access.waiting(user).count(),
    }


def of(user: User, upload: Upload) -> dict[str, Any]:
    """One stack: how far it is, its papers, its pages that wait, and what was not taken."""
    pages = access.pages(user).filter(upload=upload)
    counts = dict(pages.order_by().values_list("place").annotate(Count("pk")))
    return {
        "upload": upload,
        "papers": coming_home.came(upload),
        "counts": counts,
        "waiting": pages.filter(place=Place.WAITING),
        "twice": pages.filter(place=Place.TWICE),
    }


def tray(user: User) -> dict[str, Any]:
    """The pages that wait, part by part, and those set aside."""
    pages = list(access.waiting(user))
    parts = {part: [page for page in pages if page.why in whys] for part, whys in PARTS.items()}
    forms: dict[str, list[Page]] = {}
    for page in parts["whose"]:
        forms.setdefault(page.sheet.serial if page.sheet else "", []).append(page)
    aside = access.pages(user).filter(place=Place.ASIDE)
    return {**parts, "forms": forms, "aside": aside, "count": len(pages)}
