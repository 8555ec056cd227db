"""One form's way through its states, held to the rules, and what was read on it written down."""

from collections.abc import Iterable, Mapping
from dataclasses import replace as replace_in
from datetime import date
from typing import Any

from django.db.models import QuerySet

from relations.people.queries import birth
from relations.people.rules import is_child
from relations.pictures.models import Sitting
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .boxes import BLANK, whole
from .models import Form, TakenBack
from .states import Facts, State, homeward, may_move
from .values import Scope

# States in which a form once stood and has not been put aside.
STANDING = (State.STANDING, State.WITHDRAWN_IN_PART, State.ENDED)
_DAYS = ("given_on", "first_day", "last_day")
# Boxes without which no form is complete, and the line that then is missing.
NEEDED = {"way": "way", "given_on": "day"}


def facts(form: Form, on: date) -> Facts:
    """What the register knows of a form, as the rules of its states ask it."""
    scopes = set(taken_back(form).values_list("scope", flat=True))
    return Facts(
        on=on,
        is_signed_out=form.carried_by_id is not None,
        has_scan=form.sheet.scans.exists(),
        readings=form.readings.count(),
        is_settled=form.settled_at is not None and form.person_id is not None,
        is_complete=form.missing_lines == [],
        wording_was_read=form.wording_was_read,
        guardians_are_filled=_guardians_are_filled(form),
        newer_one_stands=_is_covered_by_newer(form),
        took_something_back=bool(scopes),
        took_all_back=Scope.ALL in scopes,
        last_day=form.last_day,
    )


def taken_back(form: Form) -> QuerySet[TakenBack]:
    """What the sitter took back on or after the day this form was given."""
    found = TakenBack.objects.filter(person=form.person_id)
    return found if form.given_on is None else found.filter(said_on__gte=form.given_on)


def _guardians_are_filled(form: Form) -> bool:
    """Whether every holder of authority answered, or the sitter answers alone."""
    if form.person is None or form.given_on is None:
        return False
    if not is_child(birth(form.person), form.given_on, met_as_adult=form.person.met_as_adult):
        return True
    return form.guardians.count() >= form.person.authority_holders


def order(form: Form) -> tuple[Any, ...]:
    """Forms of one day stand in the order of hour, then serial."""
    return (form.given_on, form.given_at is not None, form.given_at, form.sheet.serial)


def _is_covered_by_newer(form: Form) -> bool:
    """Whether one newer form that stands covers every sitting that this one covers."""
    if form.person_id is None or form.given_on is None:
        return False
    mine = set(form.sittings.values_list("pk", flat=True))
    others = (
        Form.objects.filter(person=form.person_id, state__in=STANDING, given_on__isnull=False)
        .exclude(pk=form.pk)
        .select_related("sheet")
        .prefetch_related("sittings")
    )
    return any(
        order(other) > order(form) and mine <= {sitting.pk for sitting in other.sittings.all()}
        for other in others
    )


def step(form: Form, *, to: State, on: date, **known: Any) -> None:
    """Move a form by one step and save it. Refused with the codes of `states.may_move`.

    `known` are facts that a higher room knows, as that the alarm which names it is closed.
    """
    if refusals := may_move(State(form.state), to, replace_in(facts(form, on), **known)):
        raise Refused(*refusals)
    form.state, form.state_on = to, on
    form.save()
    form.steps.create(number=form.steps.count() + 1, state=to, on=on)


def come_home(form: Form, *, by: User, on: date) -> None:
    """Walk a paper that is here to "brought home", through the steps that nobody noted.

    Refused with "not_expected" where it cannot have come home: it came back blank, was spoilt
    or put aside.
    """
    steps = homeward(State(form.state))
    if not steps and form.state != State.BROUGHT_HOME:
        raise Refused("not_expected")
    form.carried_by = form.carried_by or by
    form.given_on = form.given_on or on
    for state in steps:
        step(form, to=state, on=on)


def write(form: Form, answers: Mapping[str, Any]) -> None:
    """Put answers into the row, as they act from now on; missing lines are those without which.

    A paper on which no day could be read keeps the day on which it came, so that its limits bind.
    """
    read = whole(answers)
    missing = set(read.pop("lines_missing"))
    missing.update(line for key, line in NEEDED.items() if not read[key])
    for key in _DAYS:
        read[key] = date.fromisoformat(read[key]) if read[key] else None
    read["given_on"] = read["given_on"] or form.given_on
    for name, value in read.items():
        setattr(form, name, value)
    form.missing_lines = sorted(missing)
    form.save()


def said(form: Form) -> dict[str, Any]:
    """What the row says, box by box, as a reading would."""
    held = {key: getattr(form, key) for key in BLANK if key != "lines_missing"}
    return whole({**held, "lines_missing": form.missing_lines or []})


def stand(form: Form, *, on: date) -> bool:
    """Let a form stand where everything is there, else keep it doubtful; say whether it stands."""
    if form.state not in (State.READ_ONCE, State.DOUBTFUL):
        return form.state == State.STANDING
    if may_move(State(form.state), State.STANDING, facts(form, on)):
        if form.state == State.READ_ONCE:
            step(form, to=State.DOUBTFUL, on=on)
        return False
    step(form, to=State.STANDING, on=on)
    replace(Form.objects.filter(person=form.person_id, state__in=STANDING), on=on)
    # An old paper may come in after the one that took its place.
    form.refresh_from_db(fields=["state", "state_on"])
    return form.state == State.STANDING


def replace(forms: Iterable[Form], *, on: date) -> None:
    """Put aside every form that a newer one which stands covers whole."""
    for form in forms:
        if not may_move(State(form.state), State.REPLACED, facts(form, on)):
            step(form, to=State.REPLACED, on=on)


def cover(form: Form, sittings: Iterable[Sitting]) -> None:
    """Say which sittings a form speaks of. Refused with "not_theirs" for a sitting without them."""
    chosen = list(sittings)
    theirs = set(Sitting.objects.filter(sitters=form.person_id).values_list("pk", flat=True))
    if any(sitting.pk not in theirs for sitting in chosen):
        raise Refused("not_theirs")
    form.sittings.set(chosen)


def trust_wording(form: Form, *, by: User) -> None:
    """Note that a second person read the language version. Refused with "artist_only"."""
    if not by.is_artist:
        raise Refused("artist_only")
    form.wording_was_read = True
    form.save(update_fields=["wording_was_read"])
