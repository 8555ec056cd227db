"""The invented scenario's pictures and plans, in the register; and what is shown of them."""

import json
from datetime import date
from pathlib import Path
from typing import Any

from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.models import User
from relations.uses import actions
from relations.uses.models import PlannedUse, Shown
from tests.consent.register import Register, user

CASES = Path(__file__).parent.parent / "cases"
DEMO = json.loads((CASES / "demo.json").read_text(encoding="utf-8"))
TODAY = date(2026, 11, 23)


def few(*codes: str) -> Register:
    """Some pictures of the scenario with everybody in them; quicker than the whole."""
    shown = [one for one in DEMO["pictures"] if one["id"] in codes]
    within = {sitter["code"] for one in shown for sitter in one["sitters"]}
    register = Register(artist())
    register.enter([one for one in DEMO["people"] if one["code"] in within], shown)
    return register


def artist() -> User:
    """The one who plans."""
    return User.objects.filter(role="artist").first() or user()


def demo() -> Register:
    """Everybody of the scenario with their forms, and the 33 pictures."""
    register = Register(artist())
    register.enter(DEMO["people"], DEMO["pictures"])
    return register


def pictures(*codes: str) -> list[Picture]:
    """Pictures by code, all of them without one."""
    found = Picture.objects.all()
    return list(found.filter(code__in=codes) if codes else found)


def plan(key: str, *codes: str, **other: Any) -> PlannedUse:
    """A plan of the scenario with pictures asked for, everybody named as their newest form asks."""
    said = DEMO["planned_uses"][key]
    made = actions.plan(
        code=key,
        use=said["use"],
        starts_on=date.fromisoformat(said["starts_on"]),
        ends_on=date.fromisoformat(said["ends_on"]) if said["ends_on"] else None,
        countries=None if said["countries"] == "world" else said["countries"],
        by=artist(),
        **other,
    )
    actions.ask_for(plan=made, pictures=pictures(*codes), by=artist())
    named = {one["code"]: one["forms"][-1]["name_form"] for one in DEMO["people"] if one["forms"]}
    for person in Participant.objects.filter(code__in=named):
        actions.name_shown(plan=made, person=person, name_form=named[person.code], by=artist())
    return made


def shown(code: str, use: str, *codes: str, **other: Any) -> Shown:
    """A line of the use register."""
    return actions.show(
        **{
            "code": code,
            "use": use,
            "pictures": pictures(*codes),
            "place": "union hall",
            "holder": "the hall’s keeper",
            "starts_on": date(2026, 10, 1),
            "by": artist(),
            **other,
        }
    )


def comparable(found: dict[str, Any]) -> dict[str, Any]:
    """An answer as the scenario's expected ones are compared: reasons are a set."""
    return {
        **found,
        "stops": sorted((one["about"], one["code"]) for one in found["stops"]),
        "conditions": sorted((one["about"], one["code"]) for one in found["conditions"]),
    }
