"""`manage.py weigh` answers a planned use from the register."""

import json
from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.uses.models import Weighing
from tests.uses import plans

pytestmark = pytest.mark.django_db


def said(*arguments):
    out = StringIO()
    call_command("weigh", *arguments, stdout=out)
    return out.getvalue()


def test_weigh_prints_the_worked_answers_as_json_and_keeps_nothing():
    plans.demo()
    plans.plan("B1")
    found = json.loads(said("B1", "--json"))
    expected = plans.DEMO["expected"]["B1"]
    assert {code: plans.comparable(answer) for code, answer in found.items()} == {
        code: plans.comparable(answer) for code, answer in expected.items()
    }
    assert not Weighing.objects.exists()


def test_weigh_says_every_reason_in_words():
    plans.demo()
    plans.plan("E1", "K07", "K30", "K01")
    lines = said("e1").splitlines()
    assert "K01  cleared" in lines
    assert "  - 07 ENDED: Their form ends before the start." in lines
    assert "  ~ 30 LAST-WORD: The time for a last word has not begun." in lines
    assert "  look again on 2027-01-06" in lines


def test_a_picture_that_is_never_looked_at_again_says_no_day():
    plans.demo()
    plans.plan("B1", "K01")
    assert said("B1") == "K01  cleared\n"


def test_an_unknown_code_stops_with_a_sentence():
    with pytest.raises(CommandError, match="No planned use has the code Z9"):
        call_command("weigh", "Z9")
