"""The sheets for the team, in every pair of our languages, as they come out of the printer."""

import json
import re
import subprocess
from functools import cache
from html import unescape
from io import BytesIO
from itertools import permutations
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import ImageChops

from relations.consent import spot, team
from relations.consent.completeness import Doubt, Missing, Way
from relations.consent.sheets import TEMPLATES
from relations.documents import papers, qr
from relations.documents.columns import Column, PaperClause
from relations.documents.render import MissingLetters
from relations.documents.values import LETTERS, PaperKind
from relations.meetings.values import EXPLAINED, TOLD_BACK, Outcome, Work

WORDINGS = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "wordings.json").read_text(encoding="utf-8")
)["languages"]
KEY, SERIAL, AT = bytes(range(32)), "70042-74", "2026-11-25 19:50"
LANGUAGES = tuple(WORDINGS)
# Each language once at the left and once at the right, as far apart as the list lets them be.
PAIRS = list(zip(LANGUAGES, LANGUAGES[3:] + LANGUAGES[:3], strict=True))
# Four of them hold each language, and of the kinds each begins with another; every two languages
# in both orders are among what takes long.
OF = {
    kind: [PAIRS[(start + step) % len(PAIRS)] for step in (0, 1, 2, 6)]
    for start, kind in enumerate(team.KINDS)
}
ONCE = {
    "more": "10:00–12:00",
    "languages": "fr ar",
    "may_say": "Your first name only.",
    "what_to_do": "Ring on Tuesdays.",
    "is_shared": True,
    "text_only": True,
}
DAY = [
    *team.stop_lines(),
    team.DayEntry(Work.MEETING, 4, "10", more="2026-11-25 14:00"),
    team.DayEntry(Work.DOOR, 5, "13", more="K13"),
    team.DayEntry(Work.RING, 6, "33M", **ONCE),
    *(team.DayEntry(Work.RING, n, f"{n}M", more="10:00–12:00") for n in range(7, 20)),
]
SAYS = {
    PaperKind.MEETING: team.of_meeting(person="23M", languages=["fr", "bm"], interpreter="A.D."),
    PaperKind.SITTING: team.of_sitting(sitting="28M-T7", people=["28M", "07"]),
    PaperKind.SPOT: team.of_form(serial="60022-64"),
    PaperKind.RECEIPT: team.of_print(code="K21"),
    PaperKind.DAY: team.of_day(day="2026-11-25", entries=DAY),
}
SIDES = {
    PaperKind.MEETING: 2,
    PaperKind.SITTING: 1,  # job.md F8 counts one page a sitting
    PaperKind.SPOT: 2,
    PaperKind.RECEIPT: 1,
    PaperKind.DAY: 2,
}


def column(lang: str, kind: PaperKind) -> Column:
    held = WORDINGS[lang]["papers"][kind]
    clauses = tuple(PaperClause(**clause) for clause in held["clauses"])
    return Column(lang, clauses, {**WORDINGS[lang]["labels"], **held["labels"]})


def sheet(kind: PaperKind, one: str, other: str, **values: object) -> papers.Paper:
    columns = column(one, kind), column(other, kind)
    return papers.Paper(
        kind=kind,
        template=TEMPLATES[kind],
        serial=SERIAL,
        version="1",
        first=columns[0],
        second=columns[1],
        payload=lambda page: qr.payload(LETTERS[kind], SERIAL, page, "1", key=KEY),
        values={**SAYS[kind], **values},
        foot=team.foot(columns, by_artist=False, at=AT),
    )


@cache
def printed(kind: PaperKind, one: str, other: str):
    return papers.lay(sheet(kind, one, other))


def codes(content: bytes) -> list[list[str]]:
    """What the square codes of each page say, at 150 dpi."""
    with pypdfium2.PdfDocument(content) as pdf:
        images = [page.render(scale=150 / 72).to_pil().convert("L") for page in pdf]
    return [
        [str(qr.read_payload(code.text, key=KEY)) for code in zxingcpp.read_barcodes(image)]
        for image in images
    ]


def comes_out_right(kind: PaperKind, one: str, other: str) -> None:
    """Every letter is there and the engine says nothing, else `lay` raises; then the codes."""
    made = printed(kind, one, other)
    assert made.pages == SIDES[kind]
    wanted = [[f"{LETTERS[kind]}/{SERIAL}/{n}/1"] * 2 for n in range(1, made.pages + 1)]
    assert codes(made.content) == wanted


