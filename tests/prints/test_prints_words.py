"""The filters of the prints room say where a print is."""

from datetime import date
from pathlib import Path
from uuid import UUID

import pytest

from relations.prints.models import Print, Step
from relations.prints.templatetags import prints_words as said
from relations.privacy.home import Home, Travelling


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (
            said.way_said(Print(state="handed_on", state_on=date(2026, 11, 2))),
            "Handed on through somebody on 2 November 2026; no word from them yet.",
        ),
        (
            said.step_said(Step(became="collected", on=date(2026, 10, 9))),
            "Collected",
        ),
        (said.hint("not_home"), "Ask them for a better way, not the neighbours."),
        (said.hint("ordered"), ""),
        (said.step_press("in_hand"), "In hand"),
        (said.why_not("two_tries"), "Nobody was home twice. Ask the sitter for a better way."),
        (said.promised("sum"), "a sum"),
        (said.instruction(Print()), "Not at the lab. Keep it for them."),
        (
            said.instruction(Print(is_safe=True)),
            "Not at the lab. Bring it only as was agreed: it stands on its own page.",
        ),
        (said.aloud("ACDEFX"), "ACD EFX"),
        (said.needs_slips(Print(state="checked")), "True"),
        (said.needs_slips(Print(state="checked", not_at_the_lab=True)), "False"),
        (said.needs_slips(Print(state="owed")), "False"),
        (said.print_stamp("in_hand")["word"], "in hand"),
        (said.print_stamp("posted")["mark"], ""),
    ],
)
def test_filter_says_it_in_words(found, words):
    assert str(found) == words


def test_travelling_set_says_no_day_for_it_holds_none(monkeypatch):
    found = Home(Path("/nowhere"), False, Travelling("T7", date(2999, 12, 13), UUID(int=7)))
    monkeypatch.setattr(said, "home", lambda: found)
    row = Print(state="nothing_to_print", state_on=date(2026, 11, 2))
    assert said.way_said(row) == "Nothing to print."
