"""The keeper's page: one press, and a sentence before new uses may be made again."""

from uuid import uuid4

import pytest
from django.urls import reverse

from relations.uses.models import PlannedUse, Standstill
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db
WORDS = "No new use is made: the keeper holds them back, or the project is closed."


@pytest.fixture
def keeper(client):
    return cast.signed_in(client, cast.keeper())


def press(client, page, **said):
    return client.post(reverse(page), {"token": str(uuid4()), **said})


def test_one_press_lays_it_and_a_sentence_lifts_it(keeper, client):
    make(PlannedUse, starts_on=cast.days(30), ends_on=None)
    page = keeper.get(reverse("uses:held_back")).content.decode()
    assert "1 planned use lies ahead." in page
    token = str(uuid4())
    for _twice in range(2):
        answer = keeper.post(reverse("uses:hold_back"), {"token": token})
        assert answer.status_code == 302
    assert Standstill.objects.count() == 1
    held = "Every new use is held back since"
    assert held in keeper.get("/").content.decode()
    empty = press(keeper, "uses:let_go_on", sentence="")
    assert (empty.status_code, Standstill.objects.get().lifted_at) == (422, None)
    assert press(keeper, "uses:let_go_on", sentence="Her sister follows.").status_code == 302
    assert "Her sister follows." in keeper.get(reverse("uses:held_back")).content.decode()
    assert held not in keeper.get("/").content.decode()


@pytest.mark.parametrize("page", ["uses:plans", "uses:new_plan"])
def test_the_artist_reads_why_nothing_new_is_planned(client, page):
    make(Standstill)
    cast.signed_in(client, cast.artist())
    assert WORDS in client.get(reverse(page)).content.decode()
    said = {"code": "P9", "use": "press", "starts_on": "2027-01-10", "place": "typed here"}
    answer = press(client, "uses:new_plan", **said)
    assert (answer.status_code, "typed here" in answer.content.decode()) == (422, True)
    assert WORDS in answer.content.decode()


def test_no_files_are_handed_out_while_it_lies(client):
    plan = make(PlannedUse)
    make(Standstill)
    cast.signed_in(client, cast.artist())
    answer = client.get(reverse("uses:sidecars_zip", args=[plan.code]))
    assert (answer.status_code, WORDS in answer.content.decode()) == (422, True)
