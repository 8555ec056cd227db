"""The first door: signed in, in a role the page is open to, and with nothing to be done first."""

import uuid

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404, HttpResponse
from django.test import RequestFactory

from relations.privacy import access
from relations.privacy.access import open_first, roles
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


@roles(Role.ARTIST)
@open_first
def first(request):
    """A page that is open before anything else."""
    return HttpResponse("first")


@pytest.mark.parametrize(
    ("owes", "leads"),
    [
        ({"must_choose_password": True}, "/own/password/"),
        ({"must_choose_password": True, "must_set_up_codes": True}, "/own/password/"),
        ({"must_set_up_codes": True}, "/own/"),
    ],
)
def test_what_comes_first_is_done_before_other_pages_open(owes, leads):
    user = User(role=Role.ARTIST, **owes)
    response = ask(user)
    assert (response.status_code, response.headers["Location"]) == (302, leads)
    request = RequestFactory().get("/")
    request.user = user
    assert first(request).content == b"first"
    assert (first.open_first, hasattr(page, "open_first")) == (True, False)


def test_page_of_another_role_is_absent_also_to_whom_something_comes_first():
    with pytest.raises(Http404):
        ask(User(role=Role.KEEPER, must_choose_password=True))


@pytest.mark.django_db
def test_account_that_is_not_there_is_not_found():
    with pytest.raises(Http404):
        access.account(uuid.uuid4())


@pytest.mark.django_db
def test_only_who_is_helped_is_given_a_role_or_a_password():
    loic, aude = (
        User.objects.create_user(name, None, role=role, called=name)
        for name, role in [("loic", Role.ASSISTANT), ("aude", Role.KEEPER)]
    )
    assert access.helped_account(loic.pk) == access.account(loic.pk) == loic
    with pytest.raises(Http404):
        access.helped_account(aude.pk)


class TestHalfIn:
    @pytest.fixture
    def user(self, db):
        return User.objects.create_user("loic", "p" * 15, role=Role.ASSISTANT, called="Loïc")

    @pytest.fixture
    def request_(self, user, client):
        request = RequestFactory().get("/in/code/")
        request.session = client.session
        access.half_in(request, user)
        return request

    def test_whose_password_fitted_is_known_for_ten_minutes(self, user, request_):
        assert access.who_is_half_in(request_) == user
        request_.session[access.HALF][1] -= 599
        assert access.who_is_half_in(request_) == user
        request_.session[access.HALF][1] -= 1
        assert access.who_is_half_in(request_) is None

    def test_who_got_another_password_since_begins_again(self, user, request_):
        user.set_password("q" * 15)
        user.save()
        assert access.who_is_half_in(request_) is None

    def test_who_was_let_go_since_is_nobody(self, user, request_):
        User.objects.update(is_active=False)
        assert access.who_is_half_in(request_) is None

    def test_who_gave_no_password_is_nobody(self, request_):
        del request_.session[access.HALF]
        assert access.who_is_half_in(request_) is None
