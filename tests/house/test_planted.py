"""Holes are planted, one of each kind, and the checks of the table report exactly that cell."""

import pytest
from django.db import connection, transaction
from django.http import HttpResponse
from django.urls import include, path

from relations.people.access import person
from relations.people.models import Community, Participant
from relations.people.queries import lines
from relations.privacy.access import HANDS, roles
from relations.privacy.models import Role
from tests.house.asking import Asker, Hearing, faults, unguarded, unlisted, watching
from tests.house.crawl import Seen, leaks
from tests.house.fields import READERS, TABLE, read
from tests.house.pages import WHO, pages, table
from tests.house.pages import read as read_pages
from tests.house.planted import Planted
from tests.rows import DAY

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.house.test_planted")]


def for_anybody(request, code):
    """No `roles`."""
    return HttpResponse(Participant.objects.filter(code=code).count())


@roles(Role.ARTIST, Role.KEEPER)
def one_too_many(request):
    """The artist's alone, as its row says; the keeper was let in too."""
    return HttpResponse("counts")


@roles(*HANDS)
def writes(request, code):
    """Changes a row when it is only looked at."""
    Participant.objects.filter(code=code).update(may_vouch=True)
    return HttpResponse("seen")


@roles(*HANDS)
def takes_all(request, code):
    """Does what a form asks for before it looks whose person it is."""
    if request.method == "POST":
        Participant.objects.filter(code=code).update(may_vouch=True)
    return HttpResponse(person(request.user, code).code)


@roles(*HANDS)
def shows_a_number(request, code):
    """A number in a list, without a press and without a line in the log."""
    numbers = [line.row.number for line in lines(person(request.user, code))]
    return HttpResponse(f"<p>{' '.join(numbers)}</p>", headers={"Content-Security-Policy": "none"})


planted = [
    path("anybody/<slug:code>/", for_anybody, name="for_anybody"),
    path("too-many/", one_too_many, name="one_too_many"),
    path("writes/<slug:code>/", writes, name="writes"),
    path("takes-all/<slug:code>/", takes_all, name="takes_all"),
    path("number/<slug:code>/", shows_a_number, name="shows_a_number"),
]
urlpatterns = [path("planted/", include((planted, "planted"))), path("", include("relations.urls"))]
#   page                         stranger  artist    assistant unseen    reader    keeper
ROWS = read_pages("""
    planted:for_anybody          in/in     200/200   200/200   404/404   404/404   404/404
    planted:one_too_many         in/in     200/200   404/404   404/404   404/404   404/404
    planted:writes               in/in     200/200   200/200   200/200   404/404   404/404
    planted:takes_all            in/in     200/200   200/200   404/404   404/404   404/404
    planted:shows_a_number       in/in     200/200   200/200   404/404   404/404   404/404
""")


@pytest.fixture
def found(askers, made_once):
    """The faults of one planted page, as the test of the table reports them."""
    site = {page.name: page for page in pages()}

    def look(name):
        page = site[f"planted:{name}"]
        said = faults(Hearing(askers, made_once), page, ROWS[page.name])
        return [fault.removeprefix(f"{page.name}, ") for fault in said]

    return look


def test_view_without_roles_is_found(found):
    assert unguarded(pages()) == ["planted:for_anybody: has no roles"]
    cells = found("for_anybody")
    assert "stranger, GET: answered 200, the table says in" in cells
    assert "keeper, POST: answered 200, the table says 404" in cells
    assert {cell.split(",")[0] for cell in cells} == {
        *("stranger", "unseen", "wording_reader", "keeper"),
    }


def test_view_with_one_role_too_many_is_found_in_exactly_its_cells(found):
    assert found("one_too_many") == [
        f"keeper, {method}: answered 200, the table says 404" for method in ("GET", "HEAD", "POST")
    ]


def test_page_without_a_row_and_row_without_a_page_are_found():
    rows = {**table(), **ROWS}
    assert unlisted(pages(), rows) == []
    del rows["planted:writes"]
    gone = {**rows, "people:vanished": rows["people:list"]}
    assert unlisted(pages(), gone) == [
        "planted:writes: the page has no row",
        "people:vanished: the row has no page",
    ]


def test_view_that_writes_on_looking_is_found_in_exactly_its_cells(found):
    assert found("writes") == [
        f"{who}, {method}: wrote to people_participant"
        for who in ("artist", "assistant", "unseen")
        for method in ("GET", "HEAD")
    ]


def test_refused_form_that_changed_something_all_the_same_is_found(found):
    assert found("takes_all") == ["unseen, POST: wrote to people_participant"]


def test_page_that_overrides_a_header_is_found(found):
    assert found("shows_a_number") == [
        f"{who}, {method}: Content-Security-Policy is 'none'"
        for who in ("artist", "assistant")
        for method in ("GET", "HEAD", "POST")
    ]


def test_page_that_leaks_a_field_is_found_in_exactly_its_cells(made_once):
    """A number is shown by a press that is noted, at one place; here it stands on a page."""
    kept = Planted(made_once)
    page = next(page for page in pages() if page.name == "planted:shows_a_number")
    address, seen = page.address(made_once), {}
    for who in READERS:
        asker = Asker(who, name="leak")
        number = kept.first.lines.get()
        press = f"/people/{kept.first.code}/phone/{number.pk}/"
        seen[who] = [
            Seen("people:show_number", "POST", press, asker.ask("POST", press)),
            Seen(page.name, "GET", address, asker.ask("GET", address)),
        ]
    row = next(row for row in read(TABLE) if row.what == "people.PhoneLine.number")
    assert list(leaks(row, kept.needles[row.what], seen)) == [
        f"{row.what}, {who}: r, but is open on planted:shows_a_number (GET)"
        for who in ("artist", "assistant")
    ]
    barred = read("people.PhoneLine.number - - - - -")[0]
    assert len(list(leaks(barred, kept.needles[row.what], seen))) == 4
    unread = read("people.PhoneLine.number R R R - -")[0]
    assert list(leaks(unread, kept.needles[row.what], seen)) == [
        f"{row.what}, unseen: R, but it is on no page"
    ]


def test_every_way_of_writing_is_heard_and_reading_is_none():
    one = Participant.objects.create(code="41", heard_on=DAY, standing_since=DAY)
    with watching() as reading:
        codes = Participant.objects.order_by().values("code")
        assert {"code": "41"} in codes.union(codes.filter(code="41"))
        Participant.objects.select_for_update().get(code="41")
    assert reading.written == set()
    another = Community(key="bouleau", name="Bouleau")
    for write in (
        lambda: Community.objects.create(key="aulne", name="Aulne"),
        lambda: Community.objects.bulk_create([another], ignore_conflicts=True),
        lambda: Community.objects.update(is_raised=True),
        lambda: Community.objects.all().delete(),
    ):
        with watching() as writing:
            write()
        assert writing.written == {"people_community"}
    with watching() as unknown, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("CREATE TABLE planted (one integer)")
        transaction.set_rollback(True)
    assert unknown.written == {"CREATE TABLE planted (one integer)"}
    assert Participant.objects.filter(pk=one.pk).exists()


def test_roles_of_the_planted_rows_are_those_of_the_table():
    assert all(set(row) == set(WHO) for row in ROWS.values())
