"""The pages that look after links: every look noted, nothing sealed without the last tick."""

from datetime import date
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.people.models import Introduction, Participant
from relations.pictures.models import Sitting
from relations.privacy.models import AccessEntry, Mending
from tests import cast
from tests.rows import make
from tests.traces import opened, traces

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


@pytest.fixture
def artist(client):
    cast.herve()
    return cast.signed_in(client, cast.artist())


def page(name, *args):
    return reverse(f"referrals:{name}", args=args)


def read(client, name, *args):
    answer = client.get(page(name, *args))
    assert answer.status_code == 200
    return answer.content.decode()


def send(client, name, *args, **typed):
    answer = client.post(page(name, *args), {"token": str(uuid4()), **typed})
    return answer.status_code, answer.headers.get("Location") or answer.content.decode()


def link(code):
    return Introduction.objects.get(person__code=code)


def test_links_of_somebody_are_codes_and_each_can_be_sealed_or_mended(artist):
    text = read(artist, "links_of", "12")
    for row in (link("12"), link("28")):
        assert page("seal", row.pk) in text
        assert reverse("people:mend_told", args=[row.person.code, row.pk]) in text
    assert "Danuta" not in text
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.kind, last.key) == ("read", "map", link("12").person.log_key)


def test_somebody_without_links_has_nothing_to_seal(artist):
    nour = cast.person("60", "Nour")
    assert "No link of theirs is kept." in read(artist, "links_of", nour.code)
    assert "Nothing of theirs is left to be sealed." in read(artist, "seal_all", nour.code)


def test_link_is_sealed_only_with_the_tick(artist):
    row = link("12")
    text = read(artist, "seal", row.pk)
    assert "leaves the backups within 90 days" in text
    assert "paper that is kept in another house" in text
    assert send(artist, "seal", row.pk)[0] == 422
    assert link("12").introducer
    assert send(artist, "seal", row.pk, noted="on") == (302, page("links_of", "12"))
    assert (link("12").introducer, link("12").wave) == (None, 1)
    assert "withheld" in read(artist, "links_of", "12")
    assert artist.get(page("seal", row.pk)).status_code == 404


def test_name_that_nobody_could_vouch_for_any_more_is_said_before(artist):
    text = read(artist, "seal", link("41").pk)
    assert "Through a sealed link nobody can vouch for them." in text
    assert "nobody can vouch" not in read(artist, "seal", link("12").pk)


def test_what_still_says_it_stands_on_the_page(artist):
    row = link("12")
    row.person.may_say = "Marcel sends us."
    row.person.save()
    assert "What still says it" in read(artist, "seal", row.pk)


def test_all_links_of_somebody_are_sealed_with_their_older_values(artist):
    from relations.people import links as people

    people.mend_hearing(told=link("41"), by=cast.artist(), at=cast.moment(),
                        on=link("41").heard_on, introducer=cast.danuta())  # fmt: skip
    people.mend_hearing(told=link("41"), by=cast.artist(), at=cast.moment(),
                        on=link("41").heard_on, introducer=cast.marcel())  # fmt: skip
    text = read(artist, "seal_all", "12")
    assert text.count("told us of") >= 2
    assert send(artist, "seal_all", "12", noted="on") == (302, page("links_of", "12"))
    assert {link("12").is_withheld, link("28").is_withheld} == {True}
    assert link("41").introducer == cast.marcel()
    danuta = str(cast.danuta().pk)
    assert not [row for row in Mending.objects.all() if danuta in row.old.values()]


def test_nothing_but_their_own_row_knows_whoever_told_us_after_the_press(artist):
    who, nour = cast.person("60", "Sabine"), cast.person("61", "Nour")
    cast.told(who, cast.marcel())
    told = cast.told(nour, cast.danuta(), may_say_who=True)
    cast.line(nour, "06 39 98 00 61", through=who)
    typed = {"source": "person", "introducer": "60", "heard_on": told.heard_on.isoformat()}
    for _ in range(2):
        address = reverse("people:mend_told", args=["61", told.pk])
        assert artist.post(address, {"token": str(uuid4()), **typed}).status_code == 302
        typed["heard_on"] = "2026-02-02"
    keys = {who.pk.bytes, who.pk.hex.encode(), str(who.pk).encode()}
    known = {"people.Participant.id", "people.Introduction.person"}
    assert {"people.Introduction.introducer", "people.PhoneLine.through"} <= set(
        traces(keys, opened())
    )
    assert send(artist, "seal", told.pk, noted="on")[0] == 302
    assert set(traces(keys, opened())) == known


def test_links_of_somebody_outside_are_sealed_by_their_code(artist):
    cast.ibrahima()
    assert "35" in read(artist, "links_of", "X2")
    assert send(artist, "seal_all", "X2", noted="on")[0] == 302
    assert link("35").is_withheld


def test_of_the_proposed_links_those_that_are_ticked_are_sealed(artist):
    assert "Nothing is proposed today." in read(artist, "links")
    for code in ("12", "28"):
        make(Sitting, on=date(2023, 1, 5)).sitters.add(Participant.objects.get(code=code))
    text = read(artist, "links")
    assert "01 told us of 12: their last sitting is long past" in text
    assert "checked" not in text
    assert send(artist, "links", noted="on")[0] == 422
    assert send(artist, "links", which=[str(link("41").pk)], noted="on")[0] == 422
    assert send(artist, "links", which=[str(link("12").pk)], noted="on") == (302, page("links"))
    assert (link("12").is_withheld, link("28").is_withheld) == (True, False)


def test_links_of_a_typed_code_are_one_press_away(artist):
    assert artist.get(page("links"), {"code": "x2"}).headers["Location"] == page("links_of", "X2")


def test_what_is_open_is_asked_with_what_would_settle_it(artist):
    early = cast.told(cast.person("60", "N"), cast.danuta(), heard_on=date(2020, 1, 1))
    text = read(artist, "questions")
    assert "Named by somebody who has not sat" in text
    assert reverse("people:told", args=["41"]) in text
    assert "Told us before we knew of them" in text
    assert reverse("people:mend_told", args=["60", early.pk]) in text
    assert reverse("people:told", args=["12"]) in text


def test_with_nothing_open_the_page_says_so(client):
    artist = cast.signed_in(client, cast.artist())
    assert "Nothing is open." in read(artist, "questions")