def test_each_kind_is_made_in_each_language_and_each_language_on_either_side():
    for pairs in OF.values():
        assert {lang for pair in pairs for lang in pair} == set(LANGUAGES)
    for side in zip(*(pair for pairs in OF.values() for pair in pairs), strict=True):
        assert set(side) == set(LANGUAGES)


@pytest.mark.parametrize("kind, pair", [(kind, pair) for kind in OF for pair in OF[kind]])
def test_each_language_comes_out_right_on_either_side(kind, pair):
    comes_out_right(kind, *pair)


@pytest.mark.long
@pytest.mark.parametrize("kind", team.KINDS)
@pytest.mark.parametrize("one, other", list(permutations(LANGUAGES, 2)))
def test_each_pair_comes_out_right_in_both_orders(kind, one, other):
    comes_out_right(kind, one, other)


@pytest.mark.parametrize("kind", team.KINDS)
def test_letter_paper_takes_them_too(settings, kind):
    settings.RELATIONS_PAPER_SIZE = "Letter"
    made = papers.lay(sheet(kind, "ar", "fr"))
    # A day takes as many sides as it has lines for; the others stay on one sheet.
    assert made.pages <= (3 if kind == PaperKind.DAY else 2)
    assert all(len(page) == 2 for page in codes(made.content))


@pytest.mark.needs("qpdf")
@pytest.mark.parametrize("kind", team.KINDS)
def test_file_is_sound_and_is_called_by_its_number(tmp_path, kind):
    made = printed(kind, *OF[kind][0])
    with pikepdf.open(BytesIO(made.content)) as pdf:
        assert str(pdf.docinfo.Title) == SERIAL
        assert set(pdf.docinfo) <= {"/Title", "/Producer"}
    (tmp_path / "sheet.pdf").write_bytes(made.content)
    subprocess.run(["qpdf", "--check", tmp_path / "sheet.pdf"], check=True, capture_output=True)


@pytest.mark.parametrize("kind", team.KINDS)
def test_sheet_is_black_white_and_grey(kind):
    with pypdfium2.PdfDocument(printed(kind, *OF[kind][0]).content) as pdf:
        for page in pdf:
            red, green, blue = page.render(scale=1).to_pil().convert("RGB").split()
            assert ImageChops.difference(red, green).getbbox() is None
            assert ImageChops.difference(green, blue).getbbox() is None


@pytest.mark.parametrize("kind", team.KINDS)
def test_every_word_of_the_wording_stands_on_its_sheet(kind):
    page = unescape(papers.html(sheet(kind, "bn", "es"), 2))
    for lang in ("bn", "es"):
        held = WORDINGS[lang]["papers"][kind]
        said = [clause[part] for clause in held["clauses"] for part in ("heading", "text")]
        said += [words for key, words in held["labels"].items() if key != "by_artist"]
        assert not [words for words in said if words not in page]


def boxes(kind: PaperKind) -> set[str]:
    """The codes of the boxes, each of which is on some page once."""
    anchors = printed(kind, *OF[kind][0]).anchors
    found = [name for page in anchors for name in page if name.startswith("t-")]
    assert len(found) == len(set(found))
    return {name.removeprefix("t-") for name in found}


def test_meeting_sheet_has_a_box_for_each_tick_of_the_page():
    wanted = {f"explained.{code}" for code in EXPLAINED}
    wanted |= {f"told_back.{code}" for code in TOLD_BACK}
    wanted |= {"power_present.yes", "power_present.no", "wants_time", "typed_in"}
    wanted |= {"ended_why.no", "ended_why.safety", "ended_why.their_wish"}
    wanted |= {"interpreter_apart", "interpreter_promise"}
    assert boxes(PaperKind.MEETING) == wanted
    assert (len(EXPLAINED), len(TOLD_BACK)) == (12, 4)  # job.md, "Paper twins"


def test_sitting_sheet_asks_of_each_place_whether_they_can_be_recognised():
    places = range(1, team.PLACES + 1)
    wanted = {f"frame.{n}.{code}" for n in places for code in ("yes", "no", "unsure")}
    wanted |= {f"sheet.{n}" for n in team.FILM}
    wanted |= {"phones_away", "code_only", "light.available", "light.flash", "typed_in"}
    assert boxes(PaperKind.SITTING) == wanted | {"more.yes", "more.no"}


