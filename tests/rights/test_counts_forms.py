"""The press beside a report in numbers."""

from uuid import uuid4

import pytest

from relations.privacy.refused import Refused
from relations.rights.counts_forms import CountsForm


def pressed(day, token):
    return CountsForm({"token": token, "as_of": day})


def test_each_report_of_a_page_has_a_token_of_its_own():
    token = str(uuid4())
    one, again, other = (pressed(day, token) for day in ("2026-06-30", "2026-06-30", "2025-12-31"))
    assert one.is_valid() and again.is_valid() and other.is_valid()
    assert one.token == again.token != other.token


@pytest.mark.parametrize("day", ["", "yesterday", "2026-13-01"])
def test_day_that_is_none_is_refused(day):
    assert not pressed(day, str(uuid4())).is_valid()


def test_report_that_is_not_there_is_said_beside_its_day():
    form = pressed("2026-06-30", str(uuid4()))
    assert form.is_valid()
    form.refuse(Refused("no_report"))
    assert list(form.errors) == ["as_of"]
