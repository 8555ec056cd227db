"""Presses of one page do not take one another for themselves."""

from uuid import uuid4

from relations.uses.standstill_forms import LiftStandstillForm, StandstillForm


def test_two_presses_of_one_page_have_tokens_of_their_own():
    said = {"token": str(uuid4()), "sentence": "Her sister follows."}
    forms = [StandstillForm(said), LiftStandstillForm(said)]
    assert all(form.is_valid() for form in forms)
    assert len({form.token for form in forms}) == 2


def test_what_is_for_the_keeper_is_said_in_words():
    form = StandstillForm()
    assert str(form.words("keeper_only")) == "This is for the keeper."
