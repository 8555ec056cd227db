"""Alarms come open first; whom they may touch, grave first."""

from uuid import uuid4

import pytest
from django.http import Http404

from relations.rights import actions, queries
from tests import cast

pytestmark = pytest.mark.django_db


def raised():
    return actions.raise_alarm(what="bag", by=cast.assistant(), at=cast.moment())


def test_open_alarms_come_first_and_count_their_people():
    cast.in_sight(cast.danuta(), cast.assistant())
    first, second = raised(), raised()
    actions.close_alarm(alarm=second, by=cast.artist(), on=cast.TODAY)
    assert [row.pk for row in queries.alarms()] == [first.pk, second.pk]
    assert queries.alarm_or_404(first.pk).touched == 1
    with pytest.raises(Http404):
        queries.alarm_or_404(uuid4())


def test_affected_come_grave_first():
    for who in (cast.marcel(), cast.bruno(), cast.ibrahima()):
        cast.in_sight(who, cast.assistant())
    assert [one.code for one in queries.affected(raised())] == ["35", "19", "01"]
