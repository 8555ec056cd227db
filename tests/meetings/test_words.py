"""What the rules and actions of meetings refuse can be said on a screen."""

import ast
from pathlib import Path

from relations.meetings import words
from relations.people.values import Refusal

ROOM = Path(words.__file__).parent


def refused_in(path: Path) -> set[str]:
    """The codes that a module hands to Refused."""
    return {
        argument.value
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Refused"
        for argument in node.args
        if isinstance(argument, ast.Constant)
    }


def test_every_refusal_of_an_action_has_words() -> None:
    codes = refused_in(ROOM / "actions.py") | refused_in(ROOM / "rings.py")
    assert len(codes) > 10
    assert codes <= set(words.REFUSED)


def test_every_refusal_of_a_move_to_a_meeting_has_words() -> None:
    met = {
        Refusal.NO_SUCH_MOVE, Refusal.LANGUAGE_NOT_SETTLED, Refusal.HOURS_NOT_SETTLED,
        Refusal.REST_NOT_OVER, Refusal.STILL_THINKING, Refusal.TOO_FEW_TRIES,
        Refusal.SOMEBODY_WITH_POWER, Refusal.NOT_TOLD_BACK,
    }  # fmt: skip
    of_meetings = {"place", "exit_signal", "too_early", "day_passed", "moved_once", "why_late"}
    assert met | of_meetings | {"why"} <= set(words.REFUSED)
