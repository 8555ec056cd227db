"""No page asks the database once a row, and no page is heavy on a slow line."""

import re
from urllib.parse import urljoin

import pytest
from django.conf import settings
from django.test import Client

from relations.meetings.models import Call
from relations.people.models import Participant
from relations.prints.models import Print
from relations.prints.rules import PrintState
from relations.privacy.models import User
from tests.at_the_door import come_in
from tests.bench.site import Site, statements
from tests.house import test_weight as weight

FIRST_BYTES, FIRST_REQUESTS, LATER_BYTES = 30_000, 5, 10_000
BOTH_BYTES = 50_000
# A statement may stand on a page for two or three people or lines, never for each of a list.
MOST_ALIKE = 3
# The pages that list what there is, and the whole page of a person with a long story.
ARTIST = (
    *("/", "/person/01/", "/person/17/", "/people/", "/people/01/", "/meetings/rings/"),
    *("/meetings/", "/meetings/trips/", "/pictures/", "/pictures/sittings/", "/forms/"),
    *("/forms/wordings/", "/prints/", "/prints/promises/", "/uses/plans/", "/uses/plan/E1/"),
    *("/uses/plan/E1/pictures/", "/uses/plan/E1/names/", "/uses/shown/", "/uses/undo/"),
    *("/introductions/", "/introductions/tables/", "/alarm/", "/uses/stop/"),
)
ASSISTANT = (
    *("/", "/people/", "/meetings/rings/", "/meetings/", "/pictures/", "/forms/", "/prints/"),
    *("/uses/stop/", "/alarm/"),
)

