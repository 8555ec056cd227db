"""A stranger at the door, on a small telephone without scripts."""

import pytest

from relations.privacy.models import Role, User

from .conftest import scrolls_sideways

PASSWORD = "three slow boats at noon"


@pytest.fixture
def door(open_page, live_server):
    page = open_page(java_script_enabled=False)
    page.goto(f"{live_server}/in/")
    return page


def test_stranger_is_led_to_the_sign_in_page_and_it_fits_the_screen(door):
    assert door.locator("main input[type=password]").is_visible()
    assert not scrolls_sideways(door)


def test_artist_signs_in_and_hides_the_page_with_one_press(door, live_server):
    User.objects.create_user("anouk", PASSWORD, role=Role.ARTIST, called="Anouk")
    door.locator("main input[name=username]").fill("anouk")
    door.locator("main input[type=password]").fill(PASSWORD)
    door.locator("main form button").first.click()
    assert door.locator("nav.bar").is_visible()
    door.locator("#hide button").click()
    door.goto(f"{live_server}/")
    assert door.locator("main input[type=password]").is_visible()
