"""While the keeper holds new uses back, none is made, and what was given out stays as it is."""

import pytest

from relations.people import closed
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.uses import actions, clearing, standstill, venue
from relations.uses.models import ClearanceSheet, PlannedUse, Shown, Standstill
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


def lay(by=None):
    return standstill.lay(by=by or cast.keeper(), at=cast.moment())


def lift(sentence="Her sister follows.", by=None):
    standstill.lift(sentence=sentence, by=by or cast.keeper(), at=cast.moment())


def refused(act, **said):
    with pytest.raises(Refused) as caught:
        act(**said)
    return caught.value.codes


def new_uses():
    """Every way in which a new use is made."""
    plan, sheet = make(PlannedUse), make(ClearanceSheet)
    by, at = cast.artist(), cast.moment()
    return [
        (actions.plan, {"code": "P9", "use": "press", "starts_on": cast.days(9), "by": by}),
        (actions.ask_for, {"plan": plan, "pictures": [], "by": by}),
        (clearing.make_sheet, {"plan": plan, "pictures": [], "by": by, "at": at}),
        (venue.make_link, {"sheet": sheet, "ends_on": cast.days(1), "by": by, "at": at}),
    ]


def test_no_new_use_is_made_while_it_lies():
    ways = new_uses()
    lay()
    assert [refused(act, **said) for act, said in ways] == [("no_new_uses",)] * len(ways)
    assert not standstill.may_be_used_anew()
    lift()
    assert standstill.may_be_used_anew()
    assert actions.plan(**ways[0][1]).code == "P9"


def test_no_new_use_is_made_once_the_project_is_closed():
    ways = new_uses()
    closed.close(on=cast.TODAY)
    assert {refused(act, **said) for act, said in ways} == {("no_new_uses",)}


def test_the_register_goes_on_noting_what_is_shown():
    lay()
    from relations.pictures.models import Picture

    said = {"code": "U9", "use": "press", "pictures": [make(Picture)], "place": "A wall"}
    actions.show(**said, holder="Ines", starts_on=cast.TODAY, by=cast.artist())
    assert Shown.objects.get().code == "U9"


def test_only_the_keeper_lays_and_lifts_it_with_a_sentence():
    assert {refused(lay, by=user) for user in (cast.artist(), cast.assistant())} == {
        ("keeper_only",)
    }
    first = lay()
    assert lay() == first == standstill.current()
    assert refused(lift, by=cast.artist()) == ("keeper_only",)
    assert refused(lift, sentence="  ") == ("no_sentence",)
    lift()
    lift("Once more.")
    row = Standstill.objects.get()
    assert (row.is_current, row.lifted_by, row.sentence) == (
        *(None, cast.keeper()),
        "Her sister follows.",
    )
    assert standstill.current() is None
    verbs = AccessEntry.objects.filter(kind="uses.standstill").values_list("verb", flat=True)
    assert list(verbs) == ["laid", "lifted"]
