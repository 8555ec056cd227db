"""The list is of pictures that everybody in them said yes to; of anybody else nothing is on it."""

import pytest

from relations.pictures.models import Picture
from relations.rights.deposit import Level
from relations.rights.deposited import deposit
from tests import cast
from tests.prints.frames import picture

pytestmark = pytest.mark.django_db


def test_picture_of_somebody_who_gave_no_form_is_not_on_it():
    picture("K12", cast.danuta())
    found = deposit(cast.TODAY, None)
    assert (found.entries, found.forms, found.countries) == ([], 0, ())


@pytest.mark.usefixtures("rehearsal")
def test_in_the_demo_an_archive_in_france_takes_what_its_forms_allow_and_no_more():
    """36 said yes to all uses; 27 took everything back; 11 said yes to a wall in France alone."""
    found = deposit(cast.TODAY, ["FR"])
    levels = {one.picture: one.level for one in found.entries}
    assert levels["K36b"] == Level.OPEN
    assert not {"K27", "K11"} & levels.keys()
    assert levels.keys() < {*Picture.objects.values_list("code", flat=True)}
    assert found.countries == ("FR",)
