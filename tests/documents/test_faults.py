"""What the pages say where a paper could not be made; by the page that makes a proof."""

import pytest
from django.urls import reverse

from relations.consent.models import Clause, Form
from relations.documents.columns import MarkupError
from relations.documents.models import Sheet
from relations.documents.render import MissingLetters, OutsideAddress, RenderFault
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
PROOF = ("fr", "ar")


def proof(client, monkeypatch, error=None):
    desk.wordings()
    if error:

        def fail(_papers):
            raise error

        monkeypatch.setattr("relations.consent.printing.paper.pdfs", fail)
    return client.get(reverse("consent:proof", args=PROOF))


def test_letters_that_no_font_has_are_named_on_the_page(client, monkeypatch):
    desk.wordings()
    Clause.objects.filter(wording__language="fr", key="plain").update(text="Bonjour தமிழ்")
    cast.signed_in(client, cast.artist())
    answer = client.get(reverse("consent:proof", args=PROOF))
    assert answer.status_code == 422
    page = answer.content.decode()
    for letter in "தமிழ்":
        assert f"U+{ord(letter):04X} {letter}" in page
    assert "Bonjour" not in page
    assert (Form.objects.count(), Sheet.objects.count()) == (0, 0)


@pytest.mark.parametrize(
    "error, says",
    [
        (MissingLetters(["U+0BA4 த"]), "None of our fonts"),
        (OutsideAddress(["file:///etc/kaveri"]), "markup or an address"),
        (MarkupError(), "markup or an address"),
        (RenderFault(["kaveri"]), "could not be laid out"),
    ],
)
def test_page_says_why_and_repeats_nothing_of_the_paper(client, monkeypatch, error, says):
    cast.signed_in(client, cast.artist())
    answer = proof(client, monkeypatch, error)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert says in page
    assert "kaveri" not in page


def test_other_errors_are_left_to_those_who_answer_for_them(client, monkeypatch):
    cast.signed_in(client, cast.artist())
    with pytest.raises(ZeroDivisionError):
        proof(client, monkeypatch, ZeroDivisionError())


def test_paper_that_was_made_passes_through(client, monkeypatch):
    monkeypatch.setattr("relations.consent.printing.paper.pdfs", lambda _papers: [b"%PDF-"])
    cast.signed_in(client, cast.artist())
    assert proof(client, monkeypatch).content == b"%PDF-"
