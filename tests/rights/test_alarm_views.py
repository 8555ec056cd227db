"""An alarm by password alone from any browser, telling people one by one, the clock, the card."""

import re
import time
from uuid import uuid4

import brotli
import pypdfium2
import pytest
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import translation

from relations.consent.models import Wording
from relations.people.models import PersonHold, PhoneLine
from relations.privacy import tries
from relations.privacy.hashers import SiteArgon2
from relations.privacy.models import AccessEntry
from relations.rights import actions, alarm_views, telling
from relations.rights.models import Alarm, Telling
from tests import cast
from tests.house.test_weight import STATIC
from tests.rows import make

pytestmark = pytest.mark.django_db
PASSWORD = cast.PASSWORD
WRONG = "Name and password do not fit together. Check both and try again."


def text(response):
    return " ".join(response.content.decode().split())


def user(who=cast.assistant, **rest):
    found = who()
    found.set_password(PASSWORD)
    for name, value in rest.items():
        setattr(found, name, value)
    found.save()
    return found


def send(client, username="loic", password=PASSWORD, what="phone", token=None):
    said = {"username": username, "password": password, "what": what}
    return client.post("/alarm/lost/", {**said, "token": str(token or uuid4())})


@pytest.mark.parametrize("who", [cast.artist, cast.assistant, cast.wording_reader, cast.keeper])
def test_name_and_password_raise_it_for_everybody_and_the_answer_is_the_card(client, who):
    found = user(who)
    page = text(send(client, found.username))
    assert "The alarm is raised" in page
    assert "The artist rings those who may be touched, grave first" in page
    assert Alarm.objects.get().raised_by == found


def test_it_opens_no_session_and_shows_nobody(client):
    cast.in_sight(cast.danuta(), user())
    lost = cast.signed_in(Client(), cast.assistant())
    page = text(send(client))
    for name in ("Danuta", "12<", "Loïc", "Signed in", "1 person"):
        assert name not in page
    assert not Session.objects.exists()
    assert "sessionid" not in client.cookies
    assert client.get("/").status_code == lost.get("/").status_code == 302
    assert {one.code for one in Alarm.objects.get().affected.all()} == {"12"}


def test_it_needs_no_code_no_chosen_password_and_no_script(client):
    user(must_choose_password=True, must_set_up_codes=True)
    page = client.get("/alarm/lost/")
    assert b"<script" not in page.content
    assert "Nobody is in trouble for telling." in text(page)
    assert "The alarm is raised" in text(send(client))


def test_half_a_sign_in_in_the_same_browser_ends_too(client):
    user()
    session = client.session
    session["half_in"] = ["x", 0, ""]
    session.save()
    assert "The alarm is raised" in text(send(client))
    assert not Session.objects.exists()


def test_sent_twice_it_is_one_alarm_and_with_another_thing_another(client):
    user()
    token = uuid4()
    for what in ("phone", "phone", "bag"):
        assert send(client, what=what, token=token).status_code == 200
    assert sorted(Alarm.objects.values_list("what", flat=True)) == ["bag", "phone"]


def test_wrong_unknown_and_let_go_are_one_answer_and_raise_nothing(client):
    user()
    user(cast.second_assistant, is_active=False)
    wrong = [send(client, password="another"), send(client, "nobody"), send(client, "maelle")]
    shown = [re.sub(r'value="[^"]*"', "", text(page)) for page in wrong]
    assert [page.status_code for page in wrong] == [422] * 3
    assert len(set(shown)) == 1
    assert WRONG in shown[0]
    assert not Alarm.objects.exists()


def test_unknown_name_costs_as_much_as_a_known_one(client, monkeypatch):
    """A password is hashed once for each of them, as at signing in."""
    user()
    user(cast.second_assistant, is_active=False)
    hashed, encode = [], SiteArgon2.encode
    monkeypatch.setattr(
        SiteArgon2, "encode", lambda *a, **k: (hashed.append("made"), encode(*a, **k))[1]
    )
    verify = SiteArgon2.verify
    monkeypatch.setattr(
        SiteArgon2, "verify", lambda *a, **k: (hashed.append("looked"), verify(*a, **k))[1]
    )
    counts = []
    for name in ("loic", "maelle", "nobody"):
        hashed.clear()
        send(client, name, "another")
        counts.append(len(hashed))
    assert counts == [1, 1, 1]


