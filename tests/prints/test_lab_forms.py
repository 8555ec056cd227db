"""What the forms of the lab offer, and what they give to the actions."""

import pytest

from relations.prints.lab import Came, Fault
from relations.prints.lab_forms import CollectForm, OrderForm, is_asked
from relations.prints.models import LabLine, LabOrder
from tests import cast
from tests.prints.frames import made
from tests.rows import make

pytestmark = pytest.mark.django_db


def line(state):
    order = make(LabOrder)
    row = made(cast.danuta(), "K12", state, order=order)
    return order, make(LabLine, order=order, print=row, number=1)


def test_each_print_stands_under_its_codes_and_no_name():
    row = made(cast.danuta(), "K12", "file_ready", size="8 x 10 in")
    form = OrderForm(waiting=[row])
    assert form.initial[f"size-{row.pk}"] == "8 x 10 in"
    page = str(form.as_p())
    assert "Danuta" not in page


def test_a_print_in_our_hands_is_checked_and_no_longer_lost():
    order, one = line("collected")
    form = CollectForm(order=order, lines=[one])
    offered = [value for value, _ in form.fields["line-1"].choices]
    assert offered == ["", "good", *Fault]


def test_a_print_that_went_on_is_not_asked_about():
    order, one = line("checked")
    assert not is_asked(one)
    assert CollectForm(order=order, lines=[one]).numbers == []


def test_a_fault_is_kept_with_its_words():
    order, one = line("at_the_lab")
    sent = {"token": "0b6b9c4e-6a3f-4f0b-9d6c-0b1b2f3a4c5d", "on": "2026-11-23", "line-1": "frame"}
    form = CollectForm(sent, order=order, lines=[one])
    assert form.is_valid(), form.errors
    found = form.said["found"][1]
    assert (found.came, found.fault) == (Came.FAULTY, Fault.FRAME)
    assert found.why == "Another frame, or cut wrongly"
    assert form.said["spoilt"] == 0
