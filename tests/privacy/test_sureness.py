"""The password or the code once more: asked after ten minutes, and nothing typed is lost."""

import time
from datetime import UTC, datetime
from html.parser import HTMLParser

import pytest
from django.contrib.auth import get_user_model
from django.http import HttpResponse
from django.test import RequestFactory
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters

from relations.privacy import codes, devices
from relations.privacy.access import roles
from relations.privacy.models import AccessEntry, Role
from relations.privacy.sureness import sure_within
from tests.at_the_door import come_in

pytestmark = pytest.mark.django_db
PASSWORD = "a boat, a lamp, a wall"
TYPED = {"name": ["Zoé & co <b>", "two\nlines"], "password": ["three slow boats"], "act": ["keep"]}


@sensitive_post_parameters("password")
@sure_within(10)
def by_password(request):
    """What was sent, where it may be."""
    return HttpResponse(repr(sorted(request.POST.lists())))


@sure_within(10, by_code=True)
def by_code(request):
    """The same, by a code."""
    return HttpResponse(repr(sorted(request.POST.lists())))


@roles(Role.ARTIST)
@sure_within(10, sent_only=True)
def sent(request):
    """A page of which only what is sent is asked about."""
    return HttpResponse("sent")


@sensitive_post_parameters()
@sure_within(10)
def secret(request):
    """A page on which everything is secret."""


@pytest.fixture(autouse=True)
def still(monkeypatch):
    """The middle of a half minute, so that no code ends while it is typed."""
    at = datetime.fromtimestamp(codes.step_at(time.time()) * codes.STEP_SECONDS + 15, tz=UTC)
    monkeypatch.setattr(timezone, "now", lambda: at)


@pytest.fixture
def user():
    return get_user_model().objects.create_user("ines", PASSWORD, role=Role.ARTIST, called="Ines")


@pytest.fixture
def session(user, client):
    come_in(client, user, is_sure=False)
    return client.session


@pytest.fixture
def ask(user, session):
    def ask(view=by_password, said=None, method="post", **age):
        for name, minutes in age.items():
            session[name] = timezone.now().timestamp() - minutes * 60
        request = getattr(RequestFactory(), method)("/careful/?day=1", said)
        request.user, request.session = user, session
        return view(request)

    return ask


class Hidden(HTMLParser):
    """The hidden fields of a page, as a browser sends them."""

    def __init__(self, page):
        super().__init__()
        self.sent = {}
        self.feed(page.content.decode())

    def handle_starttag(self, tag, attrs):
        told = dict(attrs)
        if tag == "input" and told["type"] == "hidden":
            self.sent.setdefault(told["name"], []).append(told["value"])


def hidden(page):
    sent = Hidden(page).sent
    del sent["csrfmiddlewaretoken"]
    return sent


@pytest.mark.parametrize("minutes", [0, 9.9])
def test_password_given_lately_is_not_asked_again(ask, minutes):
    assert b"keep" in ask(said=TYPED, sure_at=minutes).content
    assert ask(method="get", sure_at=minutes).status_code == 200


@pytest.mark.parametrize("minutes", [10, 600, -1])
def test_password_given_long_ago_is_asked_again(ask, minutes):
    looked = ask(method="get", sure_at=minutes)
    assert looked.headers["Location"] == "/sure/?next=/careful/%3Fday%3D1"
    assert ask(said=TYPED, sure_at=minutes).status_code == 403


def test_what_was_sent_waits_and_goes_on_but_for_passwords(ask, session):
    asked = ask(said=TYPED)
    kept = {"name": TYPED["name"], "act": TYPED["act"]}
    assert hidden(asked) == kept
    assert "three slow boats" not in asked.content.decode()
    assert b"you type again" in asked.content
    assert b"you type again" not in ask(said={"name": "Zoe"}).content
    done = ask(said={**hidden(asked), "sure-password": PASSWORD})
    assert "Zoé & co <b>" in done.content.decode()
    assert session["sure_at"] == timezone.now().timestamp()
    assert AccessEntry.objects.last().verb == "made_sure"


def test_wrong_password_asks_again_and_loses_nothing(ask, session):
    asked = ask(said={**TYPED, "sure-password": "wrong"})
    assert asked.status_code == 422
    assert hidden(asked) == {"name": TYPED["name"], "act": TYPED["act"]}
    assert session["sure_at"] == 0


def test_fifth_wrong_password_is_held_off(ask):
    wrong = [ask(said={**TYPED, "sure-password": "wrong"}).status_code for _ in range(5)]
    assert wrong == [422] * 4 + [429]
    assert ask(said={**TYPED, "sure-password": PASSWORD}).status_code == 429


class TestByCode:
    @pytest.fixture
    def paper(self, user):
        device = devices.begin(user=user)
        said = codes.hotp(device.secret, codes.step_at(timezone.now().timestamp()))
        made = devices.set_up(device=device, said=said)
        user.refresh_from_db()
        return made

    def test_who_gives_codes_gives_another(self, ask, session, paper):
        asked = ask(by_code, TYPED, sure_at=0, coded_at=10)
        assert (asked.status_code, b"sure-code" in asked.content) == (403, True)
        assert ask(by_code, {"sure-code": "000 000"}).status_code == 422
        assert b"keep" in ask(by_code, {**TYPED, "sure-code": paper[0]}).content
        assert session["coded_at"] == timezone.now().timestamp()
        assert ask(by_code, TYPED).status_code == 200
        assert ask(by_code, {"sure-code": paper[0]}, coded_at=10).status_code == 422

    def test_who_gives_none_gives_the_password(self, ask):
        assert b"sure-password" in ask(by_code, TYPED).content
        assert b"keep" in ask(by_code, {**TYPED, "sure-password": PASSWORD}).content

    def test_to_look_is_free(self, ask, paper):
        assert ask(by_code, method="get").status_code == 200


def test_view_says_after_how_many_minutes_it_asks_and_of_what():
    assert (by_password.sure, by_password.sure_sent_only) == (10, False)
    assert (by_code.sure, by_code.sure_sent_only) == (10, True)
    assert (sent.sure, sent.sure_sent_only, sent.roles) == (10, True, {Role.ARTIST})


def test_to_look_may_be_free_where_to_send_is_not(ask):
    assert ask(sent, method="get").content == b"sent"
    assert ask(sent).status_code == 403


def test_nothing_is_carried_of_a_page_that_is_secret_as_a_whole(ask):
    assert hidden(ask(secret, TYPED)) == {}
