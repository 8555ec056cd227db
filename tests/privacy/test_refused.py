"""How an action says no."""

import pytest

from relations.privacy.refused import Refused


def test_a_refusal_names_its_reasons():
    refusal = Refused("no_scan", "one_reading")
    assert refusal.codes == ("no_scan", "one_reading")
    assert str(refusal) == "no_scan one_reading"


def test_a_refusal_without_a_reason_is_a_mistake():
    with pytest.raises(ValueError, match="names its reasons"):
        Refused()
