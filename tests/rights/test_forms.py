"""What may be said on the page of an alarm."""

from uuid import uuid4

from relations.privacy.refused import Refused
from relations.rights.forms import AlarmForm, CloseForm


def test_each_press_of_a_page_is_one_alarm():
    token = str(uuid4())
    forms = [AlarmForm({"token": token, "what": what}) for what in ("bag", "bag", "phone")]
    assert all(form.is_valid() for form in forms)
    assert forms[0].token == forms[1].token != forms[2].token


def test_a_refusal_stands_above_in_words():
    form = CloseForm({"token": str(uuid4())}, key=uuid4())
    assert form.is_valid()
    form.refuse(Refused("artist_or_keeper"))
    assert form.non_field_errors() == ["This is for the artist or the keeper."]
