"""The pages of requests: heard by anybody's hands, answered by the artist, the file once sure."""

import json
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.people.models import Participant
from relations.privacy.models import AccessEntry
from relations.rights import requests
from relations.rights.models import Request
from relations.rights.request_forms import STEPS
from tests import cast
from tests.consent.test_sheets import wording

pytestmark = pytest.mark.django_db
DAY = cast.TODAY.isoformat()


def sent(client, address, **typed):
    return client.post(address, {"token": str(uuid4()), **typed})


def heard(client, code, **more):
    said = {"code": code, "kind": "what_you_hold", "way": "voice", "asked_on": DAY, **more}
    return sent(client, reverse("rights:requests"), **said)


def asked(kind="what_you_hold", *, is_sure=True):
    person, artist = cast.danuta(), cast.artist()
    found = requests.receive(person=person, kind=kind, way="voice", asked_on=cast.TODAY, by=artist)
    if is_sure:
        requests.be_sure(request=found, how="face", word="", on=cast.TODAY, by=artist)
    return found


def step(client, request, name, **typed):
    return sent(client, reverse("rights:request_step", args=[request.pk, name]), **typed)


def test_assistant_notes_it_for_somebody_out_of_sight_and_sees_no_list(client):
    person = cast.danuta()
    cast.signed_in(client, cast.assistant())
    answer = heard(client, person.code)
    assert answer.status_code == 302
    page = client.get(answer["Location"]).content.decode()
    assert "It is noted, and its month runs." in page
    assert person.call_name not in page and "To be answered" not in page
    assert Request.objects.get().heard_by == cast.assistant()


def test_from_a_persons_page_the_code_is_there_already(client):
    person = cast.danuta()
    cast.signed_in(client, cast.artist())
    address = f"{reverse('rights:requests')}?code={person.code}"
    assert address in client.get(f"/person/{person.code}/").content.decode()
    assert f'value="{person.code}"' in client.get(address).content.decode()


def test_an_unknown_code_keeps_what_was_typed(client):
    cast.signed_in(client, cast.assistant())
    answer = heard(client, "ZZ9", kind="erase")
    assert answer.status_code == 422 and not Request.objects.exists()
    page = answer.content.decode()
    assert "Nobody was found by this code." in page and "ZZ9" in page


def test_the_same_press_twice_is_one_request(client):
    cast.signed_in(client, cast.artist())
    token, code = str(uuid4()), cast.danuta().code
    for _ in range(2):
        heard(client, code, token=token)
    assert Request.objects.count() == 1


def test_late_ones_lead_the_list_with_what_is_left(client):
    on_time, late = asked(), asked("erase")
    Request.objects.filter(pk=late.pk).update(due_on="2026-11-22")
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("rights:requests")).content.decode()
    assert page.index(str(late.pk)) < page.index(str(on_time.pk))
    assert "The day is over." in page and "30 days left." in page
    assert str(late.pk) in client.get("/").content.decode()


def test_a_wrong_word_is_refused_calmly_and_the_word_is_never_shown(client):
    request, word = asked(is_sure=False), "Żółw"
    cast.signed_in(client, cast.artist())
    page = sent(client, reverse("rights:agreed_word", args=[request.person.code]), word=word)
    assert word not in client.get(page["Location"]).content.decode()
    answer = step(client, request, "sure", how="word", word="zolwik", on=DAY)
    assert answer.status_code == 422
    assert "It is another word." in answer.content.decode()
    assert word not in answer.content.decode()
    assert step(client, request, "sure", how="word", word="zolw", on=DAY).status_code == 302
    assert Request.objects.get().sure_how == "word"


def test_no_word_agreed_is_said(client):
    request = asked(is_sure=False)
    cast.signed_in(client, cast.artist())
    answer = step(client, request, "sure", how="word", word="any", on=DAY)
    assert answer.status_code == 422 and "ask no papers" in answer.content.decode()


def test_it_is_put_off_and_answered_on_its_page(client):
    request = asked()
    cast.signed_in(client, cast.artist())
    step(client, request, "extend", told_on=DAY)
    step(client, request, "answer", outcome="done", answered_on=DAY)
    request.refresh_from_db()
    assert (request.due_on.isoformat(), request.outcome) == ("2027-02-23", "done")
    page = client.get(reverse("rights:request", args=[request.pk])).content.decode()
    assert "It was done, and they were told" in page and "Answer by" not in page


