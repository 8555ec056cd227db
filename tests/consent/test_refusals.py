"""Every code with which the room refuses has its sentence."""

import re
from pathlib import Path

from relations.consent import refusals
from relations.consent.refusals import REFUSALS
from relations.consent.states import Refusal

CONSENT = Path(refusals.__file__).parent


def refused():
    """Every code with which a module of this room refuses, as it is written there."""
    for module in CONSENT.glob("*.py"):
        text = module.read_text(encoding="utf-8")
        yield from re.findall(r'Refused\("([a-z_]+)"\)|codes\.append\("([a-z_]+)"\)', text)
    rules = (CONSENT / "editions.py").read_text(encoding="utf-8")
    yield from re.findall(r'\("([a-z_]+)",\)|^        "([a-z_]+)": ', rules, flags=re.MULTILINE)
    yield from ((code.value, "") for code in Refusal)


def test_every_refusal_has_its_sentence():
    codes = {first or second for first, second in refused()}
    assert len(codes) > 40
    assert codes <= set(REFUSALS)
    filing = {"too_large", "too_many_pixels", "not_a_scan", "broken", "filed_under_another"}
    assert {"editions_differ", "source_moved", "not_your_language"} <= codes
    assert filing | {"shape", "mistyped", "first_unread"} <= set(REFUSALS)
