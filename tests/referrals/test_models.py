"""What the register of what was shared refuses."""

import pytest

from relations.referrals.models import Shared
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

NEVER = [
    ("shared_kind_known", lambda: make(Shared, kind="names")),
    ("Shared.number", lambda: twice(Shared, number=3)),
]
MAY = [("shared_kind_known", lambda: make(Shared, kind="map"))]
LINKS = links(kept="Shared.by", gone="")


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("referrals", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("referrals", link) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("referrals") | once_in("referrals")
    assert {name for name, _ in MAY} == constraints_of("referrals")
    assert {name for name, _ in LINKS} == links_of("referrals")


def test_the_newest_comes_first():
    assert come_back_in_order(Shared, {"number": 2}, {"number": 1})


def test_it_is_called_by_its_key_which_says_nothing():
    made = make(Shared)
    assert str(made) == str(made.pk)
