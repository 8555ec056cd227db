"""The pages of the lab: order, slip, hand over, collect and check, prices, files."""

import time

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from relations.meetings.models import Trip
from relations.pictures.models import Sitting
from relations.prints.models import LabOrder, Print
from relations.privacy.ending import SURE_AT
from tests import cast
from tests.cast import days
from tests.prints import sent
from tests.prints.frames import made
from tests.prints.sent import text
from tests.prints.test_stripping import telling
from tests.rows import make

pytestmark = pytest.mark.django_db
DAY = "2026-11-23"


@pytest.fixture
def hand(hand):
    session = hand.session
    session[SURE_AT] = time.time()
    session.save()
    return hand


def post(client, url, **said):
    return sent.post(client, url, **{"on": DAY, **said})


def ordering(row, **said):
    said = {"take": "on", "size": "8 x 10 in", "price": "12,50", "was": row.state, **said}
    return {"surface": "matt", **{f"{name}-{row.pk}": value for name, value in said.items()}}


def test_an_order_goes_from_the_list_to_the_window(hand):
    make(Trip, code="T7", first_day=days(-3), last_day=days(3), currency="EUR", print_budget=10)
    row = made(cast.danuta(), "K12", "file_ready", size="small")
    page = text(hand.get("/prints/lab/"))
    assert "Order now: 1 print is waiting." in page and "The trip ends within a week." in page
    response = post(hand, "/prints/lab/", **ordering(row))
    order = LabOrder.objects.get()
    assert response.url == f"/prints/lab/{order.code}/"
    page = text(hand.get(response.url))
    assert "Ordered, not handed over yet." in page and "12.50 EUR" in page
    assert "2.50 EUR more than the sum set aside" in page.replace("</bdi>", "")
    slip = post(hand, f"{response.url}slip/")
    assert (slip["Content-Type"], slip.content[:4]) == ("application/pdf", b"%PDF")
    assert post(hand, f"{response.url}handed-over/").url == response.url
    assert "1 print is not back yet." in text(hand.get(response.url))
    assert "Still at the lab" in text(hand.get(f"{response.url}collect/"))
    sent = {"line-1": "colour", "spoilt": "2", "waste_slip": "1"}
    assert post(hand, f"{response.url}collect/", **sent).url == response.url
    page = text(hand.get(response.url))
    assert "1 spoilt print was left at the lab." in page and "The colour is wrong" in page
    assert Print.objects.get().state == "faulty"
    assert "The colour is wrong" in text(hand.get("/prints/12/K12/"))


def at_the_lab(hand, *rows):
    sent = {name: value for row in rows for name, value in ordering(row).items()}
    url = post(hand, "/prints/lab/", **sent).url
    post(hand, f"{url}handed-over/")
    return url


def test_each_line_says_the_code_of_its_slips_and_leads_to_them_once_checked(hand):
    cast.in_sight(cast.marcel(), cast.assistant())
    row, other = made(cast.danuta(), "K12", "file_ready"), made(cast.marcel(), "K01", "file_ready")
    url = at_the_lab(hand, row, other)
    said = f"{row.code[:3]} {row.code[3:]}"
    assert said in text(hand.get(url)) and f"K12 · 12 · {said}" in text(hand.get(f"{url}collect/"))
    one, two = (LabOrder.objects.get().lines.get(print=one).number for one in (row, other))
    post(hand, f"{url}collect/", **{f"line-{one}": "good", f"line-{two}": "collected"})
    page = text(hand.get(url))
    assert "1 print is not checked yet." in page
    to_slips = f"/prints/slips/?order={url.split('/')[-2]}"
    assert f'href="{to_slips}"' in page
    form = hand.get(to_slips).context["form"]
    assert set(form["prints"].initial) == {row.code, other.code}


def test_a_lost_print_is_ordered_again_and_then_only_noted(hand):
    row = made(cast.danuta(), "K12", "file_ready")
    url = at_the_lab(hand, row)
    post(hand, f"{url}collect/", **{"line-1": "lost"})
    page = text(hand.get(url))
    assert "1 print has to be made again. Order it." in page and "Order again" in page
    assert "Slips to print" not in page and "Count again" in page
    row.refresh_from_db()
    post(hand, "/prints/lab/", **ordering(row))
    page = text(hand.get(url))
    assert "1 print was lost at the lab." in page and "Order again" not in page


