"""The door to forms and wordings: who may see which, and who may open a scan."""

from typing import TYPE_CHECKING

from django.db.models import Count, Q, QuerySet
from django.http import Http404

from relations.documents import filing
from relations.documents.models import Scan
from relations.people.access import note_read, people
from relations.privacy.models import Role, User

from .models import Clause, Form, Wording
from .states import State
from .values import ClauseState

if TYPE_CHECKING:
    from django.contrib.auth.models import AnonymousUser

# Papers on their way, which are the assistant's work whether or not the person is in sight.
ON_ITS_WAY = (
    State.PRINTED,
    State.CARRIED,
    State.FILLED_IN,
    State.BROUGHT_BACK_BLANK,
    State.LEFT_WITH_THEM,
    State.MISSING,
    State.BROUGHT_HOME,
    State.SCANNED,
)


def forms(user: "User | AnonymousUser") -> QuerySet[Form]:
    """The forms whose state a user may see: the artist all, the assistant those at work.

    The assistant's are the papers on their way and those of people in sight today; nobody else
    sees any (job.md 4).
    """
    found = Form.objects.select_related("sheet", "person", "first_wording", "second_wording")
    role = getattr(user, "role", "")
    if role == Role.ARTIST:
        return found
    if role == Role.ASSISTANT:
        return found.filter(Q(state__in=ON_ITS_WAY) | Q(person__in=people(user)))
    return found.none()


def form(user: "User | AnonymousUser", serial: str) -> Form:
    """The form under this serial. Http404 where absent or not theirs to see."""
    found = forms(user).filter(sheet__serial=serial).first()
    if found is None:
        raise Http404
    return found


def may_open_scan(user: User, form: Form) -> bool:
    """Whether a user may look at the scan: the artist always, the assistant until it was read."""
    return user.is_artist or (user.role == Role.ASSISTANT and form.state == State.SCANNED)


def may_read(user: User, form: Form) -> bool:
    """Whether it is this user's turn to read: the assistant's first, then the artist's."""
    readers = [reading.by_id for reading in form.readings.all()]
    turn = Role.ARTIST if readers else Role.ASSISTANT
    is_open = form.state in (State.SCANNED, State.READ_ONCE, State.DOUBTFUL)
    return is_open and len(readers) < 2 and user.role == turn and user.pk not in readers


def scan(user: User, serial: str, number: int) -> tuple[Scan, bytes]:
    """One scan of a form, opened for one look, with a line in the access log.

    `number` counts from 1 in the order of filing. Http404 where absent or not theirs to see.
    """
    found = form(user, serial)
    scans = list(found.sheet.scans.all())
    if not (may_open_scan(user, found) and 1 <= number <= len(scans)) or found.person is None:
        raise Http404
    note_read(user, "scan", found.person)
    return scans[number - 1], filing.content(scans[number - 1])


def wordings(user: "User | AnonymousUser") -> QuerySet[Wording]:
    """The wordings a user may see, with how many clauses each has and how many are approved.

    A wording reader sees the languages they were given, and those that stand beside them.
    """
    if getattr(user, "role", "") not in Role.values:
        return Wording.objects.none()
    found = Wording.objects.select_related("written_by", "read_by").annotate(
        whole=Count("clauses"),
        approved=Count("clauses", filter=Q(clauses__state=ClauseState.APPROVED)),
    )
    # A model's own order falls away where rows are counted.
    return found.order_by("language", "version")


def wording(user: "User | AnonymousUser", language: str, version: int) -> Wording:
    """One wording. Http404 where absent."""
    found = wordings(user).filter(language=language, version=version).first()
    if found is None:
        raise Http404
    return found


def clause(wording: Wording, key: str) -> Clause:
    """One clause of a wording. Http404 where absent."""
    found = wording.clauses.filter(key=key).first()
    if found is None:
        raise Http404
    return found


def may_approve(user: User, wording: Wording) -> bool:
    """Whether a user may read a wording as its second person: not its writer, nor when frozen."""
    is_open = wording.frozen_at is None and wording.language in user.languages
    return is_open and wording.written_by_id != user.pk


def may_write(user: User, language: str) -> bool:
    """Whether a user may write a language: the artist any, a wording reader those given."""
    return user.is_artist or (user.role == Role.WORDING_READER and language in user.languages)


def newest(user: "User | AnonymousUser") -> list[Wording]:
    """Each language's newest wording, by language."""
    found: dict[str, Wording] = {}
    for one in wordings(user):
        found[one.language] = one
    return list(found.values())
