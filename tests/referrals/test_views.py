"""The page of introductions: for the artist only, and every look is noted."""

import pytest
from django.test import Client

from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db
ADDRESS = "/introductions/"


def test_the_artist_reads_codes_and_no_names_and_the_look_is_noted(client: Client) -> None:
    cast.herve()
    page = cast.signed_in(client, cast.artist()).get(ADDRESS)
    text = page.content.decode()
    assert page.status_code == 200
    assert "41" in text
    assert "Hervé" not in text
    assert "the most dangerous page" in text
    entry = AccessEntry.objects.get()
    assert (entry.verb, entry.kind, entry.by) == ("read", "map", cast.artist().pk)


def test_with_nobody_yet_the_page_says_so(client: Client) -> None:
    page = cast.signed_in(client, cast.artist()).get(ADDRESS)
    assert "Nobody yet." in page.content.decode()


@pytest.mark.parametrize("who", [cast.assistant, cast.wording_reader, cast.keeper])
def test_other_roles_get_the_404_of_an_absent_page(client: Client, who: object) -> None:
    cast.signed_in(client, who())  # type: ignore[operator]
    page, absent = client.get(ADDRESS), client.get("/introductions/nowhere/")
    assert page.status_code == absent.status_code == 404
    assert not AccessEntry.objects.exists()


def test_a_stranger_is_led_to_the_sign_in_page(client: Client) -> None:
    page = client.get(ADDRESS)
    assert page.status_code == 302
    assert page.headers["Location"].startswith("/in/")


def test_nothing_can_be_sent_to_it(client: Client) -> None:
    assert cast.signed_in(client, cast.artist()).post(ADDRESS).status_code == 405