def test_tries_are_those_of_signing_in_and_five_wrong_ones_hold_off_both(client):
    user()
    for _ in range(2):
        client.post("/in/", {"username": "loic", "password": "another"})
    assert [send(client, password="another").status_code for _ in range(3)] == [422, 422, 429]
    held = send(client)
    assert held.status_code == 429
    assert held.headers["Retry-After"]
    assert client.post("/in/", {"username": "loic", "password": PASSWORD}).status_code == 429
    assert not Alarm.objects.exists()
    assert tries.held_off(cast.assistant())


def test_nothing_is_tried_before_it_is_said_what_was_lost(client):
    loic = user()
    assert send(client, what="").status_code == send(client, what="blank").status_code == 422
    assert not loic.wrong_tries.exists()
    assert not AccessEntry.objects.filter(verb="wrong_try").exists()


def test_whoever_is_signed_in_is_led_to_the_alarm_of_one_press(client):
    assert cast.signed_in(client, cast.artist()).get("/alarm/lost/").url == "/alarm/"


def test_page_of_signing_in_leads_to_it(client):
    assert '<a href="/alarm/lost/">' in text(client.get("/in/"))


def test_page_form_and_answer_fit_the_first_packets_of_a_bad_line(client):
    """Ten packets of 1,460 bytes come before anything is asked for again (RFC 6928)."""
    user()
    style = len(brotli.compress((STATIC / "site.css").read_bytes()))
    for page in (client.get("/alarm/lost/"), send(client, password="x"), send(client)):
        assert len(page.content) <= 10 * 1460
        assert len(page.content) + style <= 20_000


def test_everything_ends_within_two_minutes_of_the_press(client):
    user()
    for _ in range(20):
        cast.signed_in(Client(), cast.artist())
    began = time.monotonic()
    send(client)
    assert time.monotonic() - began < 120
    alarm = Alarm.objects.get()
    assert 0 <= (alarm.sessions_ended_at - alarm.known_at).total_seconds() < 120
    page = text(cast.signed_in(client, cast.artist()).get(f"/alarm/{alarm.pk}/"))
    assert "Everything open anywhere had ended on 23 November 2026, 09:00, within" in page


def touching(*people, what="phone"):
    alarm = actions.raise_alarm(what=what, by=cast.assistant(), at=cast.moment())
    alarm.affected.set(people)
    return alarm, f"/alarm/{alarm.pk}/"


def test_ring_list_says_who_now_who_later_and_who_was_told(client):
    alarm, url = touching(cast.ibrahima(), cast.marcel(), cast.rachid())
    actions.tell(alarm=alarm, person=cast.marcel(), by=cast.artist(), at=cast.moment())
    page = text(cast.signed_in(client, cast.artist()).get(url))
    places = [page.index(name) for name in ("Ibrahima", "رشيد", "Marcel")]
    assert places == sorted(places)
    for says in ("now, at any hour", "not rung", "told on 23 November 2026, 09:00", "2 still"):
        assert says in page


def test_telling_says_the_words_in_their_language_and_is_one_press(client):
    _, url = touching(cast.marcel())
    labels = {key: f"Dites {key}." for key in telling.SAID}
    make(Wording, language="fr", labels=labels)
    client = cast.signed_in(client, cast.artist())
    page = text(client.get(f"{url}tell/01/"))
    line = '<li><bdi dir="ltr" class="words para">Dites warn_free.</bdi></li>'
    assert f'<ol class="eight" lang="fr" dir="ltr">{line}' in page
    assert "Nobody has read these words over yet." in page
    assert "Not now" in page
    assert "Their next safe hour is 23 November 2026, 10:00" in page
    assert "Show number" not in page
    said = {"token": str(uuid4())}
    assert [client.post(f"{url}tell/01/", said).url for _ in range(2)] == [url, url]
    assert Telling.objects.get().told_by == cast.artist()
    page = text(client.get(f"{url}tell/01/"))
    assert "They were told on 23 November 2026, 09:00." in page
    assert client.post(f"{url}tell/01/", {}).status_code == 422
    assert "Everybody was told." in text(client.get("/alarm/"))


