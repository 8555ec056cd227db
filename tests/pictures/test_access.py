"""Sittings and pictures are seen with the people in them."""

import pytest
from django.http import Http404

from relations.pictures import access
from tests import cast
from tests.pictures.test_actions import add, sit

pytestmark = pytest.mark.django_db


@pytest.fixture
def picture():
    cast.assistant()
    made = add(sit(cast.danuta(), cast.marcel(), code="12/T7"))
    cast.danuta().in_sight.all().delete()
    cast.marcel().in_sight.all().delete()
    return made


def test_artist_sees_all(picture) -> None:
    assert access.picture(cast.artist(), "K12") == picture
    assert access.sitting(cast.artist(), "12/T7") == picture.sitting


@pytest.mark.parametrize("who", [cast.assistant, cast.keeper, cast.wording_reader])
def test_out_of_sight_and_absent_are_the_same(picture, who) -> None:
    for code in ("K12", "K99"):
        with pytest.raises(Http404):
            access.picture(who(), code)
    for code in ("12/T7", "99/T7"):
        with pytest.raises(Http404):
            access.sitting(who(), code)


def test_one_sitter_in_sight_is_enough_and_counts_once(picture) -> None:
    cast.in_sight(cast.danuta(), cast.assistant())
    cast.in_sight(cast.marcel(), cast.assistant())
    assert access.picture(cast.assistant(), "K12") == picture
    assert list(access.sittings(cast.assistant())) == [picture.sitting]
    assert list(access.pictures(cast.assistant())) == [picture]
