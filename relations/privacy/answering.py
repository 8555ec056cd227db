"""How a page answers a form: acted on once, or shown again with what is wrong and all as typed."""

from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any, ClassVar, Concatenate, ParamSpec, Protocol, TypeVar, cast
from uuid import UUID

from django import forms
from django.http import HttpRequest, HttpResponse, HttpResponseBase, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.functional import Promise

from . import tries
from .models import User
from .once import once
from .refused import Refused

P = ParamSpec("P")
Answered = TypeVar("Answered", bound=HttpResponseBase | None)
Answering = Callable[Concatenate[HttpRequest, P], Answered]


class Shown(Protocol):
    """A form as a page shows it, fresh or with what was sent."""

    is_bound: bool


class Sent(Shown, Protocol):
    """A form that leads to an action, once for each token."""

    @property
    def token(self) -> UUID: ...

    def is_valid(self) -> bool: ...

    def refuse(self, refused: Refused) -> None: ...


class ActionForm(forms.Form):
    """A form whose action may refuse: the words stand beside the field they are about.

    `refusals` holds the words for each code, `about` the field a code is about; a code about no
    field of this form stands over it. A code without words is a KeyError: no refusal is silent.
    """

    refusals: ClassVar[Mapping[str, str | Promise]] = {}
    about: ClassVar[Mapping[str, str]] = {}

    def refuse(self, refused: Refused) -> None:
        """Add the words for each code of a refusal."""
        for code in refused.codes:
            field = self.about.get(code)
            self.add_error(field if field in self.fields else None, self.words(code))

    def words(self, code: str) -> Any:
        """The words for one code."""
        return self.refusals[code]

    def typed_in(self, *names: str) -> dict[str, Any]:
        """The fields of these names, as an action takes them."""
        return {name: self.cleaned_data[name] for name in names}


def who(request: HttpRequest) -> User:
    """The user of a page that `roles` has let in."""
    return cast(User, request.user)


def typed(request: HttpRequest) -> QueryDict | None:
    """What was sent, also where it was nothing; None where the page is only opened."""
    return request.POST if request.method == "POST" else None


def again(request: HttpRequest, template: str, form: Shown, **context: Any) -> HttpResponse:
    """The form on its page: 200 where it is fresh, 422 with what is wrong and all as typed."""
    status = 422 if form.is_bound else 200
    return render(request, template, {"form": form, **context}, status=status)


def answer(
    request: HttpRequest, template: str, form: Sent, act: Callable[[], str], **context: Any
) -> HttpResponse:
    """Act once on a valid form and go where `act` says; else the form again with what is wrong."""
    if form.is_valid():
        try:
            return redirect(once(form.token, who(request), act))
        except Refused as refused:
            form.refuse(refused)
    return again(request, template, form, **context)


def calmly(look: Answering[P, Answered]) -> Answering[P, Answered | HttpResponse]:
    """Answer whoever tried too often with a page that says until when."""

    @wraps(look)
    def answered(
        request: HttpRequest, *args: P.args, **kwargs: P.kwargs
    ) -> Answered | HttpResponse:
        try:
            return look(request, *args, **kwargs)
        except tries.HeldOff as held:
            page = render(request, "privacy/held_off.html", {"until": held.until}, status=429)
            wait = (held.until - timezone.now()).total_seconds()
            page.headers["Retry-After"] = str(max(int(wait) + 1, 1))
            return page

    return cast("Answering[P, Answered | HttpResponse]", answered)
