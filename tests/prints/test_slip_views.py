"""The pages of slips: a print is found by its code, swapped envelopes are named, slips are made."""

import pypdfium2
import pytest

from relations.prints.models import LabLine, LabOrder
from relations.privacy.models import AccessEntry
from tests import cast
from tests.house.asking import without_chance
from tests.prints.frames import made
from tests.prints.sent import post, text
from tests.rows import make

pytestmark = pytest.mark.django_db


def last_line():
    entry = AccessEntry.objects.order_by("-seq").first()
    return (entry.verb, entry.kind, entry.key)


def test_code_on_a_slip_leads_to_the_way_of_its_print_and_is_logged(hand):
    row = made(cast.danuta(), state="collected")
    assert "Find a print" in text(hand.get("/prints/find/"))
    assert post(hand, "/prints/find/", code=row.code.lower()).url == "/prints/12/K12/"
    assert last_line() == ("read", "prints.print", cast.danuta().log_key)
    page = text(hand.get("/prints/12/K12/"))
    assert f">{row.code[:3]} {row.code[3:]}<" in page
    assert f'href="/prints/slips/?print={row.code}"' in page


def test_print_without_a_picture_is_found_by_its_code_too(hand):
    row = made(cast.danuta(), "", "kept_for_them")
    assert post(hand, "/prints/find/", code=row.code).url == "/prints/12/no-picture/"


def test_look_alike_is_named_and_nothing_is_logged(hand):
    before = AccessEntry.objects.count()
    response = post(hand, "/prints/find/", code="ACOEFX")
    assert response.status_code == 422
    page = text(response)
    assert "No code holds O. If all else is right, the slip says ACD EFX." in page
    assert 'value="ACOEFX"' in page
    assert AccessEntry.objects.count() == before


def test_envelope_and_print_that_belong_together_are_said_to(hand):
    row = made(cast.danuta(), state="collected")
    page = text(post(hand, "/prints/find/", code=row.code, other=row.code))
    assert "They belong together" in page and "Print 12 K12 ·" in page
    assert 'href="/prints/12/K12/"' in page


def test_two_envelopes_swapped_are_found_at_checking_and_both_are_named(artist):
    one, two = made(cast.danuta(), "K12", "collected"), made(cast.marcel(), "", "collected")
    response = post(artist, "/prints/find/", code=one.code, other=two.code)
    assert response.status_code == 422
    page = text(response)
    assert "These slips do not belong together" in page
    assert 'href="/prints/12/K12/"' in page
    assert f'href="/prints/{two.person.code}/no-picture/"' in page
    assert one.state == two.state == "collected"


def test_of_two_slips_the_one_out_of_sight_stays_nobodys(hand):
    mine, other = made(cast.danuta(), "K12", "collected"), made(cast.marcel(), "K01", "collected")
    page = text(post(hand, "/prints/find/", code=mine.code, other=other.code))
    assert "No print that you may see bears this code." in page
    assert "K01" not in without_chance(page)


def test_slips_are_made_of_the_prints_that_are_ticked_and_it_is_logged(artist):
    row, other = made(cast.danuta(), "K12", "collected"), made(cast.marcel(), "K01", "at_the_lab")
    page = text(artist.get("/prints/slips/"))
    assert row.code in page and other.code in page and "K12" in page
    for name in ("Danuta", "Marcel"):
        assert name not in page
    response = post(artist, "/prints/slips/", prints=[row.code], where="both", on="plain")
    assert response["Content-Type"] == "application/pdf"
    assert response["Content-Disposition"] == 'inline; filename="slips.pdf"'
    (sheet,) = pypdfium2.PdfDocument(response.content)
    assert sheet.get_textpage().get_text_range().split() == [row.code[:3], row.code[3:]] * 2
    assert last_line() == ("printed", "prints.slips", None)


def test_slips_of_an_order_are_ticked_and_an_order_out_of_sight_is_not_there(hand):
    order = make(LabOrder)
    mine, other = made(cast.danuta(), "K12", "checked"), made(cast.marcel(), "K01", "collected")
    make(LabLine, order=order, print=mine, number=1, came="good")
    form = hand.get(f"/prints/slips/?order={order.code}").context["form"]
    assert form["prints"].initial == [mine.code]
    apart = make(LabOrder, code="L9999")
    make(LabLine, order=apart, print=other, number=1)
    assert hand.get("/prints/slips/?order=L9999").status_code == 404


def test_slips_of_nothing_are_refused_and_of_a_print_out_of_sight_cannot_be_asked_for(hand):
    row, unseen = made(cast.danuta(), "K12", "collected"), made(cast.marcel(), "K01", "collected")
    for prints in ([], [unseen.code], [row.code, unseen.code]):
        response = post(hand, "/prints/slips/", prints=prints, where="both", on="plain")
        assert response.status_code == 422
    assert "Choose at least one print." in text(post(hand, "/prints/slips/"))


def test_page_of_slips_without_any_print_says_so(artist):
    made(cast.danuta())
    assert "No print is on its way that needs a slip." in text(artist.get("/prints/slips/"))


def test_slip_of_what_is_not_made_at_the_lab_is_the_artists_alone(client):
    grave = made(cast.ibrahima(), "K35", "checked", not_at_the_lab=True)
    cast.in_sight(cast.ibrahima(), cast.assistant())
    hand = cast.signed_in(client, cast.assistant())
    assert grave.code not in text(hand.get("/prints/slips/"))
    assert "/prints/slips/" not in text(hand.get("/prints/35/K35/"))
    assert grave.code in text(cast.signed_in(client, cast.artist()).get("/prints/slips/"))