def test_sizes_and_prices_that_cannot_be_are_named_beside_their_field(hand):
    row = made(cast.danuta(), "K12", "file_ready")
    for said, words in (
        ({"size": "8x10"}, "Say inches, centimetres or millimetres"),
        ({"price": "1,234"}, "This may mean two sums"),
        ({"take": ""}, "Choose at least one print."),
    ):
        response = post(hand, "/prints/lab/", **ordering(row, **said))
        assert response.status_code == 422
        assert words in text(response)
    assert not LabOrder.objects.exists()
    assert post(hand, "/prints/lab/", **ordering(row, price="")).status_code == 302


def test_a_print_that_is_not_for_the_lab_stands_apart_and_for_a_hand_as_an_instruction(
    client, hand
):
    made(cast.danuta(), "K12", "file_ready", not_at_the_lab=True)
    page = text(hand.get("/prints/lab/"))
    assert "Nothing waits for the lab." in page and "Keep it for them." in page
    assert "Print these elsewhere" not in page and ">K12<" not in page
    page = text(cast.signed_in(client, cast.artist()).get("/prints/lab/"))
    assert "Print these elsewhere" in page and "K12" in page and "Keep it for them." not in page


def test_a_line_that_was_taken_off_is_an_instruction_to_a_hand(hand):
    row = made(cast.danuta(), "K12", "file_ready", size="8 x 10 in")
    url = post(hand, "/prints/lab/", **ordering(row)).url
    assert "8 × 10 in" in text(hand.get(url))
    Print.objects.update(not_at_the_lab=True)
    page = text(hand.get(url))
    assert "Keep it for them." in page
    assert not any(said in page for said in ("8 × 10 in", row.code[:3], ">K12<"))


def test_somebody_found_to_be_in_danger_is_led_back_to_the_list(hand):
    danuta = cast.danuta()
    row = made(danuta, "K12", "file_ready")
    danuta.level = "grave"
    danuta.save()
    assert post(hand, "/prints/lab/", **ordering(row)).url == "/prints/lab/"
    assert "Keep it for them." in text(hand.get("/prints/lab/"))


def test_prices_come_later_and_a_comma_is_a_comma(hand):
    row = made(cast.danuta(), "K12", "file_ready")
    url = post(hand, "/prints/lab/", **ordering(row, price="")).url
    assert post(hand, f"{url}prices/", **{"price-1": "x"}).status_code == 422
    assert post(hand, f"{url}prices/", **{"price-1": "9,9"}).url == url
    assert "9.90" in text(hand.get(url))


def test_full_files_come_back_named_by_code(hand):
    row = made(cast.danuta(), "K12", "file_ready")
    url = post(hand, "/prints/lab/", **ordering(row)).url
    file = SimpleUploadedFile("Danuta.jpg", telling("JPEG"), "image/jpeg")
    response = post(hand, f"{url}files/", **{"file-K12": file})
    assert response["Content-Type"] == "application/zip"
    assert b"K12.jpg" in response.content and b"Danuta" not in response.content
    assert post(hand, f"{url}files/").status_code == 422


def test_a_file_that_is_no_picture_is_named_beside_its_own_field(hand):
    cast.in_sight(cast.marcel(), cast.assistant())
    rows = made(cast.danuta(), "K12", "file_ready"), made(cast.marcel(), "K01", "file_ready")
    sent = {name: value for row in rows for name, value in ordering(row).items()}
    url = post(hand, "/prints/lab/", **sent).url
    files = {
        "file-K12": SimpleUploadedFile("a.jpg", telling("JPEG"), "image/jpeg"),
        "file-K01": SimpleUploadedFile("b.jpg", b"hello", "image/jpeg"),
    }
    errors = post(hand, f"{url}files/", **files).context["form"].errors
    assert errors == {"file-K01": ["The lab is given JPEG or PNG files. Save it as one of these."]}


def test_a_file_beyond_the_limit_is_named(hand, settings):
    settings.UPLOAD_BYTES = 10
    url = post(hand, "/prints/lab/", **ordering(made(cast.danuta(), "K12", "file_ready"))).url
    file = SimpleUploadedFile("a.jpg", telling("JPEG"), "image/jpeg")
    assert "larger than 25 MB" in text(post(hand, f"{url}files/", **{"file-K12": file}))


def test_the_artist_sees_what_is_usual_and_the_assistant_does_not(client, hand):
    trip = make(Trip, code="T7", first_day=days(-3), last_day=days(3), currency="EUR")
    make(Sitting, trip=trip, minutes=200).sitters.add(cast.danuta())
    assert "Beside what is usual" not in text(hand.get("/prints/lab/"))
    page = text(cast.signed_in(client, cast.artist()).get("/prints/lab/"))
    assert "Beside what is usual" in page and "longer than is usual" in page
