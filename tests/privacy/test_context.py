"""What every page shows: only ways that exist and that this role may go."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import HttpResponse
from django.test import RequestFactory
from django.urls import include, path

from relations.privacy import context, slots
from relations.privacy.access import roles
from relations.privacy.models import Role, User


@roles(Role.ARTIST)
def forms(request):
    return HttpResponse()


@roles(Role.ARTIST, Role.ASSISTANT)
def owed(request):
    return HttpResponse()


def alarm(request):
    return HttpResponse()


def room(name, *routes):
    return path(f"{name}/", include(([*routes], name)))


urlpatterns = [
    room("consent", path("forms/", forms, name="list")),
    room("prints", path("owed/", owed, name="owed")),
    room("rights", path("", alarm, name="alarm")),
]

pytestmark = pytest.mark.urls("tests.privacy.test_context")


def page(user, at="/"):
    request = RequestFactory().get(at)
    request.user = user
    return context.page(request)


def urls(ways):
    return [way.url for way in ways]


def test_the_artist_sees_the_rooms_that_exist():
    shown = page(User(role=Role.ARTIST, called="Mara"))
    assert urls(shown["nav"]) == ["/consent/forms/"]
    assert urls(shown["bar"]) == ["/prints/owed/", "/rights/"]
    assert (shown["who"], shown["role"], shown["role_copy"]) == ("Mara", "artist", "")


def test_the_assistant_sees_the_foot_bar_only():
    shown = page(User(role=Role.ASSISTANT, called="Loïc"))
    assert shown["nav"] == []
    assert urls(shown["bar"]) == ["/prints/owed/", "/rights/"]
    assert shown["role_copy"] == "assistant’s copy"


def test_a_way_that_a_role_may_not_go_is_left_out():
    assert urls(page(User(role=Role.KEEPER, called="K"))["bar"]) == ["/rights/"]


@pytest.mark.parametrize("user", [AnonymousUser(), None])
def test_a_stranger_sees_no_way(user):
    shown = page(user)
    assert (shown["nav"], shown["bar"], shown["user"], shown["who"]) == ([], [], None, "")


def test_a_page_made_before_signing_in_was_looked_at_has_no_user():
    assert context.page(RequestFactory().get("/"))["user"] is None


def test_the_way_to_this_page_is_known_and_alarm_has_its_mark():
    bar = page(User(role=Role.ARTIST, called="Mara"), "/rights/")["bar"]
    assert [(way.current, way.mark) for way in bar] == [(False, ""), (True, "risk")]


def test_every_page_of_a_rehearsal_knows_it(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    assert not page(None)["is_rehearsal"]
    kept = slots.new_key_file("rehearsal", {"open": "in it"}, bytes(32))
    slots.write_key_file(tmp_path / "keys.json", kept)
    assert page(None)["is_rehearsal"]
