"""A stack is sent by a press and goes on by presses; the tray is emptied page by page."""

from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from relations.consent import coming_home
from relations.consent.models import Form
from relations.consent.states import State as FormState
from relations.documents import stacks
from relations.documents.models import Page, Scan, Upload
from relations.documents.sorting import Place
from relations.privacy.models import AccessEntry
from tests import cast
from tests.consent import desk, stack
from tests.consent.stack import NUMBER, OTHER, brought, sides
from tests.documents import scanner

pytestmark = pytest.mark.django_db
FILES = "/forms/coming-home/"
TRAY = "/forms/tray/"


@pytest.fixture
def loic(client):
    return cast.signed_in(client, cast.assistant())


def send(client, *contents, token=None):
    files = [
        SimpleUploadedFile(f"{number}.pdf", content, "application/pdf")
        for number, content in enumerate(contents)
    ]
    return client.post(FILES, {"scans": files, "token": token or str(uuid4()), "press": "1"})


def pdf(*pictures):
    return scanner.pdf(pictures, 150)


def text(answer):
    return answer.content.decode()


def page_of(name, key=None):
    return reverse(f"consent:{name}", args=[key or Page.objects.filter(place="waiting").get().pk])


def say(client, address, **said):
    return client.post(address, {"token": str(uuid4()), "press": "1", **said})


def test_small_stack_is_placed_by_the_one_press_that_sends_it(loic):
    desk.paper(person=cast.danuta())
    answer = send(loic, pdf(*sides(NUMBER, 2, 1)))
    assert answer.status_code == 302
    shown = text(loic.get(answer.url))
    assert f'href="/forms/{desk.serial()}/"' in shown
    assert "2 pages, and each has its place." in shown and "missing" not in shown
    assert Form.objects.get().state == FormState.SCANNED


def test_same_form_sent_twice_is_one_stack(loic):
    token, content = str(uuid4()), pdf(scanner.blank())
    first = send(loic, content, token=token)
    assert send(loic, content, token=token).url == first.url
    assert Upload.objects.count() == 1


def test_large_stack_says_how_far_it_is_and_goes_on_by_a_press(loic, monkeypatch):
    monkeypatch.setattr(stacks.look_on, "__defaults__", (1,))
    desk.paper(person=cast.danuta())
    at = send(loic, pdf(*sides(NUMBER, 1, 2), scanner.blank())).url
    shown = text(loic.get(at))
    assert "1 of 3 pages looked at." in shown and f'action="{at}on/"' in shown
    assert f'href="{at}"' in text(loic.get(FILES)), "it can be found again"
    for _ in range(2):
        assert loic.post(f"{at}on/").url == at
    shown = text(loic.get(at))
    assert "3 pages, and each has its place." in shown and "Nothing is on this page." in shown
    assert loic.post(f"{at}on/").url == at
    assert Scan.objects.count() == 1


def test_missing_side_is_named_and_stands_on_the_page_of_the_form(loic):
    desk.paper(person=cast.danuta())
    shown = text(loic.get(send(loic, pdf(*sides(NUMBER, 1))).url))
    assert "missing:" in shown and "Not whole" in shown
    at = f"/forms/{desk.serial()}/"
    assert "Not come home yet, side:" in text(loic.get(at))
    brought(scanner.flat(sides(NUMBER, 1)[0], noise=3, seed=9), *sides(NUMBER, 2))
    shown = text(loic.get(at))
    assert "Not come home yet" not in shown and "1 page of it waits in the tray." in shown


def test_files_that_cannot_be_taken_are_each_named_and_the_others_are_taken(loic):
    locked = desk.scan()[:40]
    shown = text(loic.get(send(loic, locked, pdf(scanner.blank()), b"words").url))
    assert "File 1 of those sent" in shown and "This file does not open." in shown
    assert "File 3 of those sent" in shown and "This is no image and no PDF." in shown


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"words", "This is no image and no PDF."),
        (b"%PDF-1.7 and no more", "This file does not open."),
    ],
)
def test_stack_that_cannot_be_taken_is_refused_in_words(loic, content, words):
    answer = send(loic, content)
    assert answer.status_code == 422
    assert words in text(answer)


def test_nothing_sent_and_an_empty_file_are_each_told(loic):
    assert send(loic).status_code == 422
    answer = send(loic, b"")
    assert answer.status_code == 422 and "This file is empty." in text(answer)


def test_pages_sent_twice_and_pages_of_erased_people_are_told(loic):
    form = desk.paper(person=cast.danuta())
    content = pdf(*sides(NUMBER, 1))
    send(loic, content)
    shown = text(loic.get(send(loic, content).url))
    assert "These very pages were sent before; they are kept once." in shown
    assert desk.serial() in shown
    desk.paper(OTHER, cast.bruno()).delete()
    shown = text(loic.get(send(loic, pdf(*sides(OTHER, 1), scanner.blank())).url))
    assert "destroy the papers too" in shown
    assert form.sheet.scans.count() == 1


