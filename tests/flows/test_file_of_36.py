"""The file of 36, who cannot read: asked by voice, known by a word, and nobody else in it."""

import json
import re
import subprocess
from datetime import date
from io import BytesIO

import pikepdf
import pytest
from django.urls import reverse

from relations.people.actions import note_ways
from relations.people.models import Participant
from relations.privacy.models import AccessEntry, User
from relations.rights.leaving import GOES, going
from relations.rights.models import Request
from tests.cast import moment
from tests.flows.hand import Hand
from tests.traces import values_of

CODE, WORD = "36", "زيتونة"
# Somebody else, whom 36 told us of, and a number of nobody here.
OTHER, NUMBER = "Latifa", "04 65 71 00 35"

pytestmark = pytest.mark.needs("pdftotext")


@pytest.fixture
def ines(rehearsal) -> User:
    return User.objects.get(username="ines")


@pytest.fixture
def artist(ines) -> Hand:
    return Hand(ines)


@pytest.fixture
def souad(rehearsal) -> Participant:
    return Participant.objects.get(code=CODE)


@pytest.fixture
def asked(souad, artist) -> Request:
    """By voice to the assistant; the artist heard the agreed word."""
    artist.go(reverse("rights:agreed_word", args=[CODE])).press("Keep this word", word=WORD)
    loic = Hand(User.objects.get(username="loic"))
    loic.go("/").follow("Requests").press("Note it", code=CODE, kind="what_you_hold")
    assert loic.sees("It is noted, and its month runs.")
    artist.go("/").follow("What do you hold about me? · 36")
    assert artist.sees("Answer by Wednesday 23 December 2026.")
    assert artist.send("We are sure", word="ليمونة").errors
    artist.press("We are sure", word=WORD)
    found = Request.objects.get(person=souad)
    assert (found.sure_how, found.heard_by.username) == ("word", "loic")
    return found


def made(artist: Hand, request: Request, what: str) -> bytes:
    """The bytes that leave the house."""
    artist.go(reverse("rights:request_file", args=[request.pk]))
    theirs = {
        "first": artist.choice("first", "العربية"),
        "second": artist.choice("second", "Français"),
    }
    assert artist.value("first") == theirs["first"]
    artist.press("Make it", what=what, **theirs)
    return bytes(artist.answer.content)


def words_of(pdf: bytes) -> str:
    """The text of a PDF on one line, without the marks that turn its direction."""
    ran = subprocess.run(["pdftotext", "-", "-"], input=pdf, capture_output=True, check=True)
    return " ".join(re.sub("[\u202a-\u202e\u2066-\u2069]", "", ran.stdout.decode()).split())


def all_three(artist: Hand, request: Request) -> dict[str, str]:
    """What leaves, as text."""
    return {
        "paper": words_of(made(artist, request, "paper")),
        "aloud": words_of(made(artist, request, "aloud")),
        "json": made(artist, request, "json").decode(),
    }


def days_of(souad: Participant) -> set[bytes]:
    """Every day that stands in a row of hers, open ones too: others have days like them."""
    rows = [row for label in GOES for row in going(souad).of(label)]
    found = [getattr(row, one.attname) for row in rows for one in row._meta.concrete_fields]
    return {f"{one:%Y-%m-%d}".encode() for one in found if isinstance(one, date)}


def of_others(souad: Participant) -> set[bytes]:
    """Every sealed value of everybody else, but three that are hers as well.

    Her own fallback is the bakery where others meet us too, and somebody else's line names its
    quarter; on the day of her last talk another one was spoken with.
    """
    others = Participant.objects.exclude(pk=souad.pk)
    hers = b"\0".join(values_of(souad) | days_of(souad))
    found = {value for one in others for value in values_of(one)}
    shared = {value for value in found if value in hers}
    spelt = {value.decode() for value in shared if b"\0" not in value}
    assert spelt == {"the bakery by la Forme", "la Forme", "2026-05-19"}
    return found - shared


def test_nothing_of_anybody_else_is_in_it_and_the_search_finds_hers(artist, souad, asked):
    sought, hers = of_others(souad), values_of(souad)
    assert len(sought) > 1000
    for what, text in all_three(artist, asked).items():
        assert not {value for value in sought if value in text.encode()}, what
        found = {value.decode() for value in hers if value in text.encode()}
        assert {"سعاد بن يخلف", "Souad Ben Yekhlef", "04 65 71 00 36"} <= found, what


def test_name_days_forms_and_answers_of_hers_are_in_it(artist, asked):
    texts = all_three(artist, asked)
    for what, text in texts.items():
        for hers in ("Souad Ben Yekhlef", "04 65 71 00 36", "10031-75", "K36b"):
            assert hers in text, (what, hers)
    paper, held = texts["paper"], json.loads(texts["json"])
    assert "Naissance : 27 avril 1958" in paper and "1958-04-27" in texts["json"]
    assert "Votre oui pour : Archives, Livre, Exposition" in paper
    assert "Donné le : 14 novembre 2023" in paper and "Vous lisez : non" in paper
    assert "Ce que nous avons promis : un" in paper
    assert "Ce que vous avez demandé : ce que nous gardons sur vous" in paper
    tables = {row["table"] for row in held["held"]}
    assert {"people.Name", "consent.Form", "meetings.Meeting", "prints.Promise"} <= tables
    assert (held["code"], held["made_on"]) == (CODE, "2026-11-23")


def test_a_name_inside_her_own_words_is_taken_out(artist, souad, asked, ines):
    souad.quotes.create(code="Q36-9", words=f"{OTHER}’s bread, and I sing; ring {NUMBER}.")
    note_ways(person=souad, by=ines, at=moment(), instruction=f"Ask for {OTHER} at 15:00")
    form = souad.forms.exclude(given_on=None).first()
    form.own_condition = f"Only with d’{OTHER.upper()} beside me"
    form.save(update_fields=["own_condition"])
    texts = all_three(artist, asked)
    for what, text in texts.items():
        assert OTHER.lower() not in text.lower() and NUMBER not in text, what
    assert "Ask for somebody else at 15:00" in texts["json"]
    assert "Only with somebody else beside me" in texts["json"]
    assert "Only with une autre personne beside me" in texts["paper"]


@pytest.mark.parametrize("what", ["paper", "aloud", "json"])
def test_what_leaves_names_nobody_outside_and_is_logged(artist, souad, asked, what):
    looks = AccessEntry.objects.filter(verb="read", kind="file", key=souad.log_key)
    content = made(artist, asked, what)
    assert looks.count() == 1
    name = artist.answer["Content-Disposition"]
    assert CODE not in name and "Souad" not in name
    if what != "json":
        said = pikepdf.open(BytesIO(content))
        assert str(said.docinfo["/Title"]) == "2026-11-23"
        assert "Souad" not in f"{said.docinfo} {said.open_metadata()}"


def test_lines_to_be_read_aloud_are_numbered_in_her_language_alone(artist, asked):
    words = words_of(made(artist, asked, "aloud"))
    assert {"1", "2", "20"} <= set(words.split())
    assert "Formulaire" not in words and "ما نحفظه عنكم" in words


def test_it_takes_longer_and_is_answered_on_its_page(artist, asked):
    artist.go(reverse("rights:request", args=[asked.pk])).press("They were told")
    assert artist.sees("Answer by Tuesday 23 February 2027.")
    artist.press("Answered", outcome="done").go("/")
    assert not artist.sees("What do you hold about me?")
    assert artist.follow("Requests").sees("Nothing is to be answered.")
