"""A form is acted on once and leads on; what is wrong comes back with everything as typed."""

import uuid
from collections.abc import Callable
from typing import ClassVar

import pytest
from django import forms
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory

from relations.privacy.answering import ActionForm, again, answer, typed, who
from relations.privacy.models import Posted, Role, User
from relations.privacy.refused import Refused

pytestmark = pytest.mark.django_db
TEMPLATE = "shown.html"


class Asked(ActionForm):
    """A form of one field, as a room's are: with a token, words and the field they are about."""

    refusals: ClassVar = {"taken": "Taken.", "late": "Too late.", "gone": "Gone."}
    about: ClassVar = {"taken": "code", "gone": "no_field_of_this_form"}
    token = uuid.UUID(int=7)
    code = forms.CharField(max_length=3)
    day = forms.CharField(required=False)


@pytest.fixture
def user() -> User:
    return User.objects.create_user("loic", None, role=Role.ASSISTANT, called="Loïc")


@pytest.fixture(autouse=True)
def page(settings):
    """A page that shows the form and one more thing, in place of the site's own."""
    loader = "django.template.loaders.locmem.Loader"
    words = "{{ form.code.value|default_if_none:'' }}/{{ form.errors.code.0 }}/{{ more }}"
    settings.TEMPLATES = [
        {
            "BACKEND": "django.template.backends.django.DjangoTemplates",
            "OPTIONS": {"loaders": [(loader, {TEMPLATE: words})]},
        }
    ]


def opened(user: User) -> HttpRequest:
    request = RequestFactory().get("/asked/")
    request.user = user
    return request


def sent(user: User, **fields: str) -> HttpRequest:
    request = RequestFactory().post("/asked/", fields)
    request.user = user
    return request


def answered(request: HttpRequest, act: Callable[[], str]) -> HttpResponse:
    return answer(request, TEMPLATE, Asked(typed(request)), act, more="more")


def never() -> str:
    raise AssertionError("nothing may be done")


def refusing(*codes: str) -> Callable[[], str]:
    def act() -> str:
        User.objects.create(username="left", role=Role.KEEPER)
        raise Refused(*codes)

    return act


def test_who_asks_is_the_user_of_the_request(user) -> None:
    assert who(opened(user)) == user


def test_only_a_page_that_is_opened_has_nothing_typed(user) -> None:
    assert typed(opened(user)) is None
    assert typed(sent(user, code="a")) == {"code": ["a"]}
    empty = typed(sent(user))
    assert empty is not None
    assert Asked(empty).is_bound


def test_a_fresh_form_is_shown_and_nothing_is_done(user) -> None:
    shown = answered(opened(user), never)
    assert (shown.status_code, shown.content.decode()) == (200, "//more")


def test_a_bad_form_comes_back_as_typed_and_nothing_is_done(user) -> None:
    shown = answered(sent(user, code="abcd"), never)
    assert shown.status_code == 422
    assert shown.content.decode().startswith("abcd/Ensure this value has at most 3 characters")
    assert not Posted.objects.exists()


def test_a_form_that_is_sent_empty_is_answered_as_a_bad_one(user) -> None:
    shown = answered(sent(user), never)
    assert (shown.status_code, shown.content.decode()) == (422, "/This field is required./more")


def test_a_good_form_is_acted_on_once_and_leads_on(user) -> None:
    done: list[str] = []

    def act() -> str:
        done.append("done")
        return f"/led/{len(done)}/"

    first, second = (answered(sent(user, code="abc"), act) for _ in range(2))
    assert (first.status_code, first.headers["Location"]) == (302, "/led/1/")
    assert second.headers["Location"] == "/led/1/"
    assert done == ["done"]


def test_a_refusal_undoes_everything_and_is_said_beside_what_was_typed(user) -> None:
    shown = answered(sent(user, code="abc"), refusing("taken"))
    assert (shown.status_code, shown.content.decode()) == (422, "abc/Taken./more")
    assert not User.objects.filter(username="left").exists()
    assert not Posted.objects.exists()


def test_a_refusal_about_no_field_of_the_form_stands_over_it() -> None:
    form = Asked({"code": "abc"})
    assert form.is_valid()
    form.refuse(Refused("late", "taken", "gone"))
    assert form.errors["code"] == ["Taken."]
    assert form.non_field_errors() == ["Too late.", "Gone."]


def test_a_refusal_without_words_is_never_silent() -> None:
    form = Asked({"code": "abc"})
    assert form.is_valid()
    with pytest.raises(KeyError, match="unheard_of"):
        form.refuse(Refused("unheard_of"))


def test_an_action_takes_the_fields_it_names() -> None:
    form = Asked({"code": "abc", "day": "x"})
    assert form.is_valid()
    assert form.typed_in("code") == {"code": "abc"}


def test_a_form_without_an_action_is_shown_in_the_same_way() -> None:
    request = RequestFactory().get("/asked/")
    request.user = AnonymousUser()
    assert again(request, TEMPLATE, Asked()).status_code == 200
    assert again(request, TEMPLATE, Asked({})).status_code == 422
