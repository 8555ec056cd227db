"""Whose names are kept out of the words of a picture."""

import pytest

from relations.pictures.models import Appearance
from relations.pictures.written import in_it
from tests import cast
from tests.pictures.test_actions import add, sit
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_all_who_sat_or_are_in_the_frame_are_in_it_once() -> None:
    danuta, marcel = cast.danuta(), cast.marcel()
    picture = add(sit(danuta, marcel), (danuta, 1, "yes"))
    shown = make(Appearance, picture=picture, place=2).person
    assert sorted(person.code for person in in_it(picture)) == sorted(["01", "12", shown.code])