def test_tray_shows_every_page_by_what_it_waits_for(loic):
    assert "No page waits." in text(loic.get(TRAY))
    desk.paper()
    desk.paper(OTHER, cast.danuta())
    first, second = (
        scanner.flat(grey, noise=4, seed=n) for n, grey in enumerate(sides(OTHER, 1) * 2)
    )
    foreign = scanner.sides(NUMBER, 1, key=bytes(32))
    brought(*sides(NUMBER, 1, 2), first, second, *foreign, scanner.blank(), *sides(70_049, 1))
    shown = text(loic.get(TRAY))
    for words in (
        "Whose form is this?",
        "2 pages wait.",
        "Two different scans of this side",
        "This is a form of another project",
        "Nothing is on this page.",
        "no paper with this serial",
    ):
        assert words in shown
    assert loic.post(f"{TRAY}blank/").url == TRAY
    shown = text(loic.get(TRAY))
    assert "Set all blank pages aside" not in shown and "Set aside" in shown


def test_page_is_opened_for_one_look_and_that_is_logged(loic):
    brought(scanner.blank())
    answer = loic.get(page_of("loose_page"))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    entry = AccessEntry.objects.order_by("seq").last()
    assert (entry.verb, entry.kind, entry.key) == ("read", "documents.page", Page.objects.get().pk)


def test_page_of_a_form_that_was_read_is_opened_by_the_artist_alone(client, loic):
    desk.paper(person=cast.danuta())
    brought(*sides(NUMBER, 1))
    desk.read_twice(Form.objects.get(), desk.WHOLE)
    brought(*sides(NUMBER, 2))
    at = page_of("loose_page")
    assert loic.get(at).status_code == 404
    assert at not in text(loic.get(TRAY))
    cast.signed_in(client, cast.artist())
    assert at in text(client.get(TRAY))
    assert client.get(at).status_code == 200
    about = AccessEntry.objects.filter(verb="read", kind="scan").order_by("seq").last()
    assert about.key == cast.danuta().log_key


def test_page_is_put_in_its_place_by_its_typed_serial(loic):
    desk.paper(person=cast.danuta())
    brought(*scanner.sides(NUMBER, 1, key=bytes(32)))
    at = page_of("place")
    assert "another project" in text(loic.get(at))
    answer = say(loic, at, serial="70042-75", side="1")
    assert answer.status_code == 422
    assert "This number is mistyped" in text(answer) and 'value="70042-75"' in text(answer)
    assert say(loic, at, serial="70042-74", side="1").url == TRAY
    assert Page.objects.get().place == Place.FILED
    assert loic.get(at).status_code == 404


def test_page_of_a_form_for_nobody_asks_whose_it_is_beside_the_field(loic):
    desk.paper()
    brought(scanner.blank())
    at = page_of("place")
    answer = say(loic, at, serial=desk.serial())
    assert answer.status_code == 422 and "Say whose it is." in text(answer)
    cast.in_sight(cast.bruno(), cast.assistant())
    assert say(loic, at, serial=desk.serial(), code=cast.bruno().code).status_code == 302
    assert Form.objects.get().person == cast.bruno()


def test_page_is_set_aside_with_a_word_and_stays_in_the_tray(loic):
    brought(*scanner.sides(NUMBER, 1, key=bytes(32)))
    at = page_of("set_aside")
    assert loic.get(at).status_code == 200
    assert say(loic, at).status_code == 422
    assert say(loic, at, word="a form of the hospital").url == TRAY
    assert "a form of the hospital" in text(loic.get(TRAY))


def test_person_is_named_for_a_form_that_was_printed_for_nobody(loic):
    desk.paper()
    brought(*sides(NUMBER, 1, 2))
    at = reverse("consent:whose", args=[desk.serial()])
    assert "2 pages of it wait." in text(loic.get(at))
    assert say(loic, at, code="ZZZ").status_code == 422
    cast.in_sight(cast.bruno(), cast.assistant())
    assert say(loic, at, code=cast.bruno().code).url == f"/forms/{desk.serial()}/"
    assert loic.get(at).status_code == 404


def test_form_somebody_else_has_meanwhile_is_said_beside_the_code(loic):
    form = desk.paper()
    brought(*sides(NUMBER, 1))
    Form.objects.filter(pk=form.pk).update(person=cast.danuta())
    cast.in_sight(cast.bruno(), cast.assistant())
    answer = say(loic, reverse("consent:whose", args=[desk.serial()]), code=cast.bruno().code)
    assert answer.status_code == 422 and "somebody else’s" in text(answer)


def test_what_is_not_there_is_absent(loic):
    for name in ("brought", "place", "set_aside", "loose_page"):
        assert loic.get(page_of(name, uuid4())).status_code == 404
    assert loic.post(page_of("go_on", uuid4())).status_code == 404
    assert loic.get(reverse("consent:whose", args=[desk.serial()])).status_code == 404


@pytest.mark.parametrize("who", [cast.wording_reader, cast.keeper])
def test_roles_that_file_no_papers_see_none_of_it(client, who):
    upload = brought(scanner.blank())
    page = page_of("place")
    cast.signed_in(client, who())
    for address in (FILES, TRAY, page, reverse("consent:brought", args=[upload.pk])):
        assert client.get(address).status_code == 404
    assert coming_home.came(upload) == [] and stack.waits() == 1
