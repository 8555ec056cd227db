"""Who opens the pages of prints."""

import pytest

from tests import cast


@pytest.fixture
def artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def hand(client):
    """The assistant, who has one sitter in sight today."""
    cast.in_sight(cast.danuta(), cast.assistant())
    return cast.signed_in(client, cast.assistant())