def test_number_of_a_grave_one_opens_at_any_hour_with_a_line_in_the_log(client):
    _, url = touching(cast.ibrahima())
    line = cast.ibrahima().lines.get()
    client = cast.signed_in(client, cast.artist())
    assert "For a grave risk the safe hours may be broken." in text(client.get(f"{url}tell/35/"))
    page = text(client.post(f"{url}tell/35/{line.pk}/"))
    assert "+33 6 39 98 00 35" in page
    read = AccessEntry.objects.get(verb="read", kind="phone")
    assert (read.by, read.key) == (cast.artist().pk, cast.ibrahima().log_key)


def test_number_of_anybody_else_waits_for_a_safe_hour(client):
    _, url = touching(cast.marcel())
    line = cast.marcel().lines.get()
    client = cast.signed_in(client, cast.artist())
    assert client.post(f"{url}tell/01/{line.pk}/").url == f"{url}tell/01/"
    assert not AccessEntry.objects.filter(kind="phone").exists()


def test_line_of_somebody_else_or_one_that_cannot_be_rung_is_said_so(client):
    ibrahima = cast.ibrahima()
    ibrahima.lines.all().delete()
    line = make(PhoneLine, person=ibrahima, number="", mark=None, through=cast.danuta())
    _, url = touching(ibrahima)
    client = cast.signed_in(client, cast.artist())
    page = text(client.get(f"{url}tell/35/"))
    assert "Reached through 12: the number is on their page." in page
    line.through = None
    line.save()
    assert "This number cannot be rung yet." in text(client.get(f"{url}tell/35/"))
    ibrahima.lines.all().delete()
    assert "No number yet." in text(client.get(f"{url}tell/35/"))


def test_whom_the_alarm_does_not_touch_has_no_page_in_it(client):
    _, url = touching(cast.marcel())
    line = cast.danuta().lines.get()
    client = cast.signed_in(client, cast.artist())
    assert client.get(f"{url}tell/12/").status_code == 404
    assert client.post(f"{url}tell/12/{line.pk}/").status_code == 404
    assert client.post(f"{url}tell/01/{line.pk}/").status_code == 404


def test_who_is_on_hold_not_rung_written_to_or_without_words_is_said_so(client):
    ibrahima, rachid = cast.ibrahima(), cast.rachid()
    make(PersonHold, person=ibrahima)
    ibrahima.text_only, ibrahima.instruction = True, "Write one word only."
    ibrahima.save()
    _, url = touching(ibrahima, rachid)
    client = cast.signed_in(client, cast.artist())
    page = text(client.get(f"{url}tell/35/"))
    for says in ("Write now", "A hold lies on them", "Write one word only.", "We have no words"):
        assert says in page
    line = ibrahima.lines.get()
    assert 'href="sms:+33-6-39-98-00-35"' in text(client.post(f"{url}tell/35/{line.pk}/"))
    page = text(client.get(f"{url}tell/17/"))
    assert "Nobody rings here" in page
    assert "Show number" not in page


def test_authority_told_or_not_is_noted_by_the_keeper_who_sees_nobody(client):
    _, url = touching(cast.marcel())
    client = cast.signed_in(client, cast.keeper())
    page = text(client.get(f"{url}authority/"))
    assert "72 hours left to tell the authority, until 26 November 2026, 09:00." in page
    assert "GDPR, article 33" in page
    assert "Marcel" not in page

    def note(**said):
        return client.post(f"{url}authority/", {"token": str(uuid4()), **said})

    for said in ({}, {"told_on": "2026-11-23", "why_not": "It was locked."}):
        assert "Say one of the two" in text(note(**said))
    early = note(told_on="2026-11-20")
    assert (early.status_code, "It was not known yet on that day." in text(early)) == (422, True)
    refused = client.post(f"{url}close/", {"token": str(uuid4())})
    assert "Note first whether the authority was told" in text(refused)
    assert note(why_not="It was locked.").status_code == 302
    page = text(client.get(f"{url}authority/"))
    assert "Noted on 23 November 2026: the authority need not be told." in page
    assert "It was locked." in page
    assert note(told_on="2026-11-23").status_code == 302
    assert "The authority was told on 23 November 2026." in text(client.get(f"{url}authority/"))
    assert client.post(f"{url}close/", {"token": str(uuid4())}).url == "/alarm/"


