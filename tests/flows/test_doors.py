"""What an assistant and a stranger cannot reach by changing an address, nor read between lines."""

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache

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


def all_that_can_be_seen(user: User, *, most: float = math.inf) -> dict[str, bytes]:
    """Every page that links lead to from Today, with names opened: address -> what was sent.

    Of one view no more than `most` pages are opened; of those beyond, none.
    """
    hand, seen, waiting = Hand(user), {}, ["/"]
    opened: Counter[str] = Counter()
    while waiting:
        address = waiting.pop(0)
        view = view_of(address)
        if address in seen or opened[view] >= most:
            continue
        opened[view] += 1
        answer = hand.client.get(address)
        assert answer.status_code == 200, address
        seen[address] = plain(answer.content)
        if "html" in answer.headers["Content-Type"]:
            waiting += links(answer.content.decode())
    for code in {found[1] for found in (re.match(r"/people/(\w+)/$", a) for a in seen) if found}:
        named = hand.client.post(f"/people/{code}/names/shown/")
        if named.status_code == 200:
            seen[f"names of {code}"] = plain(named.content)
    return seen


def view_of(address: str) -> str:
    """The view behind an address; what leads nowhere stops the test that follows it."""
    return resolve(address.split("?")[0]).view_name


@cache
def seen_at_first(username: str, most: float) -> dict[str, bytes]:
    """What somebody can see of the rehearsal as it was filled: looked at once, never changed.

    Every test begins with these rows, since each undoes what it did.
    """
    return all_that_can_be_seen(User.objects.get(username=username), most=most)


def links(html: str) -> Iterator[str]:
    """Where the links of a page lead, on this site; papers and pictures are no pages."""
    for address in re.findall(r'href="(/[^"#]*)', html):
        if not re.search(r"^/static/|/pdf/|/proof/", address):
            yield address


def differing(before: dict[str, bytes], after: dict[str, bytes]) -> list[str]:
    return [a for a in before.keys() | after.keys() if before.get(a) != after.get(a)]


def give_other_levels() -> None:
    """Everybody another level than theirs, the gravest or none; as many of each as may be."""
    for at, person in enumerate(Participant.objects.order_by("level", "code")):
        gravest_or_none = (Risk.GRAVE, "") if at % 2 else ("", Risk.GRAVE)
        Participant.objects.filter(pk=person.pk).update(
            level=next(level for level in gravest_or_none if level != person.level)
        )


def introducers(person: Participant) -> set:
    return set(person.introductions.values_list("introducer", flat=True))


def tell_by_another() -> None:
    """That one person told us of whoever came by a word whose giver may not be named."""
    other = Participant.objects.get(code="36")
    unsaid = Introduction.objects.exclude(may_say_who=True).exclude(person=other)
    free = [told for told in unsaid if other.pk not in introducers(told.person)]
    changed = {told.person_id: told for told in free}  # one each: nobody tells of somebody twice
    for told in changed.values():
        told.introducer, told.outside = other, None
        told.save()
    assert len(changed) > 5


def test_no_byte_an_assistant_sees_depends_on_a_level_or_on_who_told_us_unsaid(rehearsal):
    """Every page that links lead an assistant to, after both were changed for everybody.

    No level at all and the gravest for all alike: below, where there is time.
    """
    before = seen_at_first("loic", math.inf)
    assert len(before) > 100
    give_other_levels()
    tell_by_another()
    after = all_that_can_be_seen(User.objects.get(username="loic"))
    assert differing(before, after) == []


@pytest.mark.long
@pytest.mark.parametrize("level", [Risk.GRAVE, ""])
def test_no_byte_an_assistant_sees_depends_on_a_level_that_all_have(rehearsal, level):
    before = seen_at_first("loic", math.inf)
    Participant.objects.update(level=level)
    assert differing(before, all_that_can_be_seen(User.objects.get(username="loic"))) == []


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


# Of the artist's pages, who sees everybody, so many of each view; all of them in the long run.
MOST = {"ines": 6, "loic": math.inf, "aude": math.inf}


@pytest.mark.parametrize("username", MOST)
def test_every_page_of_no_one_person_is_reached_by_links_and_no_link_is_dead(rehearsal, username):
    """A link beyond those that are followed still leads to a page that there is."""
    seen = seen_at_first(username, MOST[username])
    assert not_reached(username, seen) <= BY_PRESS | BY_CODE


@pytest.mark.long
def test_no_link_of_all_that_an_artist_sees_is_dead(rehearsal):
    assert not_reached("ines", seen_at_first("ines", math.inf)) <= BY_PRESS | BY_CODE


def not_reached(username: str, seen: dict[str, bytes]) -> set[str]:
    """The pages of no one person that are open to somebody, and to which nothing seen led."""
    user = User.objects.get(username=username)
    wanted = {
        page.name
        for page in pages()
        if not page.parameters
        and user.role in getattr(page.view, "roles", ())
        and Hand(user).client.get(page.address({})).status_code == 200
    }
    return wanted - names_of([*seen, *papers_in(seen)])
