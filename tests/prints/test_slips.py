"""Slips say a code and nothing else, and are read back from photographs at any angle."""

import io

import numpy as np
import pikepdf
import pypdfium2
import pytest
from django.utils import translation

from relations.documents.codes import Code, Point
from relations.prints import slips
from relations.prints.labels import SHEETS, Labels, laid
from relations.prints.rules import ENDS, IN_THEIR_HANDS, NEEDS_SLIPS, NOT_OWED
from relations.prints.slips import BOTH, Where
from tests import cast
from tests.documents import scanner
from tests.prints.frames import made

CODES = ("ACDEFX", "K7M3PM")
# What the gate has time for; the whole count is among what takes long.
FEW, MANY, DPI = 12, 60, 150


def words(content):
    document = pypdfium2.PdfDocument(content)
    return [page.get_textpage().get_text_range().split() for page in document]


def cut(content, number, wide=1, dpi=DPI):
    """So many slips beside each other out of a sheet, the first of this number."""
    sheet = SHEETS[Labels.OF_21]
    row, column = divmod(number, sheet.columns)
    left, top = (float(side) for side in sheet.corner)
    left += column * float(sheet.width + sheet.gap)
    top += row * float(sheet.height)
    right = left + wide * float(sheet.width) + (wide - 1) * float(sheet.gap)
    down = top + float(sheet.height)
    page = scanner.drawn(content, dpi)
    ends = [round(mm / 25.4 * dpi) for mm in (top, down, left, right)]
    return np.ascontiguousarray(page[ends[0] : ends[1], ends[2] : ends[3]])


def of_21(codes=CODES, where=BOTH):
    return slips.pdf(codes, where, Labels.OF_21)


@pytest.mark.parametrize("kind", Labels)
def test_slips_say_the_code_in_two_parts_and_nothing_else(kind):
    content = slips.pdf(CODES, BOTH, kind)
    assert words(content) == [["ACD", "EFX"] * 2 + ["K7M", "3PM"] * 2]


def test_nothing_of_anybody_is_in_what_the_file_says_of_itself():
    with pikepdf.open(io.BytesIO(of_21())) as document:
        said = [str(value) for value in document.docinfo.values()]
        assert "/Author" not in document.docinfo and "Slips" in said
        page = document.pages[0].mediabox
    assert [float(side) for side in page] == pytest.approx([0, 0, 595.276, 841.890], abs=0.01)
    assert not any(code in part for code in CODES for part in said)
    assert of_21() == of_21(), "the same slips are the same bytes: no hour is in them"


@pytest.mark.parametrize("kind", [Labels.OF_24, Labels.OF_21])
def test_ink_stays_inside_each_label_also_where_it_is_stuck_or_printed_askew(kind):
    """4 mm to each edge, which is also what an office printer leaves white; common practice."""
    sheet, dots = SHEETS[kind], DPI / 25.4
    ink = scanner.drawn(slips.pdf(CODES * 12, BOTH, kind), DPI) < 200
    inside = np.zeros_like(ink)
    (labels,) = laid(range(sheet.count), sheet)
    for one in labels:
        sides = (one.top, one.top + sheet.height, one.left, one.left + sheet.width)
        top, down, left, right = (float(side) for side in sides)
        ends = [round(mm * dots) for mm in (top + 4, down - 4, left + 4, right - 4)]
        inside[ends[0] : ends[1], ends[2] : ends[3]] = True
    assert ink.any() and not (ink & ~inside).any()


def test_lines_to_cut_along_are_drawn_on_plain_paper_alone():
    at = round(float(SHEETS[Labels.PLAIN].corner[0]) / 25.4 * DPI)
    edges = (
        scanner.drawn(slips.pdf(CODES, BOTH, kind), DPI)[:, at - 2 : at + 3] for kind in Labels
    )
    assert [bool((edge < 200).any()) for edge in edges] == [True, False, False]


