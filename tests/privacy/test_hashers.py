"""What one password check costs."""

from django.contrib.auth.hashers import check_password, make_password

from relations.privacy.hashers import SiteArgon2


def test_a_check_takes_46_mebibytes_so_that_four_at_once_fit_a_small_server():
    assert 4 * SiteArgon2.memory_cost * 1024 < 256 * 1024 * 1024
    assert SiteArgon2.memory_cost == 46 * 1024


def test_the_site_makes_and_checks_passwords_with_it():
    kept = make_password("a password of 26 signs ....")
    assert "m=47104,t=2,p=1" in kept
    assert check_password("a password of 26 signs ....", kept)
    assert not check_password("a password of 26 signs ...", kept)
