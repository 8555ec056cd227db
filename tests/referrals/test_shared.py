"""What leaves the house is attacked: every place, text and byte of it, and any two of them."""

import re
import subprocess
from collections.abc import Iterator
from io import BytesIO
from itertools import combinations
from xml.etree import ElementTree

import pikepdf
import pytest
from django.utils import translation

from relations.people.models import Community, Introduction, Participant
from relations.referrals import actions, shared
from relations.referrals.said import NOTHING, Block, Row, Said, from_json
from tests import cast
from tests.referrals import shared_cast as project

pytestmark = pytest.mark.django_db


def drawings() -> list[Said]:
    """What three drawings of a growing project said."""
    project.project()
    found = []
    for many in (0, 3, 9):
        project.more(many, "elm")
        found.append(from_json(actions.share(by=cast.artist(), at=cast.moment()).said))
    return found


def secrets() -> Iterator[str]:
    """All that must not be found, in any form: names, codes, labels, keys of rows and days."""
    yield from (project.NAME, "phirine", project.ARABIC, "دلال", project.LABEL, "clinic", "X7")
    for person in Participant.objects.all():
        yield from (person.code, str(person.pk), str(person.log_key))
        yield from (f"{person.heard_on:%Y-%m-%d}", f"{person.heard_on:%d.%m.%Y}")
    yield from map(str, Introduction.objects.values_list("pk", flat=True))
    yield from (cast.artist().username, cast.artist().called)
    yield from Community.objects.values_list("key", flat=True)


def strings(pdf: pikepdf.Pdf) -> Iterator[str]:
    """Every string of a PDF, wherever it stands: alternative texts, titles, names of places."""
    waiting = list(pdf.objects)
    while waiting:
        one = waiting.pop()
        if isinstance(one, pikepdf.String):
            yield str(one)
        elif isinstance(one, pikepdf.Array):
            waiting += [part for part in one if not getattr(part, "is_indirect", False)]
        elif isinstance(one, pikepdf.Dictionary | pikepdf.Stream):
            parts = (one[key] for key in one.keys())  # noqa: SIM118 - no mapping
            waiting += [part for part in parts if not getattr(part, "is_indirect", False)]


def areas(pdf: pikepdf.Pdf) -> list[float]:
    """The areas of the bars on the first page, as it is drawn."""
    drawn = pikepdf.parse_content_stream(pdf.pages[0])
    boxes = [[float(part) for part in parts] for parts, name in drawn if str(name) == "re"]
    return [(wide + 3) * high for _x, _y, wide, high in boxes if high < 60]


def numbers(texts: list[str]) -> list[int]:
    return [int(found) for text in texts for found in re.findall(r"\d+", text)]


def not_years(found: list[int]) -> list[int]:
    return [number for number in found if not 2023 <= number <= 2027]


def test_svg_yields_no_name_no_code_no_day_and_no_mark_for_fewer_than_five():
    for said in drawings():
        content = shared.svg(said).decode()
        assert not [word for word in secrets() if word and word in content]
        root = ElementTree.fromstring(content)
        tags = {one.tag.split("}")[1] for one in root.iter()}
        assert tags == {"svg", "path", "rect", "text"}
        allowed = {
            "width",
            "height",
            "viewBox",
            "font-family",
            "direction",
            "d",
            "fill",
            "stroke",
            "x",
            "y",
        }
        allowed |= {"stroke-width", "font-size", "font-weight", "text-anchor", "paint-order"}
        assert {name for one in root.iter() for name in one.attrib} <= allowed
        counts = [one.text for one in root.iter() if one.get("text-anchor") == "middle"]
        assert sum(map(int, counts)) == said.people
        assert len(counts) == len([one for one in root.iter() if one.tag.endswith("rect")])
        assert min(not_years(numbers([one.text for one in root.iter() if one.text]))) >= 5


def test_places_tell_half_years_and_numbers_and_nothing_finer():
    """Each x is the edge of a half-year, each height a said number: no day comes back."""
    for said in drawings():
        picture = shared.picture(said)
        edges = sorted({rule.x1 for rule in picture.rules if rule.x1 == rule.x2})
        wide = edges[1] - edges[0]
        edges.append(edges[-1] + wide)
        for bar in picture.bars:
            for edge in (bar.x - 1.5, bar.x + bar.width + 1.5):
                assert min(abs(edge - one) for one in edges) < 1e-6
        people = [block.count for row in said.rows for block in row.blocks]
        areas = [(bar.width + 3) * bar.height for bar in picture.bars]
        assert [area * people[0] / areas[0] for area in areas] == pytest.approx(people)


