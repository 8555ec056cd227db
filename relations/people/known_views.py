"""Pages on what is known of somebody: names, birth, risk, condition, who speaks."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from relations.privacy.access import HANDS, roles
from relations.privacy.answering import answer, typed, who
from relations.privacy.home import now, today
from relations.privacy.models import Role
from relations.privacy.sureness import SURE, sure_within

from . import access, actions, queries
from .known_forms import (
    BornForm,
    ConditionForm,
    LevelForm,
    NameForm,
    SameForm,
    SpeakerForm,
)
from .views import detail_of
from .ways_forms import WaysForm


@roles(Role.ARTIST)
@sure_within(SURE)
def names(request: HttpRequest, code: str) -> HttpResponse:
    """Names, their spellings, and those never to be printed."""
    user, person = who(request), access.person(request.user, code)
    form = NameForm(typed(request))

    def act() -> str:
        actions.add_name(
            person=person, by=user, at=now(), **form.typed_in("text", "kind", "script")
        )
        return detail_of(person)

    return answer(
        request, "people/names.html", form, act, person=person, names=queries.names(person)
    )


@roles(Role.ARTIST)
@sure_within(SURE)
def mend_name(request: HttpRequest, code: str, key: UUID) -> HttpResponse:
    """A name that was written wrongly; what stood there before stays readable."""
    user, person = who(request), access.person(request.user, code)
    name = queries.name_or_404(person, key)
    parts = ("text", "kind", "script")
    form = NameForm(typed(request), initial={part: getattr(name, part) for part in parts})

    def act() -> str:
        changes = form.typed_in(*parts)
        actions.mend(row=name, changes=changes, person=person, by=user, at=now())
        return reverse("people:names", args=[person.code])

    return answer(request, "people/mend_name.html", form, act, person=person)


@roles(*HANDS)
@sure_within(SURE)
@require_POST
def show_names(request: HttpRequest, code: str) -> HttpResponse:
    """The names, opened for one look that is noted."""
    person = access.person(request.user, code)
    access.note_read(who(request), "names", person)
    context = {"person": person, "names": queries.names(person)}
    return render(request, "people/show_names.html", context)


@roles(*HANDS)
def born(request: HttpRequest, code: str) -> HttpResponse:
    """When somebody was born, as they say it."""
    user, person = who(request), access.person(request.user, code)
    form = BornForm(typed(request))

    def act() -> str:
        actions.note_birth(person=person, by=user, at=now(), **form.birth)
        return detail_of(person)

    return answer(request, "people/born.html", form, act, person=person)


@roles(Role.ARTIST)
def level(request: HttpRequest, code: str) -> HttpResponse:
    """How much being shown may harm them: the higher of their view and ours."""
    user, person = who(request), access.person(request.user, code)
    form = LevelForm(typed(request), initial={"instruction": person.instruction})

    def act() -> str:
        given = form.typed_in("next_look_on", "instruction")
        actions.set_level(person=person, level=form.level, on=today(), by=user, **given)
        return detail_of(person)

    return answer(request, "people/level.html", form, act, person=person)


@roles(*HANDS)
def condition(request: HttpRequest, code: str) -> HttpResponse:
    """That somebody cannot answer, has died, or can answer again."""
    user, person = who(request), access.person(request.user, code)
    initial = {"condition": person.condition, "condition_on": person.condition_on}
    form = ConditionForm(typed(request), initial=initial)

    def act() -> str:
        said = form.typed_in("condition", "condition_on")
        actions.note_condition(person=person, by=user, at=now(), **said)
        return detail_of(person)

    return answer(request, "people/condition.html", form, act, person=person)


@roles(*HANDS)
def speaker(request: HttpRequest, code: str) -> HttpResponse:
    """Who answers for somebody when they cannot."""
    user, person = who(request), access.person(request.user, code)
    form = SpeakerForm(typed(request))

    def act() -> str:
        said = form.typed_in("speaker", "name", "way", "is_next_of_kin")
        on = form.cleaned_data["named_on"]
        actions.name_speaker(person=person, on=on, by=user, **said)
        return detail_of(person)

    return answer(request, "people/speaker.html", form, act, person=person)


@roles(*HANDS)
def ways(request: HttpRequest, code: str) -> HttpResponse:
    """How and when somebody may be rung, and what may be said."""
    user, person = who(request), access.person(request.user, code)
    form = WaysForm(typed(request), person=person)

    def act() -> str:
        actions.note_ways(person=person, by=user, at=now(), **form.ways)
        return detail_of(person)

    return answer(request, "people/ways.html", form, act, person=person)


@roles(Role.ARTIST)
def same(request: HttpRequest, code: str) -> HttpResponse:
    """Whether the one word has come of is somebody known; nobody is put together unasked."""
    user, person = who(request), access.person(request.user, code)
    form = SameForm(typed(request), found=queries.perhaps(person, user))

    def act() -> str:
        actions.same_as(person=person, known=form.known, by=user)
        return detail_of(form.known)

    return answer(request, "people/same.html", form, act, person=person)
