"""Two sitters with a word in each of their fields, every paper of the prints, what each may say."""

import io
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import time
from itertools import permutations
from uuid import uuid4

import pikepdf
import pypdfium2
from django.db import models
from django.db.models import Model
from django.test import Client
from django.urls import reverse

from relations.people.models import Community, Name, Participant, PhoneLine, Speaker
from relations.people.values import Risk
from relations.prints.models import Print, Promise, QuarterMinutes
from relations.privacy.fields import SealedText
from tests import cast
from tests.at_the_door import come_in
from tests.consent import desk
from tests.house.rooms import ROOT
from tests.prints.frames import made
from tests.rows import make

PAPERS_LIE_IN = ROOT / "templates" / "prints" / "paper"
PLAIN, GRAVE = "QA41X", "QG42Y"
# Open words of these models that are the trade's or the machine's own, and name nobody.
OURS = {
    *("people.Participant.languages", "people.Name.script", "people.PhoneLine.zone"),
    *("prints.Print.code", "prints.Print.size", "prints.Print.box", "prints.Print.closed_how"),
    "prints.Promise.currency",
}
CODE, PICTURE = "people.Participant.code", "pictures.Picture.code"
# What leads to a door, and what says who lives behind it: never on one paper (job.md A 10 and 29).
LEADS_TO_A_DOOR = {"prints.Print.quarter", "prints.Print.place", "people.PhoneLine.number"}
SAYS_WHO = {
    *(CODE, "people.Participant.call_name", "people.Name.text", "people.Speaker.name"),
    *("prints.Print.into_whose_hand", "prints.Print.word_at_the_door"),
}


@dataclass
class World:
    """The two, their prints, and the word that stands in each field: field -> word, by sitter."""

    words: dict[str, dict[str, str]] = field(default_factory=lambda: {PLAIN: {}, GRAVE: {}})
    house: dict[str, str] = field(default_factory=dict)
    prints: dict[str, Print] = field(default_factory=dict)

    def word(self) -> str:
        """A word that stands nowhere else, in letters that every font of the papers has."""
        said = sum(map(len, self.words.values())) + len(self.house)
        return f"zq{said:02}kxvjqw"

    def plant(self, row: Model, of: str) -> None:
        """Put a word of its own into every text of a row that could say something of somebody."""
        for one in row._meta.concrete_fields:
            name = f"{row._meta.label}.{one.name}"
            is_open = isinstance(one, models.CharField) and not one.choices and not one.unique
            if name not in OURS and (is_open or isinstance(one, SealedText)):
                self.words[of][name] = self.word()
                setattr(row, one.name, self.words[of][name])
        row.save()


def world() -> World:
    """Both have a print that is checked and safe; that one of them is at grave risk comes later."""
    found = World()
    found.house["people.Community.name"] = found.word()
    group = make(Community, name=found.house["people.Community.name"])
    for code, picture in ((PLAIN, "K41"), (GRAVE, "K42")):
        person = make(Participant, code=code, level=Risk.ORDINARY, community=group)
        row = made(person, picture, "checked", is_safe=True, size="8x10 in")
        others = (make(Name, person=person), make(PhoneLine, person=person))
        for one in (person, row, *others, make(Speaker, person=person), _promise(person)):
            found.plant(one, code)
        found.words[code] |= {CODE: code, PICTURE: picture}
        found.prints[code] = row
    return found


def _promise(person: Participant) -> Promise:
    ended = {"ended_how": "could_not", "ended_on": cast.TODAY, "ended_by": cast.artist()}
    return make(Promise, person=person, **ended)


def turn_grave(found: World) -> None:
    """The risk of one of them is set late: after everything was asked, ordered and planned."""
    Participant.objects.filter(code=GRAVE).update(level=Risk.GRAVE)
    for row in found.prints.values():
        row.refresh_from_db()
        row.person.refresh_from_db()


