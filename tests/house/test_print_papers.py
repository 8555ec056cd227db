"""No paper of the prints says more than its line allows; a hole that is planted is found."""

import re

import pytest

from relations.documents.render import lay_out
from relations.privacy.models import User
from tests.house.print_papers import (
    GRAVE,
    LEADS_TO_A_DOOR,
    PAPERS_LIE_IN,
    PICTURE,
    PLAIN,
    SAYS_WHO,
    TABLE,
    World,
    said_by,
    world,
)

pytestmark = pytest.mark.django_db
HERE = [paper for paper in TABLE if paper.is_here]
PROJECT = "zqprojectkxvjq"


@pytest.fixture
def found(settings) -> World:
    settings.RELATIONS_PROJECT = PROJECT
    return world()


def read_on(content: bytes, found: World) -> dict[str, set[str]]:
    """Which fields of each of the two can be read on a paper."""
    said = said_by(content)
    return {
        who: {name for name, word in words.items() if _stands(name, word, said)}
        for who, words in found.words.items()
    }


def _stands(name: str, word: str, said: str) -> bool:
    """Whether a word can be read; the short code of a picture by itself alone."""
    return bool(re.search(rf"(?<![\w-]){word}(?!\w)", said)) if name == PICTURE else word in said


def test_every_paper_of_the_prints_has_its_line():
    there = {path.name for path in PAPERS_LIE_IN.glob("*.html") if path.name[0] != "_"}
    assert there == {paper.template for paper in HERE}


@pytest.mark.parametrize("paper", HERE, ids=lambda paper: paper.template)
def test_paper_says_what_its_line_allows_and_no_more(paper, found):
    """Both ways: a field that is not found would prove nothing of the others."""
    content = paper.make(found)
    assert read_on(content, found) == {PLAIN: paper.says, GRAVE: paper.says_of_grave}
    house = [PROJECT, *found.house.values(), *(user.called for user in User.objects.all())]
    assert not [word for word in house if word in said_by(content)]


@pytest.mark.parametrize("paper", HERE, ids=lambda paper: paper.template)
def test_no_line_allows_a_place_and_a_person_on_one_paper(paper):
    for fields in (paper.says, paper.says_of_grave):
        assert not (fields & LEADS_TO_A_DOOR and fields & SAYS_WHO)
    assert not (paper.says | paper.says_of_grave) & SAYS_WHO or not paper.says & LEADS_TO_A_DOOR


@pytest.mark.parametrize("paper", HERE, ids=lambda paper: paper.template)
def test_no_line_says_who_is_at_grave_risk(paper):
    assert not paper.says_of_grave & SAYS_WHO


def test_planted_hole_is_found_in_exactly_its_field(found):
    name = found.words[GRAVE]["people.Participant.call_name"]
    content = lay_out(f"<p>{name}</p>", lang="en", title="L1", css="").content
    assert read_on(content, found) == {PLAIN: set(), GRAVE: {"people.Participant.call_name"}}
    titled = lay_out("<p>L1</p>", lang="en", title=found.words[PLAIN]["people.Name.text"], css="")
    assert read_on(titled.content, found) == {PLAIN: {"people.Name.text"}, GRAVE: set()}


def test_enough_is_planted_to_look_for(found):
    for words in found.words.values():
        assert len(words) == len(set(words.values())) > 12
        assert words.keys() >= SAYS_WHO
