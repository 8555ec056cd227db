"""What an assistant and a stranger cannot reach by changing an address, nor read between lines."""

import re
from collections.abc import Iterable, Iterator

import pytest
from django.test import Client
from django.urls import resolve

from relations.people.models import Introduction, Participant
from relations.people.values import Risk
from relations.privacy.models import Role, User
from tests.flows.hand import Hand
from tests.house.asking import CHANCE
from tests.house.pages import PUBLIC, Page, pages

# What differs from one answer to the next without anybody having written it.
OF_A_PERSON = [page for page in pages() if [name for name, _ in page.parameters] == ["code"]]
ROOMS_OF_PEOPLE = {"today", "people", "meetings"}


@pytest.fixture
def assistant(rehearsal) -> Hand:
    hand = Hand(User.objects.get(username="loic"))
    hand.go("/")  # lays out the day: who is to be rung, met or brought a print comes into sight
    return hand


def out_of_sight(assistant: Hand) -> Participant:
    seen = re.findall(r"/person/(\w+)/", assistant.go("/people/").html)
    assert 3 < len(seen) < Participant.objects.count(), "somebody in sight, somebody not"
    return Participant.objects.exclude(code__in=seen).first()


def plain(content: bytes) -> bytes:
    """What was sent, without tokens."""
    return CHANCE.sub(b"", content)


def ask(client: Client, page: Page, code: str) -> list[tuple[int, bytes]]:
    """What a look at a person's page and a press on it are answered with."""
    address = page.address({"code": code})
    answers = [client.get(address), client.post(address, {"press": ""})]
    return [(one.status_code, plain(one.content)) for one in answers]


@pytest.mark.parametrize(
    "page",
    [page for page in OF_A_PERSON if page.name.split(":")[0] in ROOMS_OF_PEOPLE],
    ids=lambda page: page.name,
)
def test_person_out_of_sight_is_answered_as_nobody(assistant, page):
    somebody = out_of_sight(assistant)
    nobody = ask(assistant.client, page, "ZZZZZ")
    assert ask(assistant.client, page, somebody.code) == nobody
    assert {status for status, _ in nobody} <= {404, 405}


def test_what_is_the_artists_alone_is_not_there_for_an_assistant(assistant):
    barred = [page for page in pages() if Role.ASSISTANT not in getattr(page.view, "roles", Role)]
    absent = plain(assistant.client.get("/no/such/page/").content)
    assert {"referrals:introductions", "people:level", "uses:weigh"} <= {p.name for p in barred}
    for page in barred:
        answer = assistant.client.get(page.address({"code": "12"}))
        assert (answer.status_code, plain(answer.content)) == (404, absent), page.name


def test_stranger_reaches_nothing(rehearsal):
    client = Client()
    for page in pages():
        if page.name not in PUBLIC:
            for answer in ask_both(client, page):
                assert answer.status_code in {302, 404}, page.name
                assert answer.headers.get("Location", "/in/").startswith("/in/")


def ask_both(client: Client, page: Page) -> list:
    address = page.address({"code": "12", "serial": "10031-75", "language": "ar", "version": "1"})
    return [client.get(address), client.post(address, {"press": ""})]


def all_that_can_be_seen(user: User) -> dict[str, bytes]:
    """Every page that links lead to from Today, with names opened: address -> what was sent."""
    hand, seen, waiting = Hand(user), {}, ["/"]
    while waiting:
        address = waiting.pop(0)
        if address in seen:
            continue
        answer = hand.client.get(address)
        assert answer.status_code == 200, address
        seen[address] = plain(answer.content)
        if "html" in answer.headers["Content-Type"]:
            waiting += links(answer.content.decode())
    for code in {found[1] for found in (re.match(r"/people/(\w+)/$", a) for a in seen) if found}:
        opened = hand.client.post(f"/people/{code}/names/shown/")
        if opened.status_code == 200:
            seen[f"names of {code}"] = plain(opened.content)
    return seen


def links(html: str) -> Iterator[str]:
    """Where the links of a page lead, on this site; papers and pictures are no pages."""
    for address in re.findall(r'href="(/[^"#]*)', html):
        if not re.search(r"^/static/|/pdf/|/proof/", address):
            yield address


def differing(before: dict[str, bytes], after: dict[str, bytes]) -> list[str]:
    return [a for a in before.keys() | after.keys() if before.get(a) != after.get(a)]


def test_no_byte_an_assistant_sees_depends_on_a_level(assistant):
    loic = User.objects.get(username="loic")
    before = all_that_can_be_seen(loic)
    assert len(before) > 100
    for level in (Risk.GRAVE, ""):
        Participant.objects.update(level=level)
        assert differing(before, all_that_can_be_seen(loic)) == [], level


def introducers(person: Participant) -> set:
    return set(person.introductions.values_list("introducer", flat=True))


def test_no_byte_an_assistant_sees_depends_on_who_told_us_unless_that_may_be_said(assistant):
    loic = User.objects.get(username="loic")
    before = all_that_can_be_seen(loic)
    other = Participant.objects.get(code="36")
    unsaid = Introduction.objects.exclude(may_say_who=True).exclude(person=other)
    free = [told for told in unsaid if other.pk not in introducers(told.person)]
    changed = {told.person_id: told for told in free}  # one each: nobody tells of somebody twice
    for told in changed.values():
        told.introducer, told.outside = other, None
        told.save()
    assert len(changed) > 5
    assert differing(before, all_that_can_be_seen(loic)) == []


def test_artists_pages_do_change_with_a_level(rehearsal):
    """Else the test above could not fail."""
    ines = User.objects.get(username="ines")
    address = "/person/12/"
    before = plain(Hand(ines).client.get(address).content)
    Participant.objects.filter(code="12").update(level=Risk.GRAVE)
    assert plain(Hand(ines).client.get(address).content) != before


# Reached by a press, not by a link.
BY_PRESS = {
    "privacy:away",
    "privacy:sure",
    "privacy:clock",  # shown at signing in, while the clock is behind
    "today:entry",  # there only while something waits that a telephone wrote
    *("prints:walk", "prints:typed"),  # there once a round was planned
    "people:heard",
    "people:same",  # offered where word came of somebody whose name is like one we know
    "rights:raised",
    "rights:erased",
    "uses:stopped",
    "uses:undo",
}

BY_CODE = {"people:lift_by_code", "people:undo_never_ring"}  # the artist has the person's page


def names_of(addresses: Iterable[str]) -> set[str]:
    """The pages behind addresses that were seen."""
    return {resolve(a.split("?")[0]).view_name for a in addresses if a.startswith("/")}


def papers_in(seen: dict[str, bytes]) -> set[str]:
    """The papers that these pages lead to; they are not printed here."""
    pages = (content.decode(errors="ignore") for content in seen.values())
    return {address for page in pages for address in re.findall(r'href="(/[^"#]*/pdf/)', page)}


@pytest.mark.parametrize("username", ["ines", "loic", "aude"])
def test_every_page_of_no_one_person_is_reached_by_links_and_no_link_is_dead(rehearsal, username):
    user = User.objects.get(username=username)
    wanted = {
        page.name
        for page in pages()
        if not page.parameters
        and user.role in getattr(page.view, "roles", ())
        and Hand(user).client.get(page.address({})).status_code == 200
    }
    seen = all_that_can_be_seen(user)
    assert wanted - names_of([*seen, *papers_in(seen)]) <= BY_PRESS | BY_CODE