def test_each_step_is_sent_to_its_own_address(client):
    request = asked(is_sure=False)
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("rights:request", args=[request.pk])).content.decode()
    for name in STEPS:
        address = reverse("rights:request_step", args=[request.pk, name])
        assert f'action="{address}"' in page, name


@pytest.mark.parametrize(("kind", "acts"), [("object", True), ("erase", True), ("mend", False)])
def test_whoever_heard_a_no_is_led_on_to_stop(client, kind, acts):
    person = cast.danuta()
    cast.signed_in(client, cast.assistant())
    page = client.get(heard(client, person.code, kind=kind)["Location"]).content.decode()
    assert "It is noted, and its month runs." in page
    assert ("A no does not wait for the answer" in page) is acts


def test_answered_ones_stand_apart_from_what_is_to_be_answered(client):
    done, still = asked(), asked("mend")
    requests.answer(request=done, outcome="done", answered_on=cast.TODAY, by=cast.artist())
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("rights:requests")).content.decode()
    before, after = page.split('id="h-done"')
    assert str(still.pk) in before and str(done.pk) not in before and str(done.pk) in after


def test_who_does_not_read_is_offered_to_be_read_to(client):
    request = asked()
    cast.signed_in(client, cast.artist())
    address = reverse("rights:request_file", args=[request.pk])
    for reads, what in ((False, "aloud"), (True, "paper"), (None, "paper")):
        Participant.objects.filter(pk=request.person.pk).update(reads=reads)
        form = client.get(address).context["form"]
        assert form["what"].value() == what


@pytest.mark.parametrize(
    ("kind", "words"),
    [("object", "A no acts as soon as it is heard."), ("erase", "The keeper erases"),
     ("mend", "Put it right where it stands")],
)  # fmt: skip
def test_each_kind_says_what_to_do(client, kind, words):
    request = asked(kind, is_sure=False)
    cast.signed_in(client, cast.artist())
    page = client.get(reverse("rights:request", args=[request.pk])).content.decode()
    assert words in page
    assert ("Is it they who ask?" in page) is (kind != "object")


def test_an_unknown_step_and_an_unknown_request_are_absent(client):
    cast.signed_in(client, cast.artist())
    assert step(client, asked(), "forget").status_code == 404
    assert client.get(reverse("rights:request", args=[uuid4()])).status_code == 404


@pytest.mark.parametrize(("kind", "is_sure"), [("what_you_hold", False), ("mend", True)])
def test_no_file_before_we_are_sure_and_for_nothing_else(client, kind, is_sure):
    cast.signed_in(client, cast.artist())
    address = reverse("rights:request_file", args=[asked(kind, is_sure=is_sure).pk])
    assert client.get(address).status_code == 404


def test_file_for_a_machine_leaves_with_a_line_in_the_log(client):
    cast.signed_in(client, cast.artist())
    request = asked()
    answer = sent(client, reverse("rights:request_file", args=[request.pk]), what="json")
    held = json.loads(answer.content)
    assert (answer.status_code, held["code"]) == (200, request.person.code)
    assert answer["Content-Disposition"] == 'attachment; filename="file.json"'
    assert AccessEntry.objects.filter(kind="file", key=request.person.log_key).count() == 1


def test_paper_in_a_language_that_lacks_its_words_is_said_so_and_not_logged(client):
    cast.signed_in(client, cast.artist())
    french, english = wording("fr"), wording("en")
    labels = {key: words for key, words in french.labels.items() if "file_" not in key}
    type(french).objects.filter(pk=french.pk).update(labels=labels)
    request = asked()
    Participant.objects.update(languages="fr")
    address = reverse("rights:request_file", args=[request.pk])
    assert "There are no words for this paper" in client.get(address).content.decode()
    answer = sent(client, address, what="paper", first=str(french.pk), second=str(english.pk))
    assert answer.status_code == 422
    assert not AccessEntry.objects.filter(kind="file").exists()
