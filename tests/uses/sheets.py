"""A plan of a few pictures of the scenario, and sheets made of it."""

from typing import Any

from relations.pictures.models import Caption, Picture
from relations.uses import clearing
from relations.uses.models import ClearanceSheet, PlannedUse
from tests import cast
from tests.consent.register import Register
from tests.uses import plans

# 01 and 12 may hang, 03 and 30 wait, 07 may not.
WHO = ("01", "03", "07", "12", "30")
CLEARED = ("K01", "K03", "K12", "K30")


def few() -> PlannedUse:
    """E1 asked for five pictures of five people; each has a caption of its own."""
    register = Register(plans.artist())
    codes = {f"K{code}" for code in WHO}
    register.enter(
        [one for one in plans.DEMO["people"] if one["code"] in WHO],
        [one for one in plans.DEMO["pictures"] if one["id"] in codes],
    )
    for code in codes:
        caption(code, f"By the dry dock, {code}")
    return plans.plan("E1")


def caption(code: str, words: str) -> None:
    """A newer caption under a picture."""
    picture = Picture.objects.get(code=code)
    number = picture.captions.count()
    at = cast.moment(hour=12, minute=number)
    Caption.objects.create(picture=picture, version=f"v{number}", words=words, written_at=at)


def sheet(plan: PlannedUse, *codes: str, **given: Any) -> ClearanceSheet:
    """A sheet of a plan with these pictures, all that are cleared without any."""
    said = {"by": plans.artist(), "at": cast.moment(), "pictures": codes or CLEARED, **given}
    return clearing.make_sheet(plan=plan, **said)
