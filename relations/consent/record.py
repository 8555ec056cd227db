"""What a use's standing is called in an open record, and which standing may follow which."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from .rules import binding, is_taken_back
from .values import Form, Person, Use

DPV = "https://w3id.org/dpv#"  # base address of the W3C Data Privacy Vocabulary, version 2.3


class Consent(StrEnum):
    """The ten consent statuses at the leaves of DPV 2.3; the address is `DPV` and the value."""

    UNKNOWN = "ConsentUnknown"
    REQUESTED = "ConsentRequested"
    REQUEST_DEFERRED = "ConsentRequestDeferred"
    REFUSED = "ConsentRefused"
    GIVEN = "ConsentGiven"
    RENEWED = "RenewedConsentGiven"
    EXPIRED = "ConsentExpired"
    WITHDRAWN = "ConsentWithdrawn"
    REVOKED = "ConsentRevoked"
    INVALIDATED = "ConsentInvalidated"


class UseStatus(StrEnum):
    """Where one use stands with one sitter."""

    NOT_ASKED = "not_asked"
    ASKED = "asked"
    THINKING = "thinking"  # the form is left with them
    UNSETTLED = "unsettled"  # a form is there that does not stand yet
    NO = "no"
    YES = "yes"
    YES_AGAIN = "yes_again"
    ENDED = "ended"
    TAKEN_BACK = "taken_back"
    TAKEN_BACK_FOR_THEM = "taken_back_for_them"  # by the speaker or a holder of authority
    FOUND_VOID = "found_void"  # by an authority or a court


CONSENT: Mapping[UseStatus, Consent] = {
    UseStatus.NOT_ASKED: Consent.UNKNOWN,
    UseStatus.ASKED: Consent.REQUESTED,
    UseStatus.THINKING: Consent.REQUEST_DEFERRED,
    UseStatus.UNSETTLED: Consent.UNKNOWN,
    UseStatus.NO: Consent.REFUSED,
    UseStatus.YES: Consent.GIVEN,
    UseStatus.YES_AGAIN: Consent.RENEWED,
    UseStatus.ENDED: Consent.EXPIRED,
    UseStatus.TAKEN_BACK: Consent.WITHDRAWN,
    UseStatus.TAKEN_BACK_FOR_THEM: Consent.REVOKED,
    UseStatus.FOUND_VOID: Consent.INVALIDATED,
}

# Of several sittings, which counts for all of them: that which opens least.
_STRICTEST = (
    *(UseStatus.FOUND_VOID, UseStatus.TAKEN_BACK, UseStatus.TAKEN_BACK_FOR_THEM, UseStatus.NO),
    *(UseStatus.ENDED, UseStatus.UNSETTLED, UseStatus.THINKING, UseStatus.ASKED),
    *(UseStatus.NOT_ASKED, UseStatus.YES, UseStatus.YES_AGAIN),
)
USABLE = frozenset({Consent.GIVEN, Consent.RENEWED})


@dataclass(frozen=True, slots=True)
class Around:
    """What the forms themselves do not say about one use; unset is no."""

    is_asked: bool = False  # a form for it is out with somebody of ours
    is_left_with_them: bool = False
    was_taken_back_for_them: bool = False
    was_found_void: bool = False


def usable(status: Consent) -> bool:
    """Whether a use may rest on that status; DPV's valid ones, two of ten. Unknown is no."""
    return status in USABLE


def strictest(statuses: Iterable[UseStatus]) -> UseStatus:
    """Of where one use stands in several sittings, that which opens least; none is not asked."""
    return min(statuses, key=_STRICTEST.index, default=UseStatus.NOT_ASKED)


def use_status(
    person: Person, use: Use, sitting: str, *, on: date, around: Around | None = None
) -> UseStatus:
    """Where one use of the pictures of one sitting stands on that day.

    Only what was known by then counts; a no acts whatever paper it is on, and of two last days
    the earlier one ends the yes.
    """
    around = around or Around()
    base, forms = binding([f for f in person.forms if f.given_on <= on], sitting)
    if around.was_found_void:
        return UseStatus.FOUND_VOID
    if is_taken_back(person, use, base, by=on):
        if around.was_taken_back_for_them:
            return UseStatus.TAKEN_BACK_FOR_THEM
        return UseStatus.TAKEN_BACK
    if base is None:
        return _without_base(bool(forms), around)
    if not all(use in form.uses for form in forms):
        return UseStatus.NO
    if any(form.last_day is not None and form.last_day < on for form in forms):
        return UseStatus.ENDED
    return UseStatus.YES_AGAIN if _said_before(person, use, sitting, base) else UseStatus.YES


def _without_base(has_forms: bool, around: Around) -> UseStatus:
    if has_forms:
        return UseStatus.UNSETTLED
    if around.is_left_with_them:
        return UseStatus.THINKING
    return UseStatus.ASKED if around.is_asked else UseStatus.NOT_ASKED


def _said_before(person: Person, use: Use, sitting: str, base: Form) -> bool:
    return any(
        form.stands and use in form.uses and sitting in form.sittings
        for form in person.forms
        if form is not base and form.given_on <= base.given_on
    )
