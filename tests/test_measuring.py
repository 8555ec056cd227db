"""The tracer of coverage looks away from Django's layer of rows, and looks on afterwards."""

import sys

import pytest

from relations.people.models import Community
from tests.measuring import ROWS, rows_unmeasured, unmeasured


@pytest.fixture
def looked_at():
    """The functions that a tracer saw being called, while the test runs."""
    names = []
    before = sys.gettrace()
    sys.settrace(lambda frame, *_: names.append(frame.f_code.co_name))
    yield names
    sys.settrace(before)


def aside():
    return "done"


def test_what_is_called_unmeasured_is_not_seen_and_what_follows_is(looked_at):
    assert unmeasured(aside) == "done"
    assert "aside" not in looked_at
    aside()
    assert "aside" in looked_at


def test_a_tracer_looks_on_after_what_failed(looked_at):
    with pytest.raises(ZeroDivisionError):
        unmeasured(lambda: 1 / 0)
    aside()
    assert "aside" in looked_at


@pytest.mark.django_db
def test_rows_are_fetched_and_written_unseen(looked_at):
    with rows_unmeasured():
        Community.objects.create(key="aulne", name="Aulne")
        assert [community.key for community in Community.objects.all()] == ["aulne"]
    unseen = {"_save_table", "execute_sql", "results_iter", "from_db", "build_filter"}
    assert not unseen & set(looked_at)
    assert Community.objects.get(key="aulne").name == "Aulne"
    assert unseen - {"_save_table"} <= set(looked_at)


def test_where_nothing_is_measured_django_is_as_it_was():
    def held():
        return [getattr(owner, name) for owner, name in ROWS]

    def within():
        with rows_unmeasured():
            return held()

    assert unmeasured(within) == held()
