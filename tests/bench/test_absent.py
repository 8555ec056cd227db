"""No clock tells a person who is not in sight from one who is not there."""

import gc
import statistics
import time

import pytest

from relations.people.models import InSight, Participant
from relations.privacy.home import today
from relations.privacy.models import Role, User
from tests.bench.site import Site

ROUNDS = 150
# The medians of many requests in turn, in seconds of the processor, since whatever else the machine
# does lengthens one answer and not the next; a query more, or a name that is opened, is a third of
# such an answer and more.
LEAST, MOST = 0.8, 1.25
ADDRESSES = ("/person/{}/", "/people/{}/", "/meetings/ring/{}/", "/uses/stop/{}/")

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rehearsal")]


@pytest.fixture
def assistant() -> Site:
    """Who has nobody in sight."""
    user = User.objects.create_user("new", None, role=Role.ASSISTANT, called="New")
    assert not InSight.objects.filter(user=user, day=today()).exists()
    return Site(user)


def seconds(site: Site, path: str, status: int) -> float:
    start = time.process_time()
    page = site.ask(path)
    took = time.process_time() - start
    assert page.status == status
    return took


def medians(site: Site, one: str, other: str, status: int = 404) -> tuple[float, float]:
    """The median seconds of each, asked in turn, so that the machine slows both alike."""
    took: dict[str, list[float]] = {one: [], other: []}
    seconds(site, one, 404), seconds(site, other, status)
    gc.disable()
    try:
        for at in range(ROUNDS):
            pair = ((one, 404), (other, status))
            for path, wanted in pair if at % 2 else pair[::-1]:
                took[path].append(seconds(site, path, wanted))
    finally:
        gc.enable()
    return statistics.median(took[one]), statistics.median(took[other])


@pytest.mark.parametrize("address", ADDRESSES)
def test_absent_and_not_in_sight_take_the_same_time(address: str, assistant: Site, figure) -> None:
    person = Participant.objects.get(code="12")
    absent, unseen = medians(assistant, address.format("ZZZZZ"), address.format(person.code))
    ratio = unseen / absent
    figure(f"{address} not in sight beside absent", ratio, bar=f"{LEAST} to {MOST}")
    assert LEAST <= ratio <= MOST


def test_somebody_in_sight_does_take_longer(assistant: Site, figure) -> None:
    """Else the measure above could not tell anything apart."""
    person = Participant.objects.get(code="12")
    user = User.objects.get(username="new")
    InSight.objects.create(person=person, user=user, day=today(), why="ring")
    absent, seen = medians(assistant, "/person/ZZZZZ/", "/person/12/", status=200)
    figure("the page of somebody in sight beside an absent one", seen / absent, bar=f"> {MOST}")
    assert seen / absent > MOST
