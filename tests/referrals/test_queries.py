"""The read of the whole web."""

import pytest
from pytest_django import DjangoAssertNumQueries

from relations.people.models import Introduction
from relations.referrals import queries
from tests import cast

pytestmark = pytest.mark.django_db


def test_introductions_are_codes_in_the_order_of_being_reached(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    cast.herve()
    cast.ibrahima()
    with django_assert_num_queries(2):
        lines = queries.introductions()
    assert [(line.code, line.reached.first, line.reached.wave) for line in lines] == [
        ("01", "", 0), ("12", "01", 1), ("35", "X2", 1), ("28", "12", 2), ("41", "28", 3),
    ]  # fmt: skip
    assert [line.code for line in lines if line.is_outside] == ["35"]
    assert [(lines[0].told_of, lines[0].came_of)] == [(1, 3)]


def test_a_withheld_link_names_nobody() -> None:
    cast.danuta()
    Introduction.objects.filter(person__code="12").update(introducer=None, is_withheld=True, wave=1)
    line = next(line for line in queries.introductions() if line.code == "12")
    assert (line.reached.first, line.reached.wave, line.reached.is_withheld) == ("", 1, True)