def test_clock_that_has_run_out_says_so(client):
    _, url = touching(cast.marcel())
    Alarm.objects.update(known_at=cast.moment(cast.days(-4)))
    page = text(cast.signed_in(client, cast.artist()).get(f"{url}authority/"))
    assert "The 72 hours for the authority ended on 22 November 2026, 09:00." in page


def test_open_alarm_stands_on_the_working_page_of_who_must_act(client):
    _, url = touching(cast.marcel())
    page = text(cast.signed_in(client, cast.artist()).get("/"))
    assert "1 person is still to be told. 72 hours left" in page
    page = text(cast.signed_in(client, cast.keeper()).get("/"))
    assert f'href="{url}authority/"' in page
    assert "72 hours left" in page
    assert "still to be told" not in page
    assert "hours left" not in text(cast.signed_in(client, cast.assistant()).get("/"))


def test_alarm_that_touches_nobody_says_so(client):
    _, url = touching()
    client = cast.signed_in(client, cast.artist())
    assert "Nobody is on what was lost." in text(client.get(url))
    assert "It touches nobody." in text(client.get("/alarm/"))
    blank = actions.raise_alarm(what="blank", by=cast.artist(), at=cast.moment())
    page = text(client.get(f"/alarm/{blank.pk}/"))
    assert "A blank opens nothing, so nothing was ended." in page


def test_ten_people_may_be_told_of_to_the_keeper(client):
    people = [cast.person(f"Q{n}", f"Q{n}") for n in range(10)]
    _, _ = touching(*people)
    page = text(cast.signed_in(client, cast.keeper()).get("/alarm/"))
    assert "10 people may be touched." in page


@pytest.mark.parametrize("who", [cast.artist, cast.wording_reader])
def test_cards_to_carry_are_one_page_in_each_language_without_a_name(client, who):
    answer = cast.signed_in(client, who()).get("/alarm/card/")
    assert answer.headers["Content-Type"] == "application/pdf"
    paper = pypdfium2.PdfDocument(answer.content)
    words = " ".join(paper[0].get_textpage().get_text_range().split())
    assert len(paper) == 1
    assert words.count("Say now what was lost, from any browser; details later.") == 2
    assert words.count("Dites tout de suite ce qui est perdu, de") == 2
    for absent in ("Ines", "Samira", "testserver", "http"):
        assert absent not in words


def places(page, words):
    """Where these words stand on a page, in millimetres: left, bottom, right, top."""
    found, places = page.search(words, match_case=True), []
    while at := found.get_next():
        boxes = [page.get_charbox(n) for n in range(at[0], at[0] + at[1])]
        edges = [min(b[0] for b in boxes), min(b[1] for b in boxes)]
        edges += [max(b[2] for b in boxes), max(b[3] for b in boxes)]
        places.append([edge / 72 * 25.4 for edge in edges])
    return places


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("language", ["en", "fr", "ar", "ne"])
def test_cards_are_as_large_as_a_bank_card_whichever_way_the_page_runs(settings, language, size):
    """Source: ISO/IEC 7810, ID-1 is 85.6 by 54 mm; between two cards are 4 mm (our layout)."""
    settings.RELATIONS_PAPER_SIZE = size
    with translation.override(language):
        paper = pypdfium2.PdfDocument(alarm_views._paper.__wrapped__(language))
    assert len(paper) == 1
    page, tops = paper[0].get_textpage(), []
    for first, last in (("Get away", "remember."), ("Éloignez", "souvenez.")):
        one, other = sorted(places(page, first))
        assert other[0] - one[0] == pytest.approx(85.6 + 4, abs=0.3)
        assert one[3] == pytest.approx(other[3], abs=0.3)
        tops.append(one[3])
        # The five lines stand in the card, clear of the line along which it is cut.
        assert one[3] - min(place[1] for place in places(page, last)) < 54 - 2 * 3
    between = abs(tops[0] - tops[1]) / (54 + 4)
    assert between == pytest.approx(round(between), abs=0.02)
    assert round(between) >= 1