def test_slips_of_many_prints_go_over_to_the_next_sheet():
    pages = words(slips.pdf(CODES * 6, (Where.ENVELOPE,), Labels.OF_21, first=20))
    assert [len(page) // 2 for page in pages] == [2, 10]


def test_corner_slip_has_a_corner_drawn_and_the_envelope_slip_has_none():
    content = of_21(CODES[:1])
    corners = [cut(content, number)[20:70, -80:-15] for number in (0, 1)]
    assert [int((part < 128).sum()) > 50 for part in corners] == [False, True]


def test_words_of_a_screen_in_another_language_change_nothing_but_the_title():
    with translation.override("fr"):
        french = of_21()
    assert words(french) == words(of_21())


def photographs(count):
    """A slip under a telephone at any angle, at 150 dpi and packed as telephones do."""
    ink, chance = cut(of_21(), 0), np.random.default_rng(150)
    for seed in range(count):
        yield scanner.jpeg(scanner.flat(ink, chance.uniform(0, 360), seed), 60)


def test_slip_is_read_at_any_angle_at_150_dpi():
    assert [slips.read(one) for one in photographs(FEW)] == [[CODES[0]]] * FEW


@pytest.mark.long
def test_sixty_slips_are_read_at_any_angle_at_150_dpi(capsys):
    read = [slips.read(one) for one in photographs(MANY)]
    with capsys.disabled():
        print(f"\nslips, 150 dpi, any angle: {read.count([CODES[0]])} of {MANY} read")  # noqa: T201
    assert set(map(tuple, read)) <= {(CODES[0],), ()}, "none is read wrongly"
    assert read.count([CODES[0]]) >= 0.99 * MANY


def test_slips_of_one_print_beside_each_other_are_two_slips():
    pair = scanner.flat(cut(of_21(), 0, wide=2, dpi=300), 17)
    assert slips.read(scanner.jpeg(pair)) == [CODES[0]] * 2


def test_slips_of_two_prints_are_told_apart():
    pair = cut(of_21(where=(Where.ENVELOPE,)), 0, wide=2, dpi=300)
    assert sorted(slips.read(scanner.jpeg(scanner.flat(pair)))) == sorted(CODES)


def test_slip_from_aside_under_bad_light_is_read():
    ink = cut(of_21(), 0, dpi=300)
    for seed in range(4):
        assert slips.read(scanner.jpeg(scanner.photographed(ink, seed))) == [CODES[0]]


@pytest.mark.parametrize("sent", [b"", b"no picture", b"%PDF-1.7 and then nothing"])
def test_what_is_no_picture_holds_no_slip(sent):
    assert slips.read(sent) == []


def test_square_code_of_a_paper_or_of_somebody_else_is_no_slip():
    assert slips.read(scanner.jpeg(scanner.coded(70_042, 1))) == []
    assert [slips.is_slip(text) for text in ("ACDEFX", "acdefx", "ACDEFY", "ACDE9")] == [
        *(True, False, False, False)
    ]


def at(x, y, text="ACDEFX", side=100):
    corners = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    return Code(text, tuple(Point(*one) for one in corners))


def test_slip_that_was_read_twice_at_one_place_is_one_slip():
    seen = [at(0, 0), at(30, 10), at(0, 0, "K7M3PM"), at(120, 0)]
    assert list(slips._each_once(seen)) == ["ACDEFX", "K7M3PM", "ACDEFX"]


def test_slips_are_for_prints_that_are_made_and_in_nobodys_hands():
    assert not NEEDS_SLIPS & (ENDS | IN_THEIR_HANDS | NOT_OWED)


@pytest.mark.django_db
def test_who_sees_which_prints_among_those_that_need_slips():
    seen = made(cast.danuta(), "K12", "collected")
    made(cast.danuta(), "K13", "owed")
    grave = made(cast.ibrahima(), "K35", "checked", not_at_the_lab=True)
    unseen = made(cast.marcel(), "K01", "at_the_lab")
    for who in (cast.danuta(), cast.ibrahima()):
        cast.in_sight(who, cast.assistant())
    assert set(slips.waiting(cast.artist())) == {seen, grave, unseen}
    assert set(slips.waiting(cast.assistant())) == {seen}
    assert not slips.waiting(cast.keeper())
