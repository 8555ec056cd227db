"""Alarms come open first; whom they may touch, grave first; the last backup is the newest."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.http import Http404
from django.utils import timezone

from relations.rights import actions, queries
from relations.rights.models import Backup
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


def raised():
    return actions.raise_alarm(what="phone", by=cast.assistant(), at=cast.moment())


def test_open_alarms_come_first_and_count_their_people():
    cast.in_sight(cast.danuta(), cast.assistant())
    first, second = raised(), raised()
    told = {"told_on": cast.TODAY, "on": cast.TODAY}
    actions.note_authority(alarm=second, by=cast.keeper(), **told)
    actions.close_alarm(alarm=second, by=cast.artist(), on=cast.TODAY)
    assert [row.pk for row in queries.alarms()] == [first.pk, second.pk]
    assert queries.alarm_or_404(first.pk).touched == 1
    assert [row.pk for row in queries.open_alarms()] == [first.pk]
    with pytest.raises(Http404):
        queries.alarm_or_404(uuid4())


def test_affected_come_grave_first():
    for who in (cast.marcel(), cast.bruno(), cast.ibrahima()):
        cast.in_sight(who, cast.assistant())
    assert [one.code for one in queries.affected(raised())] == ["35", "19", "01"]


def test_the_last_backup_is_the_newest_and_a_restore_is_told_beside_it():
    at = timezone.now()
    assert queries.backup_state(at) == queries.BackupState(None, 0, True, None)
    assert queries.backup_state(at).rows == 0
    old = make(Backup, made_at=at - timedelta(days=30), restored_at=at - timedelta(days=20))
    new = make(Backup, made_at=at - timedelta(days=3), counts={"people.participant": 40, "x": 2})
    state = queries.backup_state(at)
    assert (state.last, state.days, state.is_too_old, state.restored) == (new, 3, False, old)
    assert state.rows == 42
