"""Weigh a file of cases: `python3 -m tests.consent.casefile FILE.json`.

Prints each mismatch and a closing line, and ends with 1 on any mismatch. Needs neither Django
nor a database. The shape of a case is strict: a key that is missing or unknown is an error.
"""

import json
import sys
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from relations.consent.answers import Answer, Code, Reason, Result
from relations.consent.rules import weigh
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

from .fields import Fields, ShapeError, text

Expected = tuple[Result, frozenset[Reason], frozenset[Reason], date | None]


def use_or_all(value: str) -> str:
    """The code of a use, or "all"."""
    return value if value == ALL else Use(value)


def form(found: Any) -> Form:
    """A form of a case."""
    with Fields(found, "form") as f:
        return Form(
            given_on=f.day("given_on"),
            sittings=frozenset(f.words("sittings")),
            uses=frozenset(f.items("uses", Use)),
            is_filed=f.flag("filed"),
            is_read=f.flag("wording_read"),
            is_complete=f.flag("complete"),
            only_countries=f.or_none(lambda key: frozenset(f.words(key)), "only_countries"),
            not_countries=frozenset(f.words("not_countries")),
            knows_seen_everywhere=f.flag("seen_everywhere"),
            first_day=f.or_none(f.day, "first_day"),
            last_day=f.or_none(f.day, "last_day"),
            name_form=f.code("name_form", NameForm),
            agreed_name=f.or_none(f.text, "agreed_name"),
            is_faceless=f.flag("no_face"),
            shows_first=f.flag("show_first"),
            pictures_accepted=frozenset(f.words("pictures_accepted")),
            pictures_refused=frozenset(f.words("pictures_refused")),
            approves_captions=f.flag("approves_captions"),
            captions_accepted=frozenset(f.words("captions_accepted")),
            quotes_accepted=frozenset(f.words("quotes_accepted")),
            place_word=f.code("place_word", PlaceWord),
            has_own_condition=bool(f.text("own_condition").strip()),
            own_condition_decided=f.table("own_condition_decided", Use, Decision),
            if_cannot_answer=f.code("if_cannot_answer", Wish),
            if_died=f.code("if_died", Wish),
            guardians_yes=f.number("guardians_yes"),
            guardian_no=f.flag("guardian_no"),
            childs_yes=f.or_none(
                lambda key: bool(f.code(key, ("no", "yes").index)), "childs_answer"
            ),
        )


def birth(f: Fields) -> Birth | None:
    """The known birth: a day wins over a year, a year over nothing."""
    born_on = f.or_none(f.day, "born_on")
    year = f.or_none(f.number, "born_year")
    if born_on is not None:
        return Birth.on(born_on)
    return None if year is None else Birth.in_year(year)


def person(found: Any) -> Person:
    """A person of a case."""
    with Fields(found, "person") as f:
        return Person(
            code=f.text("code"),
            birth=birth(f),
            met_as_adult=f.flag("met_as_adult"),
            authority_holders=f.number("authority_holders"),
            condition=f.code("condition", Condition),
            condition_on=f.or_none(f.day, "condition_on"),
            speaker_yes=f.table("speaker_yes", Use, date.fromisoformat),
            risk=f.or_none(lambda key: f.code(key, Risk), "risk"),
            last_talk_on=f.or_none(f.day, "last_talk_on"),
            is_on_hold=f.flag("hold"),
            taken_back=f.table("taken_back", use_or_all, date.fromisoformat),
            never_print=f.words("never_print"),
            forms=f.items("forms", form),
        )


def sitter(found: Any) -> Sitter:
    """Somebody in the frame."""
    with Fields(found, "sitter") as f:
        return Sitter(f.text("code"), f.code("recognisable", Recognisable))


def quote(found: Any) -> Quote:
    """A quote in the caption."""
    with Fields(found, "quote") as f:
        return Quote(f.text("id"), f.text("by"))


def picture(found: Any) -> Picture:
    """The picture of a case."""
    with Fields(found, "picture") as f:
        return Picture(
            id=f.text("id"),
            sitting=f.text("sitting"),
            made_on=f.day("made_on"),
            sitters=f.items("sitters", sitter),
            others=f.code("others", Others),
            is_on_hold=f.flag("hold"),
            caption=f.or_none(f.text, "caption"),
            words=f.text("words"),
            place_word=f.code("place_word", PlaceWord),
            alt_text=f.text("alt_text"),
            file_name=f.text("file_name"),
            quotes=f.items("quotes", quote),
        )


