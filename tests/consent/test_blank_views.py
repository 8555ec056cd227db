"""The page on which a trip's blanks are printed, and the list of what is out."""

import re
import uuid

import pypdfium2
import pytest
from django.urls import reverse

from relations.consent.models import Form
from relations.documents.models import Sheet
from relations.privacy.files import scans
from tests import cast
from tests.consent import desk
from tests.consent.test_blanks import meet, trip

pytestmark = pytest.mark.django_db


@pytest.fixture
def page(client):
    desk.frozen("fr", "ar")
    on = trip()
    meet(on, "fr"), meet(on, "pt"), meet(on, "")
    client.force_login(cast.assistant())
    return reverse("consent:blanks", args=["T7"])


def sent(client, page, **changed):
    carrier = cast.assistant()
    data = {"token": uuid.uuid4(), "kind": "adult", "carrier": str(carrier.pk), **changed}
    return client.post(page, data)


def test_page_proposes_counts_and_says_what_is_refused(client, page):
    shown = client.get(page).content.decode()
    count = re.search(r'<input[^>]*name="count_fr"[^>]*>', shown)[0]
    assert 'value="2"' in count
    assert "count_pt" not in shown
    assert "a second person must read it first" in shown
    assert "Ask which language they want to answer in." in shown


def test_same_post_twice_makes_one_batch(client, page):
    token = uuid.uuid4()
    for _ in range(2):
        answer = sent(client, page, token=token, count_fr="1", count_ar="2")
        assert (answer.status_code, answer.url) == (302, page)
    assert Form.objects.count() == 3
    shown = client.get(page).content.decode()
    for serial in Sheet.objects.values_list("serial", flat=True):
        assert serial in shown
    assert cast.assistant().called in shown
    found = client.get(reverse("consent:blanks_pdf", args=["T7"]))
    assert found["Content-Type"] == "application/pdf"
    with pypdfium2.PdfDocument(found.content) as pdf:
        assert len(pdf) == 6


def test_nothing_asked_is_refused_beside_what_was_typed(client, page):
    answer = sent(client, page, count_fr="0")
    assert answer.status_code == 422
    assert "Say how many, in one language at least." in answer.content.decode()
    assert not Form.objects.exists()


def test_without_a_blank_there_is_nothing_to_print_and_a_damaged_one_is_said(client, page):
    pdf = reverse("consent:blanks_pdf", args=["T7"])
    assert client.get(pdf).status_code == 404
    sent(client, page, count_fr="1")
    scans().delete(Sheet.objects.get().kept)
    answer = client.get(pdf)
    assert answer.status_code == 409
    assert "not as they were kept" in answer.content.decode()


def test_form_of_a_trip_leads_to_its_blanks_and_says_its_kind(client, page):
    sent(client, page, count_fr="1", kind="child")
    serial = Sheet.objects.get().serial
    shown = client.get(reverse("consent:detail", args=[serial])).content.decode()
    assert page in shown and "for a child" in shown