@pytest.mark.needs("pdftotext")
def test_pdf_yields_no_more_and_says_neither_who_made_it_nor_when():
    said = drawings()[-1]
    content = shared.pdf(said)
    text = subprocess.run(
        ["pdftotext", "-", "-"], input=content, capture_output=True, check=True
    ).stdout.decode()
    with pikepdf.open(BytesIO(content)) as pdf:
        info = {key: str(value) for key, value in pdf.docinfo.items()}
        metadata = bytes(pdf.Root.Metadata.read_bytes()).decode() if "/Metadata" in pdf.Root else ""
        others = list(strings(pdf))
        bars = areas(pdf)
        destinations = pdf.Root.get("/Names"), pdf.Root.get("/Dests")
        assert len(pdf.pages) == 1
    whole = " ".join([text, metadata, *info.values(), *others])
    assert not [word for word in secrets() if word in whole]
    assert set(info) <= {"/Title", "/Producer"}
    assert info["/Title"] == "People reached, by group and half-year"
    assert not re.findall(r"CreateDate|ModifyDate|creator>|\b20\d\d-\d\d-\d\d", metadata)
    assert destinations == (None, None)
    assert min(not_years(numbers([text]))) >= 5
    people = [block.count for row in said.rows for block in row.blocks]
    assert [bar * people[0] / bars[0] for bar in bars] == pytest.approx(people, rel=0.03)
    assert info["/Title"] in others
    assert f"People reached so far: {said.people}." in text
    for row in said.rows:
        assert shared.row_name(row, shared.names()) in text


@pytest.mark.needs("pdftotext")
def test_in_arabic_the_people_of_a_row_stand_beside_it_and_no_word_on_a_bar():
    """The drawing runs from left to right in every language, and its words begin where it says."""
    said = drawings()[-1]
    with translation.override("ar"):
        content, picture = shared.pdf(said), shared.picture(said)
    left = min(rule.x1 for rule in picture.rules)
    boxes = subprocess.run(
        ["pdftotext", "-bbox", "-", "-"], input=content, capture_output=True, check=True
    ).stdout.decode()
    wide = float(re.search(r'<page width="([\d.]+)"', boxes)[1])
    found = re.findall(r'xMax="([\d.]+)".*>(.*)</word>', boxes)
    margin = 15 / 25.4 * 72
    edge = margin + left / picture.width * (wide - 2 * margin)
    noted = [word for end, word in found if float(end) < edge and word.isdigit()]
    people = [str(row.total) for row in said.rows if row.total]
    # Below them come the sentences, with their own numbers.
    assert noted[: len(people)] == people


def test_taking_any_drawing_from_any_other_leaves_no_number_from_one_to_four():
    tables = [
        {(line.name, line.first, line.last): line.count for line in shared.table(said)}
        for said in drawings()
    ]
    for before, after in combinations(tables, 2):
        for place in before.keys() & after.keys():
            assert after[place] - before[place] not in {1, 2, 3, 4}
        whole = sum(after.values()) - sum(before.values())
        assert whole == 0 or whole >= 5
    assert sum(tables[0].values()) == 40
    assert tables[0] == tables[1] != tables[2]


def test_whoever_said_no_is_at_grave_risk_or_was_told_of_by_a_stub_counts_as_everybody():
    project.project()
    assert shared.now_said(shared.whole()).people == Participant.objects.count() == 40


def test_words_of_a_row_say_which_group_since_when_and_never_which_were_joined():
    project.project()
    known = shared.names()
    block = (Block(4053, 4053, 5),)
    assert shared.row_name(Row(("oak",), block), known) == "Chêne"
    assert shared.row_name(Row(("oak",), block, since=4053), known) == "Chêne, from July 2026"
    assert shared.row_name(Row(("oak", "elm"), block), known) == "Other groups"
    assert shared.row_name(Row(("",), block), known) == "No group"
    assert shared.row_name(Row(("gone",), block), known) == "No group"
    assert (shared.half(4052), shared.end_of(4052)) == ("January 2026", "June 2026")
    assert (shared.half(4053), shared.end_of(4053)) == ("July 2026", "December 2026")


@pytest.mark.parametrize(
    ("said", "first"),
    [
        (NOTHING, "People reached so far: fewer than 5."),
        (Said(about=25), "People reached so far: 25 or a few more."),
    ],
)
def test_under_thirty_people_the_drawing_is_two_sentences(said, first):
    assert shared.sentences(said)[0] == first
    content = shared.svg(said).decode()
    assert "<rect" not in content
    assert first in content
    assert shared.on_page(said) is None
    assert shared.table(said) == []


def test_the_drawing_speaks_the_language_of_the_page_and_sets_names_of_any_script():
    Community.objects.create(key="qissa", name="قصة & حكاية")
    said = Said((Row(("qissa",), (Block(4053, 4053, 31),)),))
    with translation.override("fr"):
        content = shared.svg(said).decode()
    assert "قصة &amp; حكاية" in content
    assert "People" not in content
    assert shared.on_page(said).startswith("<svg xmlns")


def test_how_many_could_be_told_apart_is_counted_from_the_whole_map():
    project.project()
    found = shared.shapes(shared.whole())
    assert found.people == 40
    assert 0 < found.by_group.alone < 40
    assert found.by_shape.alone <= found.by_group.alone


def test_what_was_made_before_is_listed_with_what_it_said():
    drawings()
    by, at = cast.artist(), cast.moment()
    actions.keep_map(part=actions.Part.LINE, group="Q01", people=1, by=by, at=at)
    actions.keep_map(part=actions.Part.GROUP, group="oak", people=13, by=by, at=at)
    assert [(one.number, one.is_drawing, one.words) for one in shared.earlier()] == [
        (5, False, "Chêne, 13 people"), (4, False, "a line, 1 person"),
        (3, True, "52 people"), (2, True, "40 people"), (1, True, "40 people"),
    ]  # fmt: skip
