"""What one password check costs."""

import pytest
from django.contrib.auth.hashers import check_password, make_password

from relations.privacy.hashers import SiteArgon2

pytestmark = pytest.mark.costly


def test_a_check_takes_46_mebibytes_so_that_four_at_once_fit_a_small_server():
    assert 4 * SiteArgon2.memory_cost * 1024 < 256 * 1024 * 1024
    assert SiteArgon2.memory_cost == 46 * 1024


def test_the_site_makes_and_checks_passwords_with_it():
    kept = make_password("a password of 26 signs ....")
    assert "m=47104,t=2,p=1" in kept
    assert check_password("a password of 26 signs ....", kept)
    assert not check_password("a password of 26 signs ...", kept)


def test_a_test_marked_costly_has_the_whole_cost(cheap_hashes):
    assert set(cheap_hashes) == {"memory_cost", "time_cost"}
    assert cheap_hashes == {"memory_cost": 46 * 1024, "time_cost": 2}
    assert {name: getattr(SiteArgon2, name) for name in cheap_hashes} == cheap_hashes
