"""Invented projects to be drawn: bursts of days, further hearings, names in all scripts."""

from datetime import date, timedelta
from random import Random

from relations.referrals import graph
from relations.referrals.drawing import Drawn
from relations.referrals.graph import Web, Word
from relations.referrals.values import Person

BEGUN = date(2022, 2, 20)
GROUPS = ("alder", "birch", "cedar", "dogwood", "elm")
OUTSIDE = ("X1", "X2")
# Invented, of the lengths and scripts that names have here.
NAMES = (
    *("Anne-Lise Quérinou", "Zoé", "Maria das Dores Fortes-Lima", "Ousmane Diabaké", "Bo"),
    *("عبد القادر بن زرفة", "ثريا حدوش", "দাউদ ওলিউল্লাহ", "ইউনুস হাওলাদার", "सीता तामाङ"),
)


def words(people: int, seed: int = 7) -> list[Word]:
    """Hearings of so many people: one in fifteen a start, one in five told of again."""
    chance = Random(seed)
    days = sorted(chance.randrange(1 + people // 4) * 17 for _ in range(people))
    codes = [f"{number + 1:02}" for number in range(people)]
    heard: list[Word] = []
    for number, day in enumerate(days):
        code, on = codes[number], BEGUN + timedelta(day)
        of_late = codes[max(0, number - 25) : number]
        told = chance.choice([*of_late, *codes[: min(3, number)], *OUTSIDE]) if number else ""
        is_start, is_withheld = chance.random() < 1 / 15, chance.random() < 1 / 20
        if is_withheld:
            heard.append(Word(code, "", on, len(heard), 1, is_withheld=True))
        else:
            heard.append(Word(code, "" if is_start else told, on, len(heard)))
        if number and chance.random() < 1 / 5:
            again = codes[chance.randrange(number)]
            heard.append(Word(code, again, on + timedelta(9), len(heard)))
        if number and chance.random() < 1 / 20:
            before = codes[chance.randrange(number)]
            heard.append(Word(before, code, on + timedelta(5), len(heard)))
    return heard


def drawn(people: int, seed: int = 7, *, is_named: bool = False, **rest: object) -> Drawn:
    """A whole project to be drawn, by code or by name, noted after the label who else told us."""
    web = graph.web(words(people, seed), OUTSIDE)
    chance = Random(seed)
    marks = {
        code: Person(
            code=code,
            label=f"{chance.choice(NAMES)} {code}" if is_named else code,
            community=chance.choice((*GROUPS, "")),
            has_sat=(has_sat := chance.random() < 0.6),
            has_print=has_sat and chance.random() < 0.5,
        )
        for code in web.reached
    }
    given = {"outside": {code: code for code in OUTSIDE}, "groups": GROUPS, "notes": notes(web)}
    return Drawn(web, marks, **{**given, **rest})


def notes(web: Web) -> dict[str, str]:
    """Who else told us of somebody, by code."""
    others = (link for link in web.links if link.kind is not graph.Kind.FIRST)
    return {link.person: f"also {link.introducer or 'us'}" for link in others}
