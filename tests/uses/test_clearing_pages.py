"""What the pages of sheets show, and the paper: one language, grey, number and day on each page."""

import io
from datetime import date

import numpy as np
import pikepdf
import pypdfium2
import pytest

from relations.consent.models import ConditionDecision
from relations.people.models import Participant
from relations.uses import clearing, clearing_pages
from relations.uses.clearances import Instruction, Line, State
from relations.uses.models import ClearanceSheet
from tests import cast
from tests.rows import make
from tests.uses import plans, sheets

pytestmark = pytest.mark.django_db
MANY = [
    Line(f"K{number:02}", "سعاد، 2023" if number % 2 else "Danuta Wielgosz, 2025")
    for number in range(1, 41)
]
MANY[2] = Line("K03", "Abdelkader", (Instruction.WAIT,))
TWO = (Instruction.UNTIL, Instruction.WRITTEN)
MANY[3] = Line("K04", "राम, 2024", TWO, date(2027, 3, 1), "Low.")


@pytest.fixture
def plan():
    return sheets.few()


def paper(language):
    sheet = make(ClearanceSheet, number=7, language=language, made_at=cast.moment())
    return clearing_pages.paper(clearing.Look(sheet, State.OPEN, MANY))


@pytest.mark.parametrize(
    ("language", "said"),
    [("en", ("Sheet 7", "23 November 2026", "valid to 24 November 2026")), ("ar", ("7", "2026"))],
)
def test_paper_says_number_and_day_on_every_page_and_is_tagged(language, said):
    content = paper(language)
    with pikepdf.open(io.BytesIO(content)) as pdf:
        assert (str(pdf.Root.Lang), bool(pdf.Root.MarkInfo.Marked)) == (language, True)
        assert set(pdf.docinfo.keys()) <= {"/Title", "/Producer"}
        assert str(pdf.docinfo["/Title"]) == "7"
    pages = list(pypdfium2.PdfDocument(content))
    assert len(pages) > 1
    for page in pages:
        words = page.get_textpage().get_text_range()
        assert all(one in words for one in said), words
        drawn = page.render(scale=0.5).to_numpy()[..., :3].astype(int)
        assert int(np.ptp(drawn, axis=-1).max()) == 0, "grey needs no colour"


def test_paper_says_what_to_do_and_no_reason():
    pages = pypdfium2.PdfDocument(paper("en"))
    words = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    assert "Wait. Do not show it before the artist’s word stands here." in words
    assert "Take it down on 1 March 2027 at the latest" in words
    assert "Low." in words
    assert "May be shown" in words or "May hang" in words
    assert "Never for training machines" in words


def test_candidates_are_what_is_cleared_now_with_conditions_in_their_own_hand(plan):
    form = Participant.objects.get(code="12").forms.get()
    form.own_condition = "not beside the owner"
    form.save()
    make(ConditionDecision, form=form, use="exhibition", can=True)
    found = {one.line.picture: one for one in clearing_pages.candidates(plan, plans.TODAY)}
    assert tuple(found) == sheets.CLEARED
    assert found["K12"].own == ("not beside the owner",)
    assert found["K12"].asks_words
    assert not found["K01"].asks_words
    assert found["K01"].line.caption == "By the dry dock, K01"


def test_a_link_is_seen_until_it_is_over_or_locked(plan):
    sheet = sheets.sheet(plan)
    assert clearing_pages.link_of(sheet, plans.TODAY) is None
    sheet.link_ends_on, sheet.wrong_phrases = plans.TODAY, 20
    seen = clearing_pages.link_of(sheet, plans.TODAY)
    assert (seen.ends_on, seen.is_locked, seen.is_over) == (plans.TODAY, True, False)
    assert clearing_pages.link_of(sheet, cast.days(1)).is_over


def test_a_list_says_how_each_sheet_stands(plan):
    sheets.sheet(plan)
    sheets.sheet(plan)
    found = clearing_pages.listed(clearing.sheets(), plans.TODAY)
    assert [(one.sheet.number, one.state) for one in found] == [
        (2, State.OPEN),
        (1, State.REPLACED),
    ]
