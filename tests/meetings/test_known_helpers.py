"""Who is offered as a helper, and who interprets for somebody whose language we do not speak."""

import pytest

from relations.meetings import helpers, known_helpers
from tests import cast

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def known():
    add = {"by": cast.artist(), "promise_signed_on": cast.TODAY}
    helpers.add_helper(kind="interpreter", initials="TA", languages="bn fr", **add)
    helpers.add_helper(kind="interpreter", initials="OD", languages="ar", **add)
    helpers.add_helper(kind="witness", initials="HB", languages="bn", **add)


def initials(found):
    return sorted(one.initials for one in found)


def test_each_list_holds_its_own() -> None:
    assert initials(known_helpers.helpers()) == ["HB", "OD", "TA"]
    assert initials(known_helpers.interpreters()) == ["OD", "TA"]
    assert initials(known_helpers.witnesses()) == ["HB"]


@pytest.mark.parametrize(
    ("theirs", "offered"),
    [("bn", ["TA"]), ("pt", []), ("fr", None), ("bn fr", None), ("", None)],
)
def test_interpreter_is_offered_where_we_speak_none_of_their_languages(theirs, offered) -> None:
    loic, daud = cast.assistant(), cast.daud()
    loic.language, loic.languages = "fr", []
    daud.languages = theirs
    found = known_helpers.interpreters_for(daud, loic)
    assert (found if found is None else initials(found)) == offered
