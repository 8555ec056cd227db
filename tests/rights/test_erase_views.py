"""The keeper erases: by a code, told in counts, with the password given again, once."""

import time
from uuid import uuid4

import pytest

from relations.people.models import Participant
from relations.privacy import ledger
from relations.privacy.ending import SURE_AT
from relations.privacy.models import AccessEntry
from relations.rights import erase_views
from relations.uses.models import UndoLine
from tests import cast
from tests.rights.everything import WORD, everything
from tests.rows import DAY

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def keeper(client):
    return sure(cast.signed_in(client, cast.keeper()))


def sure(client):
    session = client.session
    session[SURE_AT] = time.time()
    session.save()
    return client


@pytest.fixture
def person():
    found = everything().person
    found.undo_lines.update(done_on=DAY)
    return found


def text(response):
    return " ".join(response.content.decode().split())


def pressed(client, person, **more):
    said = {"token": str(uuid4()), "was_read": "on", **more}
    return client.post(f"/alarm/erase/{person.code}/", said)


def test_code_leads_to_what_goes_and_what_stays(keeper, person):
    answer = keeper.post("/alarm/erase/", {"token": str(uuid4()), "code": person.code.lower()})
    assert answer.url == f"/alarm/erase/{person.code}/"
    page = text(keeper.get(answer.url))
    assert "Nothing brings it back" in page
    assert "What is erased here also leaves the backups within 90 days." in page
    assert "never cleared again, for any use" in page
    assert '<dt>Names, numbers, and who speaks for them</dt><dd class="num">5</dd>' in page
    assert WORD not in page
    assert "04 65 71" not in page


def test_unknown_code_leads_nowhere(keeper):
    answer = keeper.post("/alarm/erase/", {"token": str(uuid4()), "code": "QQQQQ"})
    assert answer.status_code == 422
    assert "Nobody has this code." in text(answer)
    assert keeper.get("/alarm/erase/QQQQQ/").status_code == 404


def test_press_erases_and_leads_to_a_page_without_the_code(keeper, person):
    answer = pressed(keeper, person)
    assert answer.url == "/alarm/erase/done/"
    page = text(keeper.get(answer.url))
    assert "It is done" in page
    assert person.code not in page
    assert not Participant.objects.filter(pk=person.pk).exists()
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.key, last.by) == ("erased", person.log_key, cast.keeper().pk)


def test_pressed_twice_it_is_done_once(keeper, person):
    token = str(uuid4())
    for _ in range(2):
        assert pressed(keeper, person, token=token).url == "/alarm/erase/done/"
    assert len(ledger.entries()) == 1
    # Another press, from a page that stayed open, finds nobody.
    assert pressed(keeper, person).status_code == 404


def test_without_the_tick_nothing_goes(keeper, person):
    answer = pressed(keeper, person, was_read="")
    assert answer.status_code == 422
    assert "Read it, then tick it." in text(answer)
    assert Participant.objects.filter(pk=person.pk).exists()
    assert ledger.entries() == []


def test_password_is_asked_again(client, person):
    client = cast.signed_in(client, cast.keeper())
    session = client.session
    session[SURE_AT] = time.time() - 11 * 60
    session.save()
    assert client.get(f"/alarm/erase/{person.code}/").url.startswith("/sure/?next=/")
    asked = pressed(client, person)
    assert (asked.status_code, b'name="sure-password"' in asked.content) == (403, True)
    assert Participant.objects.filter(pk=person.pk).exists()


def test_what_keeps_somebody_is_said_and_nothing_can_be_pressed(keeper, person):
    UndoLine.objects.update(done_on=None)
    page = text(keeper.get(f"/alarm/erase/{person.code}/"))
    assert "Something must still come down after their stop." in page
    assert "Erase for good" not in page
    answer = pressed(keeper, person)
    assert answer.status_code == 422
    assert Participant.objects.filter(pk=person.pk).exists()
    assert ledger.entries() == []


def test_ledger_that_does_not_stand_erases_nobody_and_is_said(keeper, person, own_home):
    ledger.append(uuid4())
    (own_home / "ledger").write_text("")
    answer = pressed(keeper, person)
    assert answer.status_code == 422
    assert "The list of what was erased does not stand" in text(answer)
    assert Participant.objects.filter(pk=person.pk).exists()


def test_on_a_server_it_is_said_what_lingers(keeper, person, monkeypatch):
    for vendor, is_said in (("postgresql", True), ("sqlite", False)):

        class Connection:
            vendor = ""

        Connection.vendor = vendor
        monkeypatch.setattr(erase_views, "connection", Connection)
        page = text(keeper.get(f"/alarm/erase/{person.code}/"))
        assert ("journal keeps older pages" in page) is is_said


def test_the_artist_and_the_others_find_no_such_page(client, person):
    for who in (cast.artist(), cast.assistant(), cast.wording_reader()):
        signed = sure(cast.signed_in(client, who))
        for address in ("/alarm/erase/", "/alarm/erase/done/", f"/alarm/erase/{person.code}/"):
            assert signed.get(address).status_code == 404
