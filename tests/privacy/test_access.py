"""The first door: signed in, and in a role the page is open to."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404, HttpResponse
from django.test import RequestFactory

from relations.privacy.access import roles
from relations.privacy.models import Role, User


@roles(Role.ARTIST, Role.ASSISTANT)
def page(request, code):
    """A page for two roles."""
    return HttpResponse(code)


def ask(user, path="/people/7KX3/?day=1"):
    request = RequestFactory().get(path)
    request.user = user
    return page(request, "7KX3")


@pytest.mark.parametrize("role", [Role.ARTIST, Role.ASSISTANT])
def test_a_role_the_page_is_open_to_sees_it(role):
    assert ask(User(role=role)).content == b"7KX3"


@pytest.mark.parametrize("role", [Role.KEEPER, Role.WORDING_READER])
def test_another_role_gets_what_an_absent_page_gives(role):
    with pytest.raises(Http404) as told:
        ask(User(role=role))
    assert told.value.args == Http404().args


@pytest.mark.parametrize("user", [AnonymousUser(), User(role=Role.ARTIST, is_active=False)])
def test_a_stranger_is_led_to_the_sign_in_page_and_back(user):
    response = ask(user)
    assert response.status_code == 302
    assert response.headers["Location"] == "/in/?next=/people/7KX3/%3Fday%3D1"


def test_a_page_says_to_whom_it_is_open():
    assert page.roles == {Role.ARTIST, Role.ASSISTANT}
    assert page.__name__ == "page"
    assert page.__doc__ == "A page for two roles."


def test_a_page_open_to_nobody_is_a_mistake():
    with pytest.raises(ValueError, match="at least one"):
        roles()
