"""Two sheets: no name on the one with places, no place on the one with names, nobody at risk."""

import re
import subprocess
from datetime import time
from io import BytesIO

import pikepdf
import pytest

from relations.languages.finding import Names
from relations.prints import round_papers, walks
from tests import cast
from tests.prints import bag

pytestmark = [pytest.mark.django_db, pytest.mark.needs("pdftotext")]
AT = cast.moment()


def words(content: bytes) -> str:
    ran = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True)
    return " ".join(ran.stdout.decode().split())


@pytest.fixture
def sheets():
    bag.light()
    ibrahima = bag.ready(
        cast.ibrahima(), "K35", place="under the crane", word_at_the_door="Ask for the rope",
    )  # fmt: skip
    danuta = bag.ready(
        cast.danuta(), "K12", quarter=bag.QUAY, place="Beside Bruno and Danuta, the blue gate",
        word_at_the_door="The tide is late, says Ibrahima", into_whose_hand="her own",
        is_sealed=True, opens_at=time(11), closes_at=time(13),
    )  # fmt: skip
    cast.bruno()
    row = bag.planned(ibrahima, danuta)
    doors = walks.doors(cast.artist(), row)
    by = cast.artist()
    return [make(row, doors, by=by, at=AT) for make in (round_papers.places, round_papers.names)]


def test_sheet_of_places_has_letters_places_and_hours_and_no_name_and_no_code(sheets):
    places = words(sheets[0])
    for said in ("Places", "under the crane", "the blue gate", bag.QUAY, "11:00", "The sun sets"):
        assert said in places
    for never in ("Danuta", "Bruno", "Ibrahima", "K12", "K35", "tide", "rope"):
        assert never not in places


def test_sheet_of_names_has_letters_names_and_words_and_no_place(sheets):
    names = words(sheets[1])
    for said in ("Danuta", "K12", "The tide is late", "her own", "Sealed", "learnt by heart"):
        assert said in names
    for never in ("blue gate", "crane", bag.QUAY, bag.DOCK, "11:00", "13:00"):
        assert never not in names


def test_grave_person_is_on_no_sheet_with_a_name(sheets):
    names = words(sheets[1])
    for never in ("Ibrahima", "K35", "rope", "35"):
        assert never not in names


def test_sheets_are_one_page_each_and_say_nothing_of_anybody_in_their_data(sheets):
    for content in sheets:
        pdf = pikepdf.open(BytesIO(content))
        assert len(pdf.pages) == 1
        said = " ".join(str(value) for value in (pdf.docinfo or {}).values())
        assert "Danuta" not in said
        assert str(pdf.docinfo.Title) == "R1"


def test_ten_doors_fit_one_page(sheets):
    people = [cast.person(f"7{number}", f"Called {number}") for number in range(10)]
    rows = [bag.ready(who, f"P{number}") for number, who in enumerate(people)]
    row = bag.planned(*rows)
    doors = walks.doors(cast.artist(), row)
    for make in (round_papers.places, round_papers.names):
        content = make(row, doors, by=cast.artist(), at=AT)
        assert len(pikepdf.open(BytesIO(content)).pages) == 1


def test_name_is_taken_out_of_words_in_whatever_spelling_or_all_of_them_are():
    known = Names([(("…", "Bruno"), "Bruno")])
    assert round_papers.unnamed("Behind Bruno, left", known) == "Behind …, left"
    assert round_papers.unnamed("Behind BRUNO, left", known) == "…"
    assert round_papers.unnamed("The blue gate", known) == "The blue gate"


def test_words_longer_than_their_cell_break_in_it(sheets):
    said = "tideword hasbeen written longer thanits cellmay bewide"
    owed = bag.ready(cast.danuta(), "K13", word_at_the_door=said, into_whose_hand=said.upper())
    row = bag.planned(owed)
    content = round_papers.names(row, walks.doors(cast.artist(), row), by=cast.artist(), at=AT)
    told = ["pdftotext", "-bbox", "-", "-"]
    page = subprocess.run(told, input=content, capture_output=True, check=True).stdout.decode()
    height = {word: at for at, word in re.findall(r'yMin="([\d.]+)"[^>]*>(\w+)<', page)}
    for one in (said, said.upper()):
        assert len({height[word] for word in one.split()}) > 1
