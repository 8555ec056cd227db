"""Pages of one form, through the client: moved, scanned, read blind, settled, answered."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.consent import proposed
from relations.consent.models import Form, GuardianAnswer, SpeakerAnswer
from relations.consent.states import State as FormState
from relations.people.models import Speaker
from relations.privacy.models import AccessEntry
from tests import cast
from tests.consent import desk, trials
from tests.consent.test_reading_forms import boxes

pytestmark = pytest.mark.django_db
ONE = ["detail", "pdf", "move", "scan", "boxes", "read", "settle", "answers", "guardian"]
ARTIST_ONLY = {"settle", "answers", "guardian"}


def at(name, serial=None):
    more = [1] if name == "scan" else []
    return reverse(f"consent:{name}", args=[serial or desk.serial(), *more])


def post(client, name, **said):
    return client.post(at(name), {"token": str(uuid4()), **said})


@pytest.mark.parametrize("name", ONE)
def test_page_of_a_form_refuses_a_stranger_and_the_roles_that_see_no_form(client, name):
    desk.filed()
    assert client.get(at(name)).status_code == 302
    for user in (cast.wording_reader(), cast.keeper()):
        assert cast.signed_in(client, user).get(at(name)).status_code == 404


@pytest.mark.parametrize("name", sorted(ARTIST_ONLY))
def test_what_it_says_is_the_artists(client, name):
    desk.standing()
    assert cast.signed_in(client, cast.assistant()).get(at(name)).status_code == 404
    assert cast.signed_in(client, cast.artist()).get(at(name)).status_code == 200


@pytest.mark.parametrize("name", ["detail", "pdf", "scan", "boxes"])
def test_page_that_only_shows_takes_no_post(client, name):
    desk.filed()
    assert cast.signed_in(client, cast.artist()).post(at(name)).status_code == 405


@pytest.mark.parametrize("name", ["move", "settle", "answers", "guardian"])
def test_empty_post_is_answered_with_what_is_wrong(client, name):
    form = desk.read_twice(desk.filed(), desk.WHOLE, desk.WHOLE | {"no_face": True})
    assert form.state == FormState.DOUBTFUL
    cast.signed_in(client, cast.artist())
    assert client.post(at(name), {"press": "1"}).status_code == 422


def test_serial_that_is_not_there_is_absent(client):
    cast.signed_in(client, cast.artist())
    assert client.get(at("detail", desk.serial(70_099))).status_code == 404


def test_paper_is_moved_by_a_press(client):
    desk.paper(person=cast.bruno(), state=FormState.PRINTED)
    cast.signed_in(client, cast.assistant())
    assert post(client, "move", to="carried", on="2026-11-23").status_code == 302
    form = Form.objects.get()
    assert (form.state, form.carried_by) == (FormState.CARRIED, cast.assistant())
    assert "Carried: say what became of it" in client.get(at("detail")).content.decode()


def test_paper_that_was_not_printed_here_is_not_printed_again(client):
    desk.paper(is_from_before=True, first_wording=None, second_wording=None)
    answer = cast.signed_in(client, cast.artist()).get(at("pdf"))
    assert answer.status_code == 409
    assert "It was not printed by this site." in answer.content.decode()


def test_page_that_no_longer_comes_out_as_printed_says_so(client, monkeypatch):
    monkeypatch.setattr("relations.consent.printing.paper.pdfs", lambda papers: [b"%PDF-"])
    desk.paper()
    answer = cast.signed_in(client, cast.artist()).get(at("pdf"))
    assert answer.status_code == 409
    assert "Print a new form instead" in answer.content.decode()


def test_scan_is_shown_and_each_look_leaves_a_line(client):
    desk.filed()
    for user in (cast.artist(), cast.assistant()):
        answer = cast.signed_in(client, user).get(at("scan"))
        assert (answer.status_code, answer["Content-Type"]) == (200, "image/png")
        assert answer["Content-Disposition"] == 'inline; filename="70042-74-1.png"'
    assert AccessEntry.objects.filter(kind="scan", verb="read").count() == 2


def test_form_is_read_blind_by_two_and_settled_where_they_differ(client):
    made = desk.sitting("12/T2", cast.danuta())
    desk.filed()
    cast.signed_in(client, cast.assistant())
    assert client.post(at("read"), boxes(use_web="yes", use_book="yes")).status_code == 302
    assert client.get(at("read")).status_code == 404  # not a second time

    cast.signed_in(client, cast.artist())
    assert "What acts for now" not in client.get(at("detail")).content.decode()
    assert 'value="yes" checked' not in client.get(at("read")).content.decode()
    said = boxes(use_book="yes", sittings=[str(made.pk)])
    assert client.post(at("read"), said).status_code == 302
    form = Form.objects.get()
    assert (form.state, form.uses) == (FormState.DOUBTFUL, ["book"])

    page = client.get(at("settle")).content.decode()
    assert "Web" in page and "Book" not in page
    assert post(client, "settle", box_1="0").status_code == 302
    form = Form.objects.get()
    assert (form.state, form.uses) == (FormState.STANDING, ["book", "web"])
    assert [*form.sittings.all()] == [made]


def test_reading_with_an_unread_box_keeps_what_was_typed(client):
    desk.filed()
    cast.signed_in(client, cast.assistant())
    answer = client.post(at("read"), boxes(use_web=None, own_condition="not in summer"))
    assert answer.status_code == 422
    assert "not in summer" in answer.content.decode()
    assert Form.objects.get().state == FormState.SCANNED


def test_answers_given_since_are_noted(client):
    made = desk.sitting("12/T2", cast.danuta())
    picture = desk.picture("K12", made, cast.danuta())
    form = desk.standing(show_first=True)
    cast.signed_in(client, cast.artist())
    said = {f"picture_{picture.pk}": "yes", "on": "2026-11-23", "sittings": [str(made.pk)]}
    assert post(client, "answers", **said).status_code == 302
    assert form.picture_answers.get().is_yes
    early = post(client, "answers", **said | {"on": "2026-11-01"})
    assert early.status_code == 422
    assert "before the day of the form" in early.content.decode()


def test_blank_of_nobody_has_no_answers_and_is_not_read(client):
    desk.paper(state=FormState.SCANNED)
    cast.signed_in(client, cast.artist())
    assert client.get(at("answers")).status_code == 404
    cast.signed_in(client, cast.assistant())
    assert client.get(at("read")).status_code == 404


def test_holders_of_authority_answer_one_by_one(client):
    desk.standing(person=cast.lucas())
    cast.signed_in(client, cast.artist())
    said = {"authority": "parent", "is_yes": "yes", "on": "2026-11-23"}
    for _time in range(2):
        assert post(client, "guardian", **said).status_code == 302
    assert post(client, "guardian", **said).status_code == 422
    assert GuardianAnswer.objects.count() == 2
    page = client.get(at("detail")).content.decode()
    assert "It stands" in page and "parent: yes" in page


def test_speaker_says_yes_to_one_use(client):
    person = cast.rachid()
    address = reverse("consent:speaker_says", args=[person.code])
    assert client.get(address).status_code == 302
    assert cast.signed_in(client, cast.assistant()).get(address).status_code == 404
    cast.signed_in(client, cast.artist())
    said = {"token": str(uuid4()), "use": "exhibition", "is_yes": "yes", "on": "2026-11-23"}
    refused = client.post(address, said)
    assert refused.status_code == 422
    assert "Nobody is named to speak for them" in refused.content.decode()
    Speaker.objects.create(person=person, speaker=cast.marcel(), named_on=cast.TODAY)
    assert client.post(address, said).status_code == 302
    assert SpeakerAnswer.objects.get().use == "exhibition"
    assert "Exhibition wall: yes" in client.get(address).content.decode()


def proposed_boxes():
    return [code for box in proposed.ALL for code in proposed.boxes(box)]


def looks():
    return AccessEntry.objects.filter(kind="scan", verb="read").count()


def test_first_reading_stands_beside_its_boxes_and_the_second_is_blind(client):
    trials.filed(trials.filled("uses.web.yes", "uses.book.no", "no_face"))
    cast.signed_in(client, cast.assistant())
    page = client.get(at("read")).content.decode()
    assert looks() == 1
    assert "A mark is seen at “yes”." in page
    assert page.count(f'<image href="{at("boxes")}"') == len(proposed_boxes())
    assert not re.search(r'<input[^>]*value="yes"[^>]*checked', page)
    assert re.search(r'<input[^>]*name="use_book"[^>]*value="no"[^>]*checked', page)
    answer = client.get(at("boxes"))
    assert (answer.status_code, answer["Content-Type"]) == (200, "image/webp")
    assert looks() == 2
    said = boxes(use_web="yes", no_face="yes", left_open="no_face way", found="12")
    assert client.post(at("read"), said).status_code == 302
    assert looks() == 2  # what is sent opens nothing again

    cast.signed_in(client, cast.artist())
    page = client.get(at("read")).content.decode()
    assert "<image" not in page and "A mark is seen" not in page
    assert looks() == 2
    assert client.post(at("read"), boxes(use_web="no")).status_code == 302

    page = client.get(at("settle")).content.decode()
    assert looks() == 3
    assert page.count("<image") == 3  # yes and no of the web, and the face
    assert "checked" not in page
    assert post(client, "settle").status_code == 422
    assert looks() == 3


def test_yes_that_was_not_pressed_is_asked_for_with_its_box_beside_it(client):
    trials.filed(trials.filled("no_face"))
    cast.signed_in(client, cast.assistant())
    answer = client.post(at("read"), boxes(left_open="no_face way", found="12"))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "<image" in page
    assert Form.objects.get().state == FormState.SCANNED
    assert looks() == 0


def test_assistant_opens_no_boxes_once_the_form_was_read(client):
    form = trials.filed(trials.filled("no_face"))
    desk.read_twice(form, desk.WHOLE)
    assert cast.signed_in(client, cast.assistant()).get(at("boxes")).status_code == 404
    assert looks() == 0
    assert cast.signed_in(client, cast.artist()).get(at("boxes")).status_code == 200


@pytest.mark.parametrize(
    ("filed", "words", "opened"),
    [
        (desk.filed, "printed before the places of its boxes were kept", 0),
        (lambda: trials.filed(desk.scan(200)), "could not be found on the scan for certain", 1),
        (
            lambda: trials.filed(trials.filled("no_face", pages=(2,))),
            "the boxes of the others are read by hand",
            1,
        ),
    ],
)
def test_form_that_cannot_be_read_by_its_places_says_why(client, filed, words, opened):
    filed()
    page = cast.signed_in(client, cast.assistant()).get(at("read")).content.decode()
    assert words in page
    assert looks() == opened


def test_assistant_who_may_not_open_the_scan_reads_by_hand(client):
    """A paper from before the site that is in doubt: it may be read, and has no scan to open."""
    form = desk.paper(70_042, cast.danuta(), state=FormState.DOUBTFUL)
    cast.in_sight(cast.danuta(), cast.assistant())
    answer = cast.signed_in(client, cast.assistant()).get(at("read"))
    assert answer.status_code == 200
    assert "left_open" not in answer.content.decode()
    assert (looks(), form.sheet.scans.count()) == (0, 0)


def test_scan_stays_shut_where_a_form_is_in_doubt_but_nothing_differs(client):
    form = trials.filed(trials.filled("no_face"))
    form.wording_was_read = False
    form.save()
    desk.read_twice(form, desk.WHOLE)
    page = cast.signed_in(client, cast.artist()).get(at("settle")).content.decode()
    assert "The readings do not differ" in page
    assert looks() == 0
