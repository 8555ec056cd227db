"""The kept form holds no token and nobody; its version changes with what it is made of."""

import re

import pytest
from django.test import Client
from django.utils import translation

from relations.privacy.outbox import newest, renew, stand
from relations.today import outbox_pages
from tests import cast

pytestmark = pytest.mark.django_db


def test_kept_form_is_of_no_session_and_nobody():
    stand()
    client = cast.signed_in(Client(), cast.assistant())
    page = client.get("/outbox/write/?in=fr").content.decode()
    assert "csrfmiddlewaretoken" not in page and 'name="token"' not in page
    assert "Loïc" not in page
    assert newest()[1] in page and 'lang="fr"' in page
    assert set(re.findall(r'data-outbox="(\w+)"', page)) == {"stop", "delivery", "round", "ring"}


def test_version_changes_with_the_key_and_the_language_and_with_nothing_else():
    stand()
    first = outbox_pages.worker("en")
    assert outbox_pages.worker("en") == first
    with translation.override("fr"):
        assert outbox_pages.worker("fr")["version"] != first["version"]
    renew()
    assert outbox_pages.worker("en")["version"] != first["version"]


def test_reader_and_keeper_may_write_a_stop_only():
    assert outbox_pages.empty(cast.keeper())["ring"] is None
    assert outbox_pages.empty(cast.keeper())["stop"]
    assert all(
        outbox_pages.empty(cast.assistant())[kind] for kind in ("stop", "delivery", "round", "ring")
    )
