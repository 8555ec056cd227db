"""Erasing: nothing of a person is left, nothing gets clearer, and what comes back goes again."""

import pytest

from relations.people import search
from relations.people.models import Participant
from relations.privacy import ledger, log
from relations.privacy.models import AccessEntry, LedgerHead, Role, User
from relations.rights import erasing
from tests.traces import KEEPS_THE_KEY, opened, raw, traces, values_of
from tests.rows import AT


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def keeper(db):
    return User.objects.filter(role=Role.KEEPER).first() or User.objects.create_user(
        "otto", None, role=Role.KEEPER, called="Otto"
    )


def test_nothing_of_person_37_is_left(rehearsal, keeper):
    person = Participant.objects.get(code="37")
    values, log_key = values_of(person), person.log_key
    assert len(values) > 20
    assert search.find("Latifa") == [person]
    before = traces(values, opened() | raw())
    assert {"people.Name.text", "people.PhoneLine.mark", "table people_phoneline"} <= set(before)
    erasing.erase(person=person, by=keeper, at=AT)
    keys = {log_key.bytes, log_key.hex.encode(), str(log_key).encode()}
    assert traces(values - keys, opened() | raw()) == []
    assert traces(keys, opened()) == [KEEPS_THE_KEY]
    assert not Participant.objects.filter(code="37").exists()
    for said in ("Latifa", "37", "04 65 71 00 37", "لطيفة"):
        assert search.find(said) == []
    assert log.broken_at() is None
    last = AccessEntry.objects.order_by("seq").last()
    assert (last.verb, last.key, last.by) == ("erased", log_key, keeper.pk)
    assert [one.person_id for one in ledger.entries()] == [log_key]
    assert LedgerHead.objects.get().seq == 1
