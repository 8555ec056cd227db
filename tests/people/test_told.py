"""One hearing as it is kept."""

import pytest

from relations.people.models import Introduction
from relations.people.values import Precision
from tests import cast

pytestmark = pytest.mark.django_db


def test_a_hearing_noted_without_more_is_of_its_very_day() -> None:
    told = cast.told(cast.danuta(), cast.marcel())
    assert told.precision == Precision.DAY
    assert Introduction._meta.get_field("precision").default == Precision.DAY
