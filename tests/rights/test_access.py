"""Who is reached in order to be erased: by a whole code, in any writing, and nobody is shown."""

import pytest
from django.http import Http404

from relations.people.models import Participant
from relations.rights import access
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_code_is_known_in_any_writing():
    person = make(Participant, code="Q7QQ9")
    assert access.is_known(" q7-qq9")
    assert access.to_erase("q7qq9") == person


def test_code_that_is_nobodys_is_absent():
    assert not access.is_known("Q7QQ9")
    with pytest.raises(Http404):
        access.to_erase("Q7QQ9")
