"""A code is typed with its slip named, two slips are compared, and a sheet has room."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import InMemoryUploadedFile, SimpleUploadedFile

from relations.prints import slips
from relations.prints.labels import Labels
from relations.prints.models import fresh_code
from relations.prints.slip_forms import FindForm, SlipForm
from relations.prints.slips import BOTH, Where
from relations.privacy.uploads import TooLarge
from tests import cast
from tests.documents import scanner
from tests.prints.frames import made
from tests.prints.test_slips import cut

pytestmark = pytest.mark.django_db


def find(user=None, photograph=None, **said):
    files = {"photograph": photograph} if photograph else None
    form = FindForm({"token": str(uuid4()), **said}, files, user=user or cast.artist())
    form.is_valid()
    return form


def photograph(content):
    return SimpleUploadedFile("slip.jpg", content, "image/jpeg")


def seen(codes, where=BOTH, wide=2):
    content = slips.pdf(codes, where, Labels.OF_21)
    return photograph(scanner.jpeg(scanner.flat(cut(content, 0, wide, dpi=300), 40)))


def errors(form):
    return {name: " ".join(map(str, said)) for name, said in form.errors.items()}


@pytest.mark.parametrize("typed", ["ACDEFX", "acd efx", " ACD-EFX ", "acd\u2013efx"])
def test_code_leads_to_its_print_however_it_is_typed(typed):
    row = made(cast.danuta(), code="K12")
    row.code = "ACDEFX"
    row.save()
    form = find(code=typed)
    assert (form.errors, form.row, form.is_pair) == ({}, row, False)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("ACDEF", "The code of a print has six letters and figures."),
        ("ACOEFX", "No code holds O. If all else is right, the slip says ACD EFX."),
        ("0COEFX", "No code holds 0, O. Look at the slip again."),
        ("ACDFEX", "One letter or two are wrong. Look at the slip again."),
        ("AC?EFX", "A code is made of letters and figures only."),
        ("ACDEFX", "No print that you may see bears this code."),
    ],
)
def test_what_is_wrong_with_a_typed_code_is_said_beside_it(typed, words):
    assert errors(find(code=typed)) == {"code": words}


def test_nothing_typed_and_nothing_photographed_is_said():
    assert errors(find()) == {"code": "Type the code, or choose a photograph."}


def test_print_out_of_sight_is_answered_as_one_that_is_not_there():
    row = made(cast.danuta())
    here, absent = (errors(find(cast.assistant(), code=code)) for code in (row.code, fresh_code()))
    assert here == absent == {"code": "No print that you may see bears this code."}
    cast.in_sight(cast.danuta(), cast.assistant())
    assert find(cast.assistant(), code=row.code).row == row


def test_envelope_and_print_with_one_code_are_a_pair():
    row = made(cast.danuta())
    form = find(code=row.code, other=row.code)
    assert (form.errors, form.is_pair, form.is_apart, form.row) == ({}, True, False, row)


def test_two_envelopes_that_are_swapped_are_found():
    one, two = made(cast.danuta()), made(cast.marcel(), "K01")
    for envelope, inside in ((one, two), (two, one)):
        form = find(code=envelope.code, other=inside.code)
        assert form.is_apart
        assert form.found == {envelope.code: envelope, inside.code: inside}
        assert errors(form) == {
            "__all__": "These slips do not belong together: their codes differ."
        }


def test_photograph_of_one_slip_leads_to_its_print():
    row = made(cast.danuta())
    form = find(photograph=seen([row.code], wide=1))
    assert (form.errors, form.row, form.is_pair) == ({}, row, False)


def test_photograph_of_envelope_and_corner_is_compared():
    one, two = made(cast.danuta()), made(cast.marcel(), "K01")
    form = find(photograph=seen([one.code]))
    assert (form.errors, form.row, form.is_pair) == ({}, one, True)
    form = find(photograph=seen([one.code, two.code], (Where.CORNER,)))
    assert form.is_apart and set(form.found.values()) == {one, two}


def test_photograph_of_a_print_out_of_sight_says_so_over_the_form():
    said = errors(find(photograph=seen([fresh_code()], wide=1)))
    assert said == {"__all__": "No print that you may see bears this code."}


def test_photograph_on_which_nothing_is_read_is_told():
    said = errors(find(photograph=photograph(scanner.jpeg(scanner.blank()))))
    assert said == {"photograph": "No slip could be read on it. Go nearer, or type the code."}


def test_photograph_that_was_too_large_is_told():
    made_small = InMemoryUploadedFile(None, "photograph", "x.jpg", "image/jpeg", 9, None)
    large = TooLarge(made_small, "photograph", "x.jpg", "image/jpeg", 2**26, None)
    assert errors(find(photograph=large)) == {
        "photograph": "This file is too large: 25 MB are the most."
    }


def slip_form(rows, chosen="", **said):
    data = {"token": str(uuid4()), "where": "both", "on": "21", **said} if said else None
    return SlipForm(data, rows=rows, chosen=chosen)


def test_what_was_collected_is_ticked_at_first_or_the_one_print_that_was_asked_for():
    rows = [made(cast.danuta(), "K12", "collected"), made(cast.marcel(), "K01", "at_the_lab")]
    assert slip_form(rows)["prints"].value() == [rows[0].code]
    assert slip_form(rows, chosen=rows[1].code)["prints"].value() == [rows[1].code]
    assert slip_form(rows, chosen="nowhere")["prints"].value() == [rows[0].code]


def test_print_in_the_list_is_told_by_codes_and_where_it_is():
    rows = [made(cast.danuta(), "K12", "collected"), made(cast.danuta(), "", "checked")]
    (code, said), (_, without) = slip_form(rows).fields["prints"].choices
    assert (code, said) == (rows[0].code, f"{code[:3]} {code[3:]} · 12 K12 · collected")
    assert without.endswith("12 – · checked")


def test_sizes_of_the_sheets_are_said():
    words = [said for _, said in slip_form([]).fields["on"].choices]
    assert words == [
        "Plain paper, to be cut: 21 of 63.5 × 38.1 mm",
        "Labels: 24 of 70 × 37 mm",
        "Labels: 21 of 63.5 × 38.1 mm",
    ]


@pytest.mark.parametrize(
    ("where", "wanted"), [("both", BOTH), ("envelope", BOTH[:1]), ("corner", BOTH[1:])]
)
def test_form_gives_what_is_printed(where, wanted):
    rows = [made(cast.danuta(), "K12", "collected")]
    form = slip_form(rows, prints=[rows[0].code], where=where, on="24", first="24")
    assert form.is_valid(), form.errors
    assert form.said == {
        "codes": [rows[0].code], "where": wanted, "on": Labels.OF_24, "first": 24,
    }  # fmt: skip
    form = slip_form(rows, prints=[rows[0].code])
    assert form.is_valid() and form.said["first"] == 1


def test_label_that_the_sheet_does_not_have_is_told():
    rows = [made(cast.danuta(), "K12", "collected")]
    said = errors(slip_form(rows, prints=[rows[0].code], first="22"))
    assert said == {"first": "This sheet has fewer labels."}
    assert errors(slip_form(rows, prints=[rows[0].code], first="30")) == said
    said = errors(slip_form(rows, prints=["ACDEFX"], on="", first="22"))
    assert set(said) == {"prints", "on"}
