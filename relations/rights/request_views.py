"""The pages of requests: those that are open, the steps of one, and the file that leaves."""

import json
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from relations.consent.access import newest
from relations.consent.sheets import days_of
from relations.consent.views import as_pdf
from relations.people import access
from relations.people.access import note_read
from relations.privacy.access import HANDS, roles
from relations.privacy.answering import again, answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.refused import Refused
from relations.privacy.sureness import SURE, sure_within

from . import file_of, file_papers, queries
from . import requests as acts
from .models import Request, RequestKind
from .request_forms import STEPS, AgreedWordForm, FileForm, RequestForm, StepForm

FORM_METHODS = ["GET", "HEAD", "POST"]


@roles(*HANDS)
def requests(request: HttpRequest) -> HttpResponse:
    """Note a request, by whoever heard it; what becomes of each is for the artist."""
    initial = {"code": request.GET.get("code", "")}
    user, form = who(request), RequestForm(typed(request), initial=initial)

    def act() -> str:
        said = form.typed_in("kind", "way", "asked_on")
        acts.receive(person=form.cleaned_data["code"], by=user, **said)
        # Whoever heard a no is led on to stopping: it waits for nobody's answer.
        heard = "no" if said["kind"] in (RequestKind.OBJECT, RequestKind.ERASE) else "yes"
        return f"{reverse('rights:requests')}?heard={heard}"

    heard = request.GET.get("heard")
    rows = _open_and_answered() if user.is_artist else {}
    return answer(request, "rights/requests.html", form, act, heard=heard, **rows)


def _open_and_answered() -> dict[str, Any]:
    rows = queries.requests(now())
    is_open = [row for row in rows if row.request.answered_on is None]
    return {"rows": is_open, "answered": rows[len(is_open) :]}


@roles(Role.ARTIST)
@require_safe
def request(request: HttpRequest, key: UUID) -> HttpResponse:
    """One request: what is left to do, and until when."""
    return render(request, "rights/request.html", _page(queries.request_or_404(key)))


@roles(Role.ARTIST)
@require_POST
def request_step(request: HttpRequest, key: UUID, step: str) -> HttpResponse:
    """We are sure who asks, they were told that it takes longer, or they were answered."""
    user, found = who(request), queries.request_or_404(key)
    if step not in STEPS:
        raise Http404
    make, do, names = STEPS[step]
    form = make(request.POST, key=found.pk)

    def act() -> str:
        do(request=found, by=user, **form.typed_in(*names))
        return reverse("rights:request", args=[key])

    return answer(request, "rights/request.html", form, act, **_page(found, form))


def _page(found: Request, sent: StepForm | None = None) -> dict[str, Any]:
    """A request with a form for each step, the one that was sent with what was typed in it."""
    forms = {step: make(key=found.pk) for step, (make, _do, _names) in STEPS.items()}
    if sent is not None:
        forms[sent.step] = sent
    return {
        "row": queries.as_due(found, now()),
        "asked": found,
        "steps": forms,
        "has_word": bool(found.person.agreed_word),
    }


@roles(Role.ARTIST)
@sure_within(SURE)
@require_http_methods(FORM_METHODS)
def request_file(request: HttpRequest, key: UUID) -> HttpResponse:
    """The file of whoever asked: on paper, to be read aloud, or for a machine; each look logged."""
    user, found = who(request), queries.file_request_or_404(key)
    wordings, theirs = newest(user), found.person.language_list
    initial = {"what": "aloud" if found.person.reads is False else "paper"}
    form = FileForm(typed(request), user=user, wordings=wordings, theirs=theirs, initial=initial)
    if form.is_valid():
        try:
            response = _handed_over(found, form)
        except Refused as refused:
            form.refuse(refused)
        else:
            note_read(user, "file", found.person)
            return response
    lacks = not file_papers.has_words(theirs, wordings)
    shown = {"asked": found, "wordings": wordings, "lacks": lacks}
    return again(request, "rights/request_file.html", form, **shown)


def _handed_over(found: Request, form: FileForm) -> HttpResponse:
    """The answer itself, under a name that says nothing of anybody."""
    held, what = file_of.file_of(found.person), form.cleaned_data["what"]
    if what == "json":
        said = json.dumps(file_of.as_data(held, today()), ensure_ascii=False, indent=1)
        response = HttpResponse(said, content_type="application/json")
        response["Content-Disposition"] = 'attachment; filename="file.json"'
        return response
    with days_of((found.person,), form.their_wording.language):
        if what == "aloud":
            return as_pdf(file_papers.read_aloud(held, form.their_wording, today()), what)
        return as_pdf(file_papers.bilingual(held, *form.pair, today()), what)


@roles(Role.ARTIST)
def agreed_word(request: HttpRequest, code: str) -> HttpResponse:
    """Agree on a word with somebody; the one that was agreed before is not shown."""
    user, person = who(request), access.person(request.user, code)
    form = AgreedWordForm(typed(request))

    def act() -> str:
        acts.agree_word(person=person, word=form.cleaned_data["word"], by=user)
        return reverse("rights:agreed_word", args=[person.code])

    has_word = bool(person.agreed_word)
    return answer(request, "rights/agreed_word.html", form, act, person=person, has_word=has_word)
