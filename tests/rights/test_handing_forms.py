"""What may be typed at a handover, and that each press has a token of its own."""

from uuid import uuid4

import pytest

from relations.rights.handing_forms import PathForm, SignForm, UnwantedForm, UserField
from tests import cast

pytestmark = pytest.mark.django_db


def test_presses_of_one_page_do_not_take_one_another_for_themselves():
    token = {"token": str(uuid4())}
    forms = [PathForm(token, path=path) for path in ("/a/", "/b/")]
    assert all(form.is_valid() for form in forms)
    assert forms[0].token != forms[1].token


def test_without_a_handover_nothing_is_asked_but_the_sentence(rf):
    assert set(SignForm(request=rf.get("/"), handover=None).fields) == {"token", "why_differs"}


def test_an_assistant_is_offered_themselves_and_the_artist_all():
    cast.second_assistant()
    own = UnwantedForm(user=cast.assistant())
    assert [user.username for user in own.fields["user"].queryset] == ["loic"]
    every = UnwantedForm(user=cast.artist())
    assert [user.username for user in every.fields["user"].queryset] == ["loic", "maelle"]
    assert isinstance(own.fields["user"], UserField)
