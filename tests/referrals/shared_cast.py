"""A project of forty people for the pages of sharing: two groups, a small one, a sitter at risk."""

from datetime import date, timedelta

from relations.people.models import Community, Introduction, OutsideIntroducer, Participant
from relations.people.values import Risk, Standing
from tests.rows import make

# No name in any script, no label and no code of theirs may be in anything that leaves the house.
NAME, ARABIC, LABEL = "Zéphirine de la rue", "دلال بنت صابر", "the clinic behind the station"
CODES = [f"Q{number:02}" for number in range(1, 41)]
FIRST = date(2024, 1, 9)


def project() -> list[Participant]:
    """Forty people in lines of three, of one of which only a stub is kept; the newest in 2026."""
    oak, elm = (
        make(Community, key=key, name=name) for key, name in (("oak", "Chêne"), ("elm", "Orme"))
    )
    ash = make(Community, key="ash", name="Frêne")
    outside = make(OutsideIntroducer, code="X7", label=LABEL)
    found: list[Participant] = []
    for number, code in enumerate(CODES):
        group = ash if number % 13 == 5 else elm if number % 3 else oak
        on = FIRST + timedelta(days=23 * number)
        person = make(
            Participant,
            code=code,
            call_name=ARABIC if number % 2 else NAME,
            community=group,
            heard_on=on,
            standing_since=on,
            standing=Standing.SAID_NO if number == 7 else Standing.NAMED,
            level=Risk.GRAVE if number == 8 else "",
        )
        told = {"outside": outside} if number == 30 else {}
        if number % 3:
            told = {"introducer": found[number - 1]}
        if number == 20:
            told = {"is_withheld": True, "wave": 2}
        make(Introduction, person=person, heard_on=on, **told)
        found.append(person)
    return found


def more(many: int, group: str = "oak", on: date = date(2026, 8, 3)) -> None:
    """So many more of a group, found by the artist."""
    community = Community.objects.get(key=group)
    for _ in range(many):
        person = make(Participant, community=community, heard_on=on, standing_since=on)
        make(Introduction, person=person, heard_on=on)
