"""What two people read on one form: blank answers, where they differ, and the stricter of both."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from relations.pictures.values import PlaceWord

from .values import FINENESS, NameForm, Use, Wish

Answers = Mapping[str, Any]

# A paper on which nothing is marked: whatever is blank is no, none, ask, or not there.
BLANK: Answers = {
    "way": "",
    "given_on": None,
    "may_keep": None,
    "uses": [],
    "only_countries": None,
    "not_countries": [],
    "seen_everywhere": False,
    "first_day": None,
    "last_day": None,
    "name_form": "none",
    "agreed_name": "",
    "place_word": "none",
    "no_face": False,
    "show_first": False,
    "approves_captions": False,
    "own_condition": "",
    "if_cannot_answer": "ask",
    "if_died": "ask",
    "childs_answer": "",
    "copy_kept": None,
    "lines_missing": [],
}
LISTS = frozenset({"uses", "only_countries", "not_countries", "lines_missing"})
_DAYS = frozenset({"given_on", "first_day", "last_day"})
# From the least that is shown to the most.
_NAMES = (NameForm.NONE, NameForm.PSEUDONYM, NameForm.FIRST, NameForm.FULL)
_WISHES = (Wish.STOP, Wish.ASK, Wish.GO_ON)


def whole(answers: Answers) -> dict[str, Any]:
    """The answers with every box of the paper in it: days as ISO text, lists sorted, each once.

    Raise KeyError for a box that the paper does not have.
    """
    if unknown := set(answers) - set(BLANK):
        raise KeyError(sorted(unknown)[0])
    return {key: _plain(key, answers.get(key, blank)) for key, blank in BLANK.items()}


def _plain(key: str, value: Any) -> Any:
    if key in LISTS and value is not None:
        return sorted({str(item) for item in value})
    if key in _DAYS and isinstance(value, date):
        return value.isoformat()
    return value


def differ(first: Answers, second: Answers) -> tuple[str, ...]:
    """The boxes in which two readings differ, in the order of the paper.

    Each use is a box of its own ("uses.web"): one smudged line says nothing about the others.
    """
    one, two = whole(first), whole(second)
    found: list[str] = []
    for key in BLANK:
        if key == "uses":
            unlike = set(one[key]) ^ set(two[key])
            found += [f"uses.{use}" for use in Use if use in unlike]
        elif one[key] != two[key]:
            found.append(key)
    return tuple(found)


def settled(first: Answers, second: Answers, chosen: Answers) -> dict[str, Any]:
    """The first reading with the boxes that differ as `chosen` says ("uses.web": True or False).

    Raise KeyError where a box that differs was not chosen, or one that does not was.
    """
    boxes = differ(first, second)
    if unlike := set(chosen) ^ set(boxes):
        raise KeyError(sorted(unlike)[0])
    answers = whole(first)
    uses = set(answers["uses"])
    for box in boxes:
        key, _, use = box.partition(".")
        if use:
            (uses.add if chosen[box] else uses.discard)(use)
        else:
            answers[key] = chosen[box]
    return whole({**answers, "uses": uses})


def stricter(first: Answers, second: Answers) -> dict[str, Any]:
    """What acts until the two are settled: of every box the answer that opens less.

    A yes counts only where both read one; a limit, a wish or a missing line counts where either
    did. A day of giving is the later one, so that the paper never counts as the older.
    """
    one, two = whole(first), whole(second)
    both: dict[str, Any] = {
        **one,
        "given_on": max(filter(None, (one["given_on"], two["given_on"])), default=None),
        "uses": set(one["uses"]) & set(two["uses"]),
        "only_countries": _common(one["only_countries"], two["only_countries"]),
        "first_day": max(filter(None, (one["first_day"], two["first_day"])), default=None),
        "last_day": min(filter(None, (one["last_day"], two["last_day"])), default=None),
        "name_form": min(one["name_form"], two["name_form"], key=_NAMES.index),
        "place_word": min(
            one["place_word"], two["place_word"], key=lambda word: FINENESS[PlaceWord(word)]
        ),
        "childs_answer": _childs(one["childs_answer"], two["childs_answer"]),
        "own_condition": one["own_condition"] or two["own_condition"],
        "way": one["way"] if one["way"] == two["way"] else "",
    }
    if one["agreed_name"] != two["agreed_name"]:
        # Neither spelling may be shown before one is settled.
        both |= {"agreed_name": "", "name_form": NameForm.NONE.value}
    for key in ("not_countries", "lines_missing"):
        both[key] = {*one[key], *two[key]}
    for key in ("may_keep", "copy_kept", "seen_everywhere"):
        both[key] = one[key] if one[key] == two[key] else False
    for key in ("no_face", "show_first", "approves_captions"):
        both[key] = one[key] or two[key]
    for key in ("if_cannot_answer", "if_died"):
        both[key] = min(one[key], two[key], key=_WISHES.index)
    return _ordered(whole(both))


def _ordered(answers: dict[str, Any]) -> dict[str, Any]:
    """Where the readings leave no day between them, the first is moved to the last."""
    first, last = answers["first_day"], answers["last_day"]
    if first and last and first > last:
        # Nothing is allowed on any day: both limits stay, as a paper that names no country.
        return {**answers, "first_day": last, "only_countries": []}
    return answers


def _common(one: list[str] | None, two: list[str] | None) -> list[str] | None:
    """The countries that both readings allow; None is no limit."""
    if one is None or two is None:
        return two if one is None else one
    return sorted(set(one) & set(two))


def _childs(one: str, two: str) -> str:
    if "no" in (one, two):
        return "no"
    return one if one == two else ""
