"""The pages of closing: for the artist alone, and nothing happens there without a press."""

import time
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.people.models import Participant
from relations.prints.models import Print, Promise
from relations.privacy.ending import SURE_AT
from relations.rights.closing_forms import ClosingForm, EndPrintForm
from relations.rights.models import Closing, Ending
from tests import cast
from tests.cast import days
from tests.prints.frames import made
from tests.rows import make

pytestmark = pytest.mark.django_db
CLOSING = "rights:closing"


@pytest.fixture
def artist(client):
    cast.signed_in(client, cast.artist())
    session = client.session
    session[SURE_AT] = time.time()
    session.save()
    return client


def press(client, page, token=None, **said):
    return client.post(reverse(page), {"token": token or str(uuid4()), **said})


def words(answer):
    return " ".join(answer.content.decode().split())


def looked(client):
    return words(client.get(reverse(CLOSING)))


def sent(client, row, **said):
    usual = {"decided_by": "Ines", "why": "no word since 2024", "on": days(0).isoformat()}
    address = reverse("rights:end_print", args=[row.pk])
    form = {"token": str(uuid4()), "was": row.state, **usual, **said}
    return client.post(address, form)


def test_page_says_what_lacks_its_ending_and_looking_changes_nothing(artist):
    row = made(cast.danuta(), state="kept_for_them")
    make(Promise, person=cast.danuta(), kind="book_copy", promised_on=days(-9))
    page = looked(artist)
    for expected in (
        "Nobody has said that it is to close.", "2 still lack their endings.",
        "Kept for them since 22 November 2026.", "A copy of the book · ", "It is to close",
        "Ask once more; then somebody with a name decides, and says why.",
    ):  # fmt: skip
        assert expected in page
    assert "Close the project" not in page
    assert reverse("rights:end_print", args=[row.pk]) not in page
    assert not Closing.objects.exists()


def test_whole_way_from_the_first_press_to_the_last(artist):
    row = made(cast.danuta(), state="kept_for_them")
    promise = make(Promise, person=cast.danuta(), kind="book_copy", promised_on=days(-9))
    assert press(artist, "rights:begin_closing").status_code == 302
    page = looked(artist)
    assert "To close: said on 23 November 2026 by" in page
    assert reverse("rights:end_print", args=[row.pk]) in page
    early = press(artist, "rights:close_project")
    assert (early.status_code, "Something still lacks its ending." in words(early)) == (422, True)
    assert sent(artist, row, ending="destroyed").status_code == 302
    end = reverse("prints:end_promise", args=[promise.pk])
    said = {"token": str(uuid4()), "how": "could_not", "why": "no book", "on": days(0).isoformat()}
    assert artist.post(end, said).status_code == 302
    page = looked(artist)
    for expected in ("Nothing lacks its ending.", "Prints destroyed", "Decided by", "Destroyed."):
        assert expected in page
    for person in Participant.objects.all():
        make(Ending, person=person)
    assert press(artist, "rights:close_project").status_code == 302
    assert "Closed on 23 November 2026 by" in looked(artist)
    assert press(artist, "rights:call_off_closing").status_code == 302
    assert "Nobody has said that it is to close." in looked(artist)


def test_same_press_sent_twice_is_stored_once(artist):
    token = str(uuid4())
    assert press(artist, "rights:begin_closing", token).status_code == 302
    assert press(artist, "rights:begin_closing", token).status_code == 302
    assert Closing.objects.count() == 1


def test_presses_of_one_page_do_not_take_one_another_for_themselves():
    token = {"token": str(uuid4())}
    forms = [ClosingForm(token, what=what) for what in ("begin", "call_off", "close")]
    assert all(form.is_valid() for form in forms)
    assert len({form.token for form in forms}) == 3


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ({"ending": "archive"}, "Not everybody in this picture says yes to an archive there"),
        ({"ending": "given_to_speaker"}, "Nobody speaks for them"),
        ({"ending": "archive", "countries": "XX"}, "No country has the letters XX."),
        ({"ending": "destroyed", "decided_by": ""}, "This field is required."),
        ({"ending": "destroyed", "why": ""}, "This field is required."),
        ({"ending": "destroyed", "on": "2026-11-24"}, "This day has not come yet."),
        ({"ending": "destroyed", "was": "lost"}, "Somebody noted a step since"),
        ({}, "This field is required."),
    ],
)
def test_bad_input_is_said_in_words_and_what_was_typed_stays(artist, said, expected):
    press(artist, "rights:begin_closing")
    row = made(cast.danuta(), state="kept_for_them")
    answer = sent(artist, row, **{"why": "zq typed this", **said})
    assert answer.status_code == 422
    assert expected in words(answer)
    assert "zq typed this" in words(answer) or said.get("why") == ""
    row.refresh_from_db()
    assert row.state == "kept_for_them"


def test_before_the_first_press_the_page_says_so_and_refuses(artist):
    row = made(cast.danuta(), state="kept_for_them")
    page = words(artist.get(reverse("rights:end_print", args=[row.pk])))
    assert "Prints are closed out only when the project closes." in page
    answer = sent(artist, row, ending="destroyed")
    assert (answer.status_code, Print.objects.get().state) == (422, "kept_for_them")


def test_what_came_to_nothing_is_ended_with_an_apology(artist):
    press(artist, "rights:begin_closing")
    row = made(cast.danuta(), "", state="nothing_to_print")
    answer = sent(artist, row)
    assert (answer.status_code, "An apology is owed first." in words(answer)) == (422, True)
    assert sent(artist, row, apology_given="on").status_code == 302
    assert Print.objects.get().closed_how == "apology"


@pytest.mark.parametrize(
    ("state", "asked"),
    [
        ("kept_for_them", {"ending", "countries"}),
        ("nothing_to_print", {"apology_given"}),
        ("lost", set()),
        ("owed", set()),
    ],
)
def test_only_what_bears_on_this_print_is_asked(state, asked):
    form = EndPrintForm(print=made(cast.danuta(), state=state))
    assert set(form.fields) == asked | {"decided_by", "why", "on", "was", "token"}


@pytest.mark.parametrize("user", [cast.assistant, cast.keeper, cast.wording_reader])
def test_nobody_else_finds_the_page(client, user):
    cast.signed_in(client, user())
    assert client.get(reverse(CLOSING)).status_code == 404