def test_sitting_of_many_has_a_place_for_each_and_one_to_spare():
    many = [str(n) for n in range(1, 11)]
    assert list(team.of_sitting(sitting="", people=many)["places"]) == list(range(1, 12))


def test_spot_sheet_has_a_box_just_where_the_rule_asks():
    wanted = {"complete", "not_complete", "is_doubtful", "typed_in"}
    for prefix, rows in (("missing", spot.missing()), ("doubt", spot.doubts())):
        wanted |= {
            f"{prefix}.{row.code}.{n}"
            for row in rows
            for n, cell in enumerate(row.cells, 1)
            if cell
        }
    assert boxes(PaperKind.SPOT) == wanted


@pytest.mark.parametrize("lang", LANGUAGES)
def test_every_way_line_and_doubt_of_the_rule_has_its_words(lang):
    labels = WORDINGS[lang]["papers"][PaperKind.SPOT]["labels"]
    wanted = {f"missing_{code}" for code in Missing} | {f"doubt_{code}" for code in Doubt}
    wanted |= {f"way_{way}" for way in Way} | set(spot.CONDITIONS)
    held = {key for key in labels if key.startswith(("missing_", "doubt_", "way_", "if_"))}
    assert held == wanted


@pytest.mark.parametrize("kind", [kind for kind in team.KINDS if kind != PaperKind.DAY])
def test_proof_has_the_same_lines_about_nothing(kind):
    nothing, something = team.blank(kind), SAYS[kind]
    assert nothing.keys() == something.keys()
    differ = {key for key in nothing if nothing[key] != something[key]}
    assert {nothing[key] for key in differ} == {""}


def test_day_sheet_has_a_box_for_each_press_and_a_square_on_every_line():
    wanted = {f"line.{one.number}.{code}" for one in DAY for code in team.DAY_BOXES[one.work]}
    assert boxes(PaperKind.DAY) == wanted | {f"typed_in.{one.number}" for one in DAY}
    # job.md row 48: a box per field in screen order; the order of the ring card.
    letters = dict(team.lettered(Work.RING))
    assert (letters["A"], letters["L"], len(letters)) == ("no_answer", "never_again", 14)
    assert set(Outcome) == set(letters.values()) - {"spoke"}


def test_proof_of_a_day_sheet_has_a_line_of_each_kind_about_nobody():
    parts = team.blank(PaperKind.DAY)["parts"]
    assert {work: len(part["entries"]) for work, part in parts.items()} == {
        "stop": 3, "meeting": 1, "door": 1, "ring": 1,
    }  # fmt: skip
    assert not any(one.code for part in parts.values() for one in part["entries"])


def test_receipt_has_the_same_boxes_for_us_and_for_them():
    ours = {*team.HANDS, *team.COVERS}
    wanted = ours | {f"copy.{code}" for code in ours} | {"copy_kept.yes", "copy_kept.no"}
    assert boxes(PaperKind.RECEIPT) == wanted | {"typed_in"}


@pytest.mark.needs("pdftotext")
def test_place_name_and_hour_are_never_on_one_line():
    ran = subprocess.run(
        ["pdftotext", "-layout", "-", "-"],
        input=printed(PaperKind.MEETING, "en", "fr").content,
        capture_output=True,
        check=True,
    )
    lines = ran.stdout.decode().splitlines()
    assert any("23M" in line for line in lines)
    for line in lines:
        assert not ("23M" in line and re.search(r"Hour|Day", line))
    # Nothing asks for a name or a place, on any of them.
    for kind in team.KINDS:
        labels = WORDINGS["en"]["papers"][kind]["labels"]
        asked = {key for key, words in labels.items() if re.search(r"\b[Nn]ame\b", words)}
        assert asked <= {"missing_serial_and_day"}, "which says: and no name"


def test_foot_says_by_whom_it_was_printed_without_a_name():
    columns = column("en", PaperKind.SPOT), column("ar", PaperKind.SPOT)
    said = team.foot(columns, by_artist=True, at=AT)
    assert said.first.words == "Printed by the artist ·"
    assert said.first.more == said.second.more == AT
    assert team.foot(columns, by_artist=False, at=AT).first.words == "Printed by the helper ·"


def test_letter_that_no_font_has_stops_the_sheet():
    with pytest.raises(MissingLetters) as stopped:
        papers.lay(sheet(PaperKind.MEETING, "en", "fr", interpreter="த"))
    assert stopped.value.letters == ["U+0BA4 த"]
