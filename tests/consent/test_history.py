"""The steps of a form and the copies kept of it, as the register holds them."""

from importlib import import_module

import pytest
from django.apps import apps

from relations.consent.history import FormStep, KeptCopy
from relations.consent.models import Form
from tests.consent import desk
from tests.rows import DAY, come_back_in_order, make

pytestmark = pytest.mark.django_db


def test_steps_and_copies_come_back_by_their_number():
    form = make(Form)
    for model in (FormStep, KeptCopy):
        assert come_back_in_order(model, *({"form": form, "number": n} for n in (1, 2, 3)))


def test_form_from_before_the_steps_keeps_the_one_it_stands_at():
    """The first state is no step: that a paper was printed stands on its sheet."""
    desk.paper(70_042, state="printed")
    carried = desk.paper(70_043, state="carried", state_on=DAY)
    migration = import_module("relations.consent.migrations.0004_record")
    migration.note_where_they_are(apps, None)
    step = FormStep.objects.get()
    assert (step.form, step.number, step.state, step.on) == (carried, 1, "carried", DAY)