def countries(f: Fields) -> frozenset[str] | None:
    """The countries of a plan: a list, or None for "world"."""
    if f.found.get("countries") == "world":
        f.unread.discard("countries")
        return None
    return frozenset(f.words("countries"))


def plan(found: Any) -> Plan:
    """The planned use of a case."""
    with Fields(found, "planned_use") as f:
        return Plan(
            use=f.code("use", Use),
            starts_on=f.day("starts_on"),
            countries=countries(f),
            ends_on=f.or_none(f.day, "ends_on"),
            is_one_day=f.flag("one_day"),
            is_paper_only=f.flag("paper_only"),
            shows_captions=f.flag("captions"),
            names=f.table("names", text, NameForm),
        )


def reason(found: Any) -> Reason:
    """One reason a case expects."""
    with Fields(found, "reason") as f:
        return Reason(f.text("about"), f.code("code", Code))


def expected(found: Any) -> Expected:
    """What a case expects, as sets: the order of reasons is nobody's business."""
    with Fields(found, "expect") as f:
        stops = frozenset(f.items("stops", reason))
        conditions = frozenset(f.items("conditions", reason))
        look = f.or_none(f.day, "look_again_on")
        return f.code("result", Result), stops, conditions, look


def comparable(answer: Answer) -> Expected:
    """An answer in the shape of `expected`."""
    stops, conditions = frozenset(answer.stops), frozenset(answer.conditions)
    return answer.result, stops, conditions, answer.look_again_on


class Parts(NamedTuple):
    """What the rule is asked in one case."""

    picture: Picture
    people: dict[str, Person]
    plan: Plan
    today: date


def parts(found: Any) -> tuple[Expected, Parts]:
    """What one case expects, and what it asks."""
    with Fields(found, "case") as f:
        f.number("n"), f.text("title")
        people = {person.code: person for person in f.items("people", person)}
        shown, planned = picture(f.value("picture", dict)), plan(f.value("planned_use", dict))
        wanted = expected(f.value("expect", dict))
        return wanted, Parts(shown, people, planned, f.day("today"))


def weigh_case(found: Any) -> tuple[Expected, Answer]:
    """What one case expects, and the answer to it."""
    wanted, asked = parts(found)
    return wanted, weigh(asked.picture, asked.people, asked.plan, today=asked.today)


def load(path: Path) -> list[Any]:
    """The cases of a file."""
    cases = json.loads(path.read_text(encoding="utf-8"))
    if type(cases) is not list:
        raise ShapeError("a list of cases was expected")
    return cases


def line(answer: Expected) -> str:
    """An answer on one line; conditions are marked ~."""
    result, stops, conditions, look = answer
    parts = [f"{about} {code}" for about, code in sorted(stops)]
    parts += [f"{about} ~{code}" for about, code in sorted(conditions)]
    return f"{result} [{', '.join(parts)}] look again {look or 'never'}"


def mismatch(case: Any) -> str | None:
    """What is wrong with the answer to a case, or None."""
    try:
        wanted, answer = weigh_case(case)
    except ShapeError as error:
        return f"not weighed: {error}"
    except KeyError as error:
        return f"not weighed: nobody has the code {error}"
    given = comparable(answer)
    return None if given == wanted else f"expected {line(wanted)}\n  given    {line(given)}"


def main(arguments: list[str]) -> int:
    """Weigh the file named; 0 if all agree, 1 if any does not, 2 if the file cannot be read."""
    if len(arguments) != 1:
        print("usage: python3 -m tests.consent.casefile FILE.json", file=sys.stderr)
        return 2
    try:
        cases = load(Path(arguments[0]))
    except (OSError, ValueError) as error:
        print(f"{arguments[0]}: {error}", file=sys.stderr)
        return 2
    failed = 0
    for place, case in enumerate(cases, 1):
        if wrong := mismatch(case):
            failed += 1
            known = case if type(case) is dict else {}
            print(f"case {known.get('n', f'in place {place}')}: {known.get('title', '')}")
            print(f"  {wrong}")
    print(f"{len(cases) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
