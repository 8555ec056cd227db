"""Whole registers by chance, quickly: hypothesis gives the seed, the rest follows from it."""

from datetime import date, timedelta
from random import Random
from typing import NamedTuple

from relations.consent.values import (
    ALL,
    Decision,
    Form,
    NameForm,
    Person,
    Picture,
    Plan,
    Quote,
    Sitter,
    Use,
    Wish,
)
from relations.people.values import Birth, Condition, Risk
from relations.pictures.values import Others, PlaceWord, Recognisable

from .strategies import TODAY

COUNTRIES = ("FR", "PE", "SN")
SITTINGS = ("s1", "s2")
PICTURES = ("p0", "p1", "p2", "p3", "p4", "p5")


class Register(NamedTuple):
    """What is weighed: a few pictures of two sittings, everybody in them, and one planned use."""

    pictures: list[Picture]
    people: dict[str, Person]
    plan: Plan


def register(seed: int) -> Register:
    """The register of a seed. Most answers are plain ones, so that much is also cleared."""
    by = Chance(seed)
    people = {code: by.person(code) for code in ("a", "b", "c", "d")}
    pictures = [by.picture(code) for code in PICTURES[: by.randint(1, len(PICTURES))]]
    return Register(pictures, people, by.plan())


class Chance(Random):
    """Makes values of the weighing; `often` and `seldom` say how often a thing is so."""

    def often(self) -> bool:
        return self.random() < 0.85

    def seldom(self) -> bool:
        return self.random() < 0.12

    def day(self, first: int = -900, last: int = 900) -> date:
        return TODAY + timedelta(days=self.randint(first, last))

    def some(self, *items: str) -> frozenset[str]:
        return frozenset(one for one in items if self.random() < 0.5)

    def limits(self) -> frozenset[str] | None:
        return self.some(*COUNTRIES) if self.seldom() else None

    def form(self) -> Form:
        return Form(
            given_on=self.day(-900, 0),
            sittings=frozenset(SITTINGS) if self.often() else self.some(*SITTINGS),
            uses=frozenset(use for use in Use if self.often()),
            is_filed=self.often(),
            is_read=self.often(),
            is_complete=self.often(),
            only_countries=self.limits(),
            not_countries=self.limits() or frozenset(),
            knows_seen_everywhere=self.often(),
            first_day=self.day() if self.seldom() else None,
            last_day=self.day() if self.seldom() else None,
            name_form=self.choice(list(NameForm)),
            agreed_name=self.choice([None, "Rose", "Lune"]),
            is_faceless=self.seldom(),
            shows_first=self.seldom(),
            pictures_accepted=self.some(*PICTURES),
            pictures_refused=self.some(*PICTURES) if self.seldom() else frozenset(),
            approves_captions=self.seldom(),
            captions_accepted=self.some("c1", "c2"),
            quotes_accepted=self.some("q1", "q2"),
            place_word=self.choice(list(PlaceWord)),
            has_own_condition=self.seldom(),
            own_condition_decided={
                use: self.choice(list(Decision)) for use in Use if self.seldom()
            },
            if_cannot_answer=self.choice(list(Wish)),
            if_died=self.choice(list(Wish)),
            guardians_yes=self.randint(0, 2),
            guardian_no=self.seldom(),
            childs_yes=self.choice([None, True, True, False]),
        )

    def birth(self) -> Birth | None:
        if self.seldom():
            return None
        year = self.choice([1950, 1984, 2006, 2008, 2009, 2012])
        return Birth.in_year(year) if self.seldom() else Birth.on(date(year, 2, 28))

    def person(self, code: str) -> Person:
        return Person(
            code=code,
            birth=self.birth(),
            met_as_adult=self.often(),
            authority_holders=self.randint(1, 2),
            condition=self.choice(list(Condition)) if self.seldom() else Condition.WELL,
            condition_on=self.day(-400, 0) if self.often() else None,
            speaker_yes={use: self.day(-300, 9) for use in Use if self.often()},
            risk=self.choice([None, *Risk]),
            last_talk_on=self.day(-400, 20) if self.often() else None,
            is_on_hold=self.seldom(),
            taken_back={self.choice([ALL, *Use]): self.day(-900, 0)} if self.seldom() else {},
            never_print=("Rose", "ইউনুস") if self.seldom() else (),
            forms=tuple(self.form() for _ in range(self.choice([0, 1, 1, 1, 2, 3]))),
        )

    def picture(self, code: str) -> Picture:
        sitters = self.sample(["a", "b", "c", "d"], self.randint(1, 4))
        return Picture(
            id=code,
            sitting=self.choice(SITTINGS),
            made_on=self.choice([date(2024, 5, 14), date(2025, 11, 9)]),
            sitters=tuple(Sitter(one, self.choice(list(Recognisable))) for one in sitters),
            others=self.choice(list(Others)) if self.seldom() else Others.NONE,
            is_on_hold=self.seldom(),
            caption=self.choice([None, "c1", "c2"]),
            words=self.choice(["", "Rose, at the pump", "Réalisme"]),
            place_word=self.choice([PlaceWord.NONE, PlaceWord.CITY]),
            alt_text=self.choice(["", "ইউনুসের ঘাট"]),
            file_name=f"{code}.jpg",
            quotes=(Quote("q1", self.choice("abcd")),) if self.seldom() else (),
        )

    def plan(self) -> Plan:
        starts_on = self.day(0, 400)
        return Plan(
            use=self.choice(list(Use)),
            starts_on=starts_on,
            countries=self.some(*COUNTRIES) or None,
            ends_on=starts_on + timedelta(days=self.randint(0, 300)) if self.often() else None,
            is_one_day=self.seldom(),
            is_paper_only=self.seldom(),
            shows_captions=self.often(),
            names={code: self.choice(list(NameForm)) for code in "abcd" if self.often()},
        )