# Where an assistant types most.
FORMS = (
    *("/outbox/write/", "/outbox/", "/people/new/", "/people/rang-us/", "/forms/file/"),
    *("/forms/coming-home/", "/prints/promises/new/", "/people/hold/"),
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rehearsal")]


@pytest.fixture
def ines() -> Site:
    return Site(User.objects.get(username="ines"))


@pytest.fixture
def loic() -> Site:
    """The assistant, whose day is laid out."""
    site = Site(User.objects.get(username="loic"))
    site.ask("/")
    return site


def queries(site: Site, path: str) -> int:
    with statements() as asked:
        assert site.ask(path).status == 200
    return asked.total()


@pytest.mark.parametrize("path", ARTIST)
def test_no_page_of_the_artist_asks_once_a_row(ines: Site, path: str) -> None:
    with statements() as asked:
        assert ines.ask(path).status == 200
    statement, times = asked.most_common(1)[0]
    assert times <= MOST_ALIKE, statement


@pytest.mark.parametrize("path", ASSISTANT)
def test_no_page_of_the_assistant_asks_once_a_row(loic: Site, path: str) -> None:
    with statements() as asked:
        assert loic.ask(path).status == 200
    statement, times = asked.most_common(1)[0]
    assert times <= MOST_ALIKE, statement


def test_people_are_listed_in_as_many_queries_as_one_of_them(ines: Site, figure) -> None:
    everybody = queries(ines, "/people/")
    figure("queries to list 42 people", everybody)
    one = Participant.objects.get(code="41")
    Participant.objects.filter(standing="named").exclude(pk=one.pk).update(standing="met")
    assert queries(ines, "/people/?standing=named") == everybody


def test_prints_owed_are_listed_in_as_many_queries_as_one_of_them(ines: Site, figure) -> None:
    all_of_them = queries(ines, "/prints/")
    figure("queries to list the prints owed", all_of_them)
    one = Print.objects.filter(state=PrintState.OWED).first()
    assert one
    Print.objects.exclude(pk=one.pk).update(state=PrintState.ACKNOWLEDGED)
    assert queries(ines, "/prints/") == all_of_them


def test_day_is_laid_out_in_as_many_queries_for_many_rings_as_for_one(ines: Site, figure) -> None:
    many = queries(ines, "/")
    figure("queries of the artist's day", many)
    due = Call.objects.filter(state="planned")
    few = list(due.order_by("due_on").values_list("pk", flat=True)[:1])
    due.exclude(pk__in=few).update(state="called_off", outcome="")
    one = Print.objects.filter(state=PrintState.OWED).first()
    assert one
    Print.objects.exclude(pk=one.pk).exclude(state=PrintState.OUT_ON_A_ROUND).update(
        state=PrintState.ACKNOWLEDGED
    )
    assert queries(ines, "/") == many


def test_whole_page_of_a_person_takes_as_many_queries_for_a_short_story(ines: Site, figure) -> None:
    long = queries(ines, "/person/01/")
    figure("queries of the page of a person", long)
    marcel = Participant.objects.get(code="01")
    kept = marcel.calls.exclude(outcome="").values_list("pk", flat=True)[:1]
    marcel.calls.exclude(pk__in=list(kept)).delete()
    assert queries(ines, "/person/01/") == long


def test_files_of_every_page_are_light(figure) -> None:
    """Held by tests/house/test_weight.py too; here for the table."""
    scripts = [*weight.STATIC.rglob("*.js"), *(weight.ROOT / "templates").rglob("*.js")]
    style, script = weight.weight("site.css"), weight.weight(*map(str, scripts))
    figure("the style sheet, compressed", style, unit="bytes", bar="<= 7,000")
    figure("all scripts, compressed", script, unit="bytes", bar="<= 5,000")
    assert style <= 7_000
    assert script <= 5_000


def fetched_beside(page: bytes, base: str) -> list[str]:
    """The addresses a browser fetches by itself for a page: styles, scripts, icons, images."""
    tags = re.findall(r"<(?:link|script|img|use)\b[^>]*>", page.decode())
    found = [
        match[1] for tag in tags if (match := re.search(r"(?:href|src)=\"([^\"#]+)[^\"]*\"", tag))
    ]
    return list(dict.fromkeys(urljoin(base, address) for address in found))


@pytest.fixture(params=[code for code, _name in settings.LANGUAGES])
def code(request: pytest.FixtureRequest, rehearsal: int) -> str:
    """Each language of the screens in turn; everybody reads it."""
    User.objects.update(language=request.param)
    return str(request.param)


def test_first_load_is_light_and_of_few_requests(code: str, figure) -> None:
    """A stranger's sign-in page, then the day: nothing is in the browser yet."""
    for who, path in ((None, "/in/"), (User.objects.get(username="ines"), "/")):
        site = Site(who, language=code)
        page = site.ask(path)
        beside = [site.ask(address) for address in fetched_beside(page.body, path)]
        assert {one.status for one in (page, *beside)} == {200}
        sent, requests = sum(len(one.sent) for one in (page, *beside)), 1 + len(beside)
        assert page.headers["Content-Language"] == code
        figure(f"first load of {path} in {code}, bytes", sent, bar=f"<= {FIRST_BYTES:,}")
        figure(f"first load of {path} in {code}, requests", requests, bar=f"<= {FIRST_REQUESTS}")
        assert beside, "a page brings its style sheet"
        assert sent <= FIRST_BYTES
        assert requests <= FIRST_REQUESTS


def test_page_of_the_assistant_and_its_answer_are_light_together(code: str, figure) -> None:
    """With all that a browser fetches for a page, and what comes back when its form is sent empty,
    which is the page again with every error there is."""
    user = User.objects.get(username="loic")
    site, hand = Site(user), Client(headers={"accept-encoding": "gzip"})
    come_in(hand, user)
    beside: dict[str, int] = {}
    total: dict[str, int] = {}
    for path in (*ASSISTANT, *FORMS):
        page = site.ask(path)
        assert page.status == 200, path
        for address in fetched_beside(page.body, path):
            if address not in beside:
                beside[address] = len(site.ask(address).sent)
        fetched = sum(beside[address] for address in fetched_beside(page.body, path))
        answer = hand.post(path) if b'method="post"' in page.body.partition(b"<main")[2] else None
        total[path] = len(page.sent) + fetched + (len(answer.content) if answer else 0)
    heaviest = max(total, key=total.__getitem__)
    figure(f"page and answer in {code} ({heaviest}), bytes", total[heaviest], bar="<= 50,000")
    assert {path: size for path, size in total.items() if size > BOTH_BYTES} == {}


def test_later_pages_are_light(code: str, ines: Site, loic: Site, figure) -> None:
    """Styles and scripts are in the browser by now; pictures load by themselves, on asking."""
    sent = {(path, "ines"): len(ines.ask(path).sent) for path in ARTIST}
    sent |= {(path, "loic"): len(loic.ask(path).sent) for path in ASSISTANT}
    heaviest = max(sent, key=sent.__getitem__)
    figure(
        f"the heaviest later page in {code} ({heaviest[0]}), bytes", sent[heaviest], bar="<= 10,000"
    )
    assert {where: size for where, size in sent.items() if size > LATER_BYTES} == {}
