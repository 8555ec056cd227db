"""The first reading beside its boxes: what opens nothing is filled in, and each yes is pressed."""

import pytest

from relations.consent import beside
from relations.consent.beside_forms import FirstReadForm, SettleBesideForm
from relations.consent.boxes import BLANK, whole
from relations.documents.marks import Mark
from tests import cast
from tests.consent import trials
from tests.consent.test_proposed import EVERY_BOX
from tests.consent.test_reading_forms import boxes

pytestmark = pytest.mark.django_db
PICTURE = "/forms/70042-74/boxes/"


class Seen(beside.Beside):
    """Pages on which these boxes are marked or not clear, without a scan."""

    def __init__(self, marked=(), unsure=(), pages=(1, 2)):
        layout = trials.printed().sheet.layout
        super().__init__(layout, dict.fromkeys(pages))
        here = {code for page in pages for code in trials.ticks(page, trials.printed())}
        held = dict.fromkeys((code for code in EVERY_BOX if code in here), Mark.EMPTY)
        held |= dict.fromkeys(marked, Mark.MARKED) | dict.fromkeys(unsure, Mark.UNSURE)
        object.__setattr__(self, "held", held)

    def marks(self):
        return self.held


def first(data=None, seen=None, layout=True):
    held = trials.printed().sheet.layout if layout else None
    return FirstReadForm(data, user=cast.assistant(), layout=held, picture=PICTURE, seen=seen)


def initial(form):
    return {name: field.initial for name, field in form.fields.items()}


def sent(form, **said):
    """The fresh form sent back as a browser does: what is filled in, and what was pressed."""
    filled = {
        name: value
        for name, value in ((name, form[name].value()) for name in form.fields)
        if value not in (None, "", False, [])
    }
    return FirstReadForm(
        {**filled, "way": "signed", **said},
        user=cast.assistant(),
        layout=form.layout,
        picture=PICTURE,
        seen=None,
    )


def test_blank_paper_is_filled_in_but_for_its_way_and_reads_as_blank():
    form = first(seen=Seen())
    assert form.fields["left_open"].initial == "way"
    back = sent(form)
    assert back.is_valid(), back.errors
    assert whole(back.answers) == dict(BLANK) | {"way": "signed"}


def test_no_yes_is_filled_in_and_each_is_asked_for():
    form = first(seen=Seen([code for code in EVERY_BOX if not code.endswith((".no", ".none"))]))
    start = initial(form)
    assert all(start[f"use_{use}"] is None for use in ("web", "book", "jury"))
    assert start["may_keep"] is start["copy_kept"] is start["no_face"] is None
    page = form.as_p()
    assert 'value="yes" checked' not in page
    back = sent(form)
    assert not back.is_valid()
    asked = {"use_web", "may_keep", "copy_kept", "seen_everywhere", "no_face", "show_first"}
    assert asked <= set(back.errors)


@pytest.mark.parametrize("pressed", ["yes", "no"])
def test_what_is_pressed_is_what_is_read(pressed):
    seen = Seen(["uses.web.yes", "may_keep.yes", "no_face", "seen_everywhere", "name_form.full"])
    said = dict.fromkeys(("use_web", "may_keep", "no_face", "seen_everywhere"), pressed)
    back = sent(first(seen=seen), **said, name_form="first")
    assert back.is_valid(), back.errors
    yes = pressed == "yes"
    assert whole(back.answers) == dict(BLANK) | {
        "way": "signed",
        "uses": ["web"] if yes else [],
        "may_keep": yes,
        "no_face": yes,
        "seen_everywhere": yes,
        "name_form": "first",
    }


def test_no_stands_as_no_and_what_is_not_clear_as_blank():
    form = first(seen=Seen(["uses.web.no", "may_keep.no"], ["uses.book.yes", "copy_kept.yes"]))
    start = initial(form)
    assert (start["use_web"], start["use_book"], start["use_jury"]) == ("no", "blank", "blank")
    assert (start["may_keep"], start["copy_kept"]) == ("no", "not_said")
    assert form.fields["use_book"].help_text.startswith("Not clear")
    assert form.fields["use_web"].help_text == form.fields["use_jury"].help_text == ""


def test_limit_that_is_not_clear_is_asked_for_with_other_words():
    form = first(seen=Seen(unsure=["no_face"]))
    assert form.fields["no_face"].help_text == "Not clear on the scan. Press what you see."
    assert "no_face" in sent(form).errors


@pytest.mark.parametrize(
    ("code", "field", "words"),
    [
        ("uses.web.yes", "use_web", "“yes”"),
        ("name_form.full", "name_form", "“full name”"),
        ("place_word.exact", "place_word", "“exact place”"),
        ("if_died.go_on", "if_died", "“go on”"),
        ("way.with_support", "way", "“with support”"),
    ],
)
def test_it_is_said_where_a_mark_is_seen(code, field, words):
    assert words in first(seen=Seen([code])).fields[field].help_text


def test_each_field_has_its_boxes_beside_it_also_when_it_is_sent_back():
    form = first(seen=Seen())
    again = sent(form, use_web="")
    for shown in (form, again):
        assert shown.fields["use_web"].beside.count("<svg") == 2
        assert shown.fields["name_form"].beside.count("<svg") == 4
        assert shown.fields["no_face"].beside.count("<svg") == 1
        assert f'href="{PICTURE}"' in shown.fields["use_web"].beside
        assert not hasattr(shown.fields["own_condition"], "beside")
        assert shown.why == ""


def test_boxes_of_a_page_that_was_not_found_are_read_by_hand():
    form = first(seen=Seen(["no_face"], pages=(2,)))
    assert form.why == "in_part"
    assert not hasattr(form.fields["use_web"], "beside")
    assert form.fields["use_web"].initial is None
    assert "use_web" in sent(form, no_face="yes").errors
    assert sent(form, no_face="yes").why == "in_part"


def test_form_whose_pages_were_not_found_is_as_by_hand():
    form = first(seen=beside.Beside(trials.printed().sheet.layout, {}))
    assert (form.why, form.pages) == ("not_found", set())
    back = sent(form, **boxes())
    assert back.is_valid(), back.errors


def test_paper_from_before_layouts_is_as_by_hand():
    form = first(seen=beside.Beside(None, {}), layout=False)
    assert form.why == "no_layout"
    assert "beside" not in vars(form.fields["use_web"])


def test_what_a_browser_makes_up_of_pages_and_boxes_is_passed_over():
    form = first(boxes(found="9x-<b>", left_open="agreed_name nothing uses.web"))
    assert form.is_valid(), form.errors
    assert form.why == "not_found"


def test_what_differs_stands_beside_its_boxes():
    both = [(True, "yes"), (False, "no")]
    form = SettleBesideForm(
        user=cast.artist(),
        boxes=[("uses.web", "Web", both), ("given_on", "Day", [("a", "a")])],
        layout=trials.printed().sheet.layout,
        picture=PICTURE,
        seen=Seen(),
    )
    assert form.fields["box_1"].beside.count("<svg") == 2
    assert not hasattr(form.fields["box_2"], "beside")
    assert form.fields["box_1"].initial is None
