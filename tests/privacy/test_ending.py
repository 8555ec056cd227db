"""When a session ends: at once for some, after its total time for all."""

import pytest
from django.conf import settings
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from relations.privacy import ending
from relations.privacy.models import Role, User

pytestmark = pytest.mark.django_db


def someone(name, role=Role.ASSISTANT):
    user = User.objects.create_user(name, None, role=role, called=name)
    client = Client()
    client.force_login(user)
    return user, client


def aged(client, seconds):
    session = client.session
    session[ending.BEGAN] = timezone.now().timestamp() - seconds
    session.save()


def is_in(client):
    return client.get("/own/").status_code == 200


def test_sessions_of_one_end_on_every_device_and_no_other():
    (loic, phone), (_, other) = someone("loic"), someone("maelle")
    laptop = Client()
    laptop.force_login(loic)
    assert ending.end_sessions([loic]) == 2
    assert [is_in(client) for client in (phone, laptop, other)] == [False, False, True]
    assert ending.end_sessions([]) == 0


def test_every_session_ends_also_of_nobody_and_of_half_a_sign_in():
    (_, phone), (_, other) = someone("loic"), someone("ines", Role.ARTIST)
    half = Client()
    session = half.session
    session["half_in"] = ["somebody", 0, ""]
    session.save()
    assert ending.end_every_session() == 3
    assert [is_in(client) for client in (phone, other)] == [False, False]
    assert (ending.end_every_session(), Session.objects.exists()) == (0, False)


def test_session_ends_eight_hours_after_signing_in_however_busy():
    _, client = someone("loic")
    assert is_in(client)
    aged(client, 8 * 3600 - 60)
    assert is_in(client)
    aged(client, 8 * 3600)
    assert client.get("/own/").headers["Location"] == "/in/?next=/own/"
    assert ending.BEGAN not in client.session


def test_session_ends_after_thirty_minutes_without_a_page():
    _, client = someone("loic")
    assert is_in(client)
    row = Session.objects.get()
    left = row.expire_date - timezone.now()
    assert 29 * 60 < left.total_seconds() <= 30 * 60 == settings.SESSION_COOKIE_AGE
    row.expire_date = timezone.now()
    row.save()
    assert not is_in(client)


def test_every_page_begins_the_thirty_minutes_anew():
    _, client = someone("loic")
    before = Session.objects.get().expire_date
    assert is_in(client)
    assert Session.objects.get().expire_date > before


def test_somebody_let_go_is_out_at_once():
    user, client = someone("loic")
    User.objects.filter(pk=user.pk).update(is_active=False)
    assert not is_in(client)


def test_stranger_has_no_session_begun_for_them(client):
    client.get("/in/")
    assert ending.BEGAN not in client.session
