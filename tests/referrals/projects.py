"""Invented projects of any size: bursts of days, further hearings, some heard backwards."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from relations.people.values import Risk, Standing
from relations.referrals.graph import Web, Word
from relations.referrals.values import Known

BEGUN = date(2021, 3, 1)
GROUPS = ("alder", "birch", "cedar", "dogwood", "elm")
LEVELS = (Risk.ORDINARY, Risk.ORDINARY, Risk.ORDINARY, Risk.RAISED, Risk.RAISED, Risk.GRAVE)
STANDINGS = (
    *([Standing.TAKING_PART] * 10),
    *(Standing.NAMED, Standing.VOUCHED_FOR, Standing.BEING_RUNG, Standing.THINKING_IT_OVER),
    *(Standing.MET, Standing.SAID_NO, Standing.NEVER_RING, Standing.STEPPED_BACK),
)
NOT_ASKED = {Standing.NAMED, Standing.VOUCHED_FOR}
NOT_MET = {*NOT_ASKED, Standing.BEING_RUNG, Standing.THINKING_IT_OVER, Standing.SAID_NO}
SAT = {Standing.TAKING_PART, Standing.STEPPED_BACK}


@dataclass(frozen=True)
class Habits:
    """How a project is heard: shares of all people, and how many bursts a year.

    `further` were told of again later, `backward` were spoken for by somebody reached after them,
    `early` were told of too early besides, `withheld` name their introducer no more.
    """

    starts: float = 0.04
    further: float = 0.17
    backward: float = 0.03
    early: float = 0.0
    withheld: float = 0.0
    burst: int = 2
    days: int = 2000
    outside: int = 0
    groups: tuple[str, ...] = GROUPS


USUAL = Habits()
UNTIDY = Habits(early=0.05, withheld=0.06, outside=3, days=40)


@dataclass(frozen=True)
class Project:
    """All that was heard, and what is known of everybody."""

    words: tuple[Word, ...]
    outside: tuple[str, ...] = ()
    known: dict[str, Known] = field(default_factory=dict)


def project(people: int, seed: int, habits: Habits = USUAL) -> Project:
    """Invent a project; the same for the same seed. Codes are "01" and on, outside "X1" and on."""
    chance = Random(seed)
    codes = [f"{number:02}" for number in range(1, people + 1)]
    outside = tuple(f"X{number}" for number in range(1, habits.outside + 1))
    days = sorted(chance.randrange(habits.days) for _ in codes)
    heard = list(_heard(codes, outside, days, chance, habits))
    words = [
        Word(person, told, BEGUN + timedelta(day), number, 2 if withheld else None, withheld)
        for number, (person, told, day, withheld) in enumerate(heard)
    ]
    return Project(tuple(words), outside, _known(words, codes, chance, habits))


def hangs_on(found: Web) -> dict[str, str]:
    """The nearest one through whom alone each person was reached; "" for the artist."""
    return {code: found.codes[found.above[found.place_of[code]]] for code in found.first}


def _heard(
    codes: list[str], outside: tuple[str, ...], days: list[int], chance: Random, habits: Habits
) -> Iterator[tuple[str, str, int, bool]]:
    """One burst after another, of people whom one told us of; all that is noted of each."""
    teller, left = "", 0
    day = days[0] if days else 0
    for number, code in enumerate(codes):
        if not left:
            teller = _teller(codes[:number] if number < 50 else codes, number, outside, chance)
            left, day = 1 + int(chance.expovariate(1 / habits.burst)), days[number]
        left -= 1
        is_start = not number or not teller or chance.random() < habits.starts
        withheld = not is_start and chance.random() < habits.withheld
        yield code, "" if is_start or withheld else teller, day, withheld
        if number and chance.random() < habits.further:
            again = codes[chance.randrange(number)]
            if again != teller:
                yield code, again, day + chance.randrange(60), False
        if number and chance.random() < habits.backward:
            yield codes[chance.randrange(number)], code, day + chance.randrange(1, 60), False
        if number + 1 < len(codes) and chance.random() < habits.early:
            later = codes[chance.randrange(number + 1, len(codes))]
            yield code, later, day, False


def _teller(codes: list[str], number: int, outside: tuple[str, ...], chance: Random) -> str:
    """Mostly somebody reached of late, who goes on telling; sometimes one from long ago."""
    if outside and chance.random() < 0.1:
        return chance.choice(outside)
    if not number:
        return ""
    back = int(chance.expovariate(1 / 12)) if chance.random() < 0.7 else chance.randrange(number)
    return codes[max(0, number - 1 - back)]


def _known(words: list[Word], codes: list[str], chance: Random, habits: Habits) -> dict[str, Known]:
    """Mostly of the group of who told us; standing and level as chance has it."""
    groups: dict[str, str] = {}
    for word in words:
        own = groups.get(word.introducer) if chance.random() < 0.8 else None
        groups.setdefault(word.person, own or chance.choice(habits.groups))
    return {code: _one(code, groups[code], chance) for code in codes}


def _one(code: str, group: str, chance: Random) -> Known:
    standing = chance.choice(STANDINGS)
    return Known(
        code=code,
        community=group,
        standing=standing,
        level=chance.choice(LEVELS),
        has_sat=standing in SAT,
        has_print=standing in SAT and chance.random() < 0.6,
        was_asked=standing not in NOT_ASKED,
        was_met=standing not in NOT_MET,
    )