def said_by(content: bytes) -> str:
    """All that can be read of a PDF: its text, and what it says of itself."""
    document = pypdfium2.PdfDocument(content)
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    with pikepdf.open(io.BytesIO(content)) as pdf:
        about = [str(value) for value in pdf.docinfo.values()]
        about.append(pdf.Root.Metadata.read_bytes().decode() if "/Metadata" in pdf.Root else "")
    # A narrow column breaks a word over lines.
    return "\n".join([text, *about, "".join(text.split())])


def lab_slip(found: World) -> bytes:
    """Ordered while nobody knew of a grave risk; the slip is printed after."""
    from relations.prints import lab_papers, orders

    Print.objects.update(state="file_ready")
    wanted = []
    for row in found.prints.values():
        row.refresh_from_db()
        wanted.append(orders.Wanted(row, "8x10 in"))
    said = {"by": cast.artist(), "at": cast.moment()}
    order = orders.order(wanted=wanted, on=cast.TODAY, **said)
    turn_grave(found)
    return lab_papers.print_slip(order=order, **said)[1]


def _round(found: World, which: str) -> bytes:
    """Planned while nobody knew of a grave risk; both sheets are printed after."""
    from relations.prints import round_papers, walking, walks

    for start, end in permutations(row.quarter for row in found.prints.values()):
        make(QuarterMinutes, start=start, end=end, minutes=8)
    hours = {"starts_at": time(10), "ends_by": time(15)}
    row = walking.plan_round(
        prints=list(found.prints.values()), on=cast.TODAY, walker=cast.assistant(),
        at=cast.moment(), **hours,
    )  # fmt: skip
    turn_grave(found)
    doors = walks.doors(cast.assistant(), row)
    assert len(doors) == len(found.prints)
    make_paper = getattr(round_papers, which)
    return bytes(make_paper(row, doors, by=cast.assistant(), at=cast.moment()))


def slips(found: World) -> bytes:
    """Slips for envelope and corner of both prints."""
    from relations.prints import slips as paper
    from relations.prints.labels import Labels

    turn_grave(found)
    return paper.pdf([row.code for row in found.prints.values()], paper.BOTH, Labels.PLAIN)


def receipt(found: World) -> bytes:
    """The receipt for the print of the one who is not at grave risk."""
    held, client = desk.frozen("fr", "en"), Client()
    come_in(client, cast.artist())
    address = reverse("today:receipt", args=[PLAIN, found.prints[PLAIN].picture.code])
    sent = {"token": str(uuid4()), "first": held["fr"].pk, "second": held["en"].pk}
    answer = client.post(address, sent)
    assert answer.headers["Content-Type"] == "application/pdf", answer.status_code
    return bytes(answer.content)


@dataclass(frozen=True)
class Paper:
    """One template of a paper, how it is made, and which fields may be read on it, of each."""

    template: str
    make: Callable[[World], bytes]
    says: frozenset[str] = frozenset()
    says_of_grave: frozenset[str] = frozenset()

    @property
    def is_here(self) -> bool:
        """Whether the site has this paper."""
        return (PAPERS_LIE_IN / self.template).exists()


# A new paper of the prints needs its line here: what it says, and of somebody at grave risk.
TABLE = (
    Paper("receipt.html", receipt),
    Paper("lab_slip.html", lab_slip, says=frozenset({PICTURE})),
    Paper(
        "places.html",
        lambda found: _round(found, "places"),
        says=frozenset({"prints.Print.quarter", "prints.Print.place"}),
        says_of_grave=frozenset({"prints.Print.quarter", "prints.Print.place"}),
    ),
    Paper(
        "names.html",
        lambda found: _round(found, "names"),
        says=frozenset(
            {
                *("people.Participant.call_name", PICTURE),
                *("prints.Print.into_whose_hand", "prints.Print.word_at_the_door"),
            }
        ),
    ),
    Paper("slips.html", slips),
)
