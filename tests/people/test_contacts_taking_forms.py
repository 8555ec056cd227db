"""What may be typed of those who were ticked: rows of numbers, clocks, refusals in their place."""

import pytest

from relations.people.contacts import Entry
from relations.people.contacts_taking_forms import TakeForm
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db


def test_a_clock_is_asked_only_where_a_number_has_several() -> None:
    entries = [Entry("Awa", ("+1 212 555 0142", "06 39 98 00 42"), "her sister")]
    (line,) = TakeForm(user=cast.artist(), entries=entries, country="FR").lines
    assert [name for name in line.fields if name[:4] in ("zone", "numb", "note")] == [
        *("number_0", "note_0", "zone_0", "number_1", "note_1"),
    ]
    assert (line.initial["note_0"], line.initial["call_name"]) == ("her sister", "Awa")
    assert line.fields["zone_0"].required
    empty = {"0-call_name": "Awa", "0-number_0": "", "country": "FR"}
    assert [*TakeForm(empty, user=cast.artist()).lines[0].fields][-1] == "note_0"


def test_no_more_lines_are_read_than_a_page_of_ours_has() -> None:
    sent = {f"{at}-call_name": "A" for at in range(40)}
    assert len(TakeForm(sent, user=cast.artist()).lines) == 20


def test_a_refusal_stands_beside_its_line_or_over_all() -> None:
    form = TakeForm({"0-call_name": "A", "0-number_0": "1"}, user=cast.artist())
    form.is_valid()
    form.refuse(Refused("project_closed"))
    assert "project_closed" not in form.errors
    assert len(form.non_field_errors()) == 1
    form.at = form.lines[0]
    form.refuse(Refused("already_theirs", "project_closed"))
    (line,) = form.lines
    assert "This number stands here already." in line.errors["number_0"]
    assert line.non_field_errors() == form.non_field_errors()
