"""Who opens the pages of pictures in these tests."""

import pytest

from tests import cast


@pytest.fixture
def as_artist(client):
    return cast.signed_in(client, cast.artist())


@pytest.fixture
def loic(client):
    return cast.signed_in(client, cast.assistant())
