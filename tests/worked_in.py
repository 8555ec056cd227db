"""A home at which people work through its real server: fast keys, people by number, their papers.

It is made by a process of its own (`tests/apart.py`), and pressed at by `killing` and `loading`.
"""

import socket
from collections.abc import Iterable
from datetime import date

from relations.consent.models import Form, Wording
from relations.documents.models import Sheet
from relations.documents.serials import check
from relations.people.models import Participant
from relations.privacy import opening, slots, tables
from relations.privacy.crypt import Cost
from relations.privacy.home import home

PASSPHRASE, PASSWORD = "six words that nobody else guesses", "a boat, a lamp, a wall"
HEARD = date(2026, 11, 1)


def code(number: int) -> str:
    """The code of the person whom act `number` is about."""
    return f"K{number}"


def serial(number: int) -> str:
    """The serial of the paper that act `number` files."""
    return f"{10_000 + number}-{check(str(10_000 + number))}"


def make_home() -> None:
    """Keys under PASSPHRASE that cost next to nothing, and every table."""
    slots.COSTS = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))
    said = {"passphrase": PASSPHRASE, "recovery": "0" * 28}
    slots.write_key_file(home().keys, slots.new_key_file("real", said, bytes(range(32))))
    opening._write_private(home().root / "cookie.key", "k" * 50)
    tables.make_all()


def make_people(numbers: Iterable[int]) -> list[Participant]:
    """One for each act, vouched for and open to be rung."""
    return Participant.objects.bulk_create(
        Participant(
            code=code(number),
            call_name="X",
            standing="vouched_for",
            standing_since=HEARD,
            heard_on=HEARD,
            languages="fr",
            safe_hours=[["10:00", "12:00"]],
        )
        for number in numbers
    )


def make_papers(people: dict[int, Participant]) -> None:
    """A form for each, which was carried to them and whose scan has not come home."""
    words = Wording.objects.create(language="fr", version=9, labels={"language": "fr"})
    sheets = Sheet.objects.bulk_create(
        Sheet(serial=serial(n), kind="form", digest="0" * 64, printed_at="2026-11-01T09:00Z")
        for n in people
    )
    Form.objects.bulk_create(
        Form(
            sheet=sheet,
            person=person,
            state="carried",
            state_on=HEARD,
            first_wording=words,
            second_wording=words,
            wording_was_read=True,
        )
        for sheet, person in zip(sheets, people.values(), strict=True)
    )


def is_silent(port: int) -> bool:
    """Whether nobody answers there."""
    with socket.socket() as line:
        return line.connect_ex(("127.0.0.1", port)) != 0
