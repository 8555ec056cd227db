"""A closed project takes in nobody new and notes no sitting; what was agreed goes on."""

import pytest

from relations.people import closed
from relations.people.closed import ProjectClosed
from relations.people.models import Participant
from relations.people.word import hear
from relations.pictures.actions import sit
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


def test_closed_twice_is_once_and_it_may_go_on():
    assert not closed.is_closed()
    closed.refuse_if_closed()
    closed.close(on=cast.TODAY)
    closed.close(on=cast.days(1))
    assert ProjectClosed.objects.get().since == cast.TODAY
    with pytest.raises(Refused, match="project_closed"):
        closed.refuse_if_closed()
    closed.reopen()
    closed.reopen()
    assert not closed.is_closed()


def test_nobody_new_and_no_sitting_while_it_is_closed():
    person = cast.danuta()
    closed.close(on=cast.TODAY)
    with pytest.raises(Refused) as caught:
        hear(call_name="Zoé", on=cast.TODAY, by=cast.artist())
    assert caught.value.codes == ("project_closed",)
    with pytest.raises(Refused) as caught:
        sit(code="S9", sitters=[person], on=cast.TODAY, by=cast.artist())
    assert caught.value.codes == ("project_closed",)
    assert Participant.objects.count() == 2  # she and who told us of her
