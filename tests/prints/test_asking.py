"""They are asked how they want it, and what they answer is noted in the same press."""

import pytest

from relations.prints.asking import ask_how, asks_where
from relations.privacy.refused import Refused
from tests import cast
from tests.cast import days
from tests.prints.frames import made

pytestmark = pytest.mark.django_db


def ask(row, answer, **said):
    ask_how(print=row, answer=answer, on=days(0), by=cast.assistant(), at=cast.moment(), **said)
    row.refresh_from_db()
    return [one.became for one in row.steps.all()]


def test_to_have_it_printed_keeps_the_way_for_the_next_step():
    row = made(cast.danuta())
    said = {"is_safe": True, "size": "18 × 24 cm", "when_to_come": "Saturdays before noon"}
    assert ask(row, "print", box="B1", **said) == ["owed", "asked_how"]
    assert (row.state, row.is_safe, row.when_to_come) == ("asked_how", True, said["when_to_come"])
    assert row.box == "", "what is not kept lies in no box"


def test_kept_for_them_is_a_full_answer_in_one_press():
    row = made(cast.danuta())
    assert ask(row, "keep", box="B12", is_safe=False) == ["owed", "asked_how", "kept_for_them"]
    assert (row.box, row.is_safe, row.state_on) == ("B12", False, days(0))


def test_whoever_wants_none_is_not_asked_why():
    row = made(cast.danuta())
    assert ask(row, "none") == ["owed", "asked_how", "declined"]
    assert not row.steps.exclude(reason="").exists()


def test_a_kept_print_is_asked_about_again_and_kept_on():
    row = made(cast.danuta(), state="kept_for_them", box="B7", state_on=days(-200))
    assert ask(row, "keep", box="B7") == ["kept_for_them", "asked_how", "kept_for_them"]
    assert row.state_on == days(0)


def test_nothing_is_noted_where_the_page_is_an_old_one():
    row = made(cast.danuta(), state="asked_how")
    with pytest.raises(Refused) as caught:
        ask(row, "keep", was="owed", size="large")
    assert caught.value.codes == ("moved_meanwhile",)
    row.refresh_from_db()
    assert (row.state, row.size, row.steps.count()) == ("asked_how", "", 1)


def test_an_answer_that_nobody_gives_is_a_mistake():
    with pytest.raises(ValueError, match="perhaps"):
        ask(made(cast.danuta()), "perhaps")


@pytest.mark.parametrize(
    ("answer", "said", "goes_on"),
    [
        ("print", {"is_safe": True}, True),
        ("print", {"is_safe": True, "quarter": "the quay"}, False),
        ("print", {"is_safe": None}, False),
        ("print", {"is_safe": False}, False),
        ("keep", {"is_safe": True}, False),
        ("none", {"is_safe": True}, False),
    ],
)
def test_where_is_asked_next_of_what_is_to_be_brought_and_nobody_knows_where(answer, said, goes_on):
    row = made(cast.danuta())
    ask(row, answer, **said)
    assert asks_where(row) is goes_on
