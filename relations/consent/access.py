"""The door to forms and wordings: who may see which, and who may open a scan."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, cast
from uuid import UUID

from django.db.models import Count, Exists, OuterRef, Q, QuerySet
from django.http import Http404

from relations.documents import filing
from relations.documents.models import Page, Scan, Upload
from relations.documents.sorting import Place, Why
from relations.languages.sorting import by_name
from relations.people.access import note_read, people
from relations.people.newcomers import wants_another, who_want_another
from relations.privacy.files import scans
from relations.privacy.log import note
from relations.privacy.models import Role, User

from .beside import Beside, look
from .history import KeptCopy
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

    The assistant's are the papers on their way, those that are nobody's, such as a spoilt blank,
    and those of people in sight today, but of nobody who does not want that assistant; nobody else
    sees any (job.md 4).
    """
    found = Form.objects.select_related("sheet", "person", "first_wording", "second_wording")
    role = getattr(user, "role", "")
    if role == Role.ARTIST:
        return found
    if role == Role.ASSISTANT:
        is_nobodys = Q(person=None)
        found = found.filter(Q(state__in=ON_ITS_WAY) | is_nobodys | Q(person__in=people(user)))
        return found.exclude(person__in=who_want_another(cast("User", user)).values("person"))
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


def proof(user: User, serial: str, kind: str) -> Form:
    """A form whose record leaves the house: for the artist alone, with a line in the access log.

    `kind` is "record" or "receipt". Http404 where absent, nobody's yet or not theirs to see
    (job.md 4: what leaves of a form is the artist's).
    """
    found = form(user, serial)
    if not user.is_artist or found.person is None:
        raise Http404
    note_read(user, kind, found.person)
    return found


def kept_copy(user: User, serial: str, number: int) -> KeptCopy:
    """One copy that was laid out and kept, with a line in the access log.

    Http404 where absent, not laid out yet or not theirs to see.
    """
    kept = form(user, serial).kept.exclude(file="").filter(number=number).first()
    if not user.is_artist or kept is None or kept.form.person is None:
        raise Http404
    note_read(user, "kept_copy", kept.form.person)
    return kept


def boxes(user: User, form: Form) -> Beside:
    """The boxes of a form as they stand on its scans, opened for one look, with a line in the log.

    A paper printed before the places of its boxes were kept is not opened. Http404 where the scan
    is not theirs to see.
    """
    if not may_open_scan(user, form) or form.person is None:
        raise Http404
    if form.sheet.layout is None:
        return look(form.sheet, [])
    note_read(user, "scan", form.person)
    return look(form.sheet, [(filing.content(one), one.pages) for one in form.sheet.scans.all()])


def uploads(user: "User | AnonymousUser") -> QuerySet[Upload]:
    """The stacks that were sent: the two who file papers see all, nobody else any."""
    found = Upload.objects.select_related("sent_by")
    return found if getattr(user, "role", "") in (Role.ARTIST, Role.ASSISTANT) else found.none()


def upload(user: "User | AnonymousUser", key: UUID) -> Upload:
    """One stack. Http404 where absent or not theirs to see."""
    found = uploads(user).filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def pages(user: "User | AnonymousUser") -> QuerySet[Page]:
    """The pages of stacks; what waits in the tray nobody can yet say to be somebody's.

    `is_read` marks those of a form that was read already, which only the artist opens again.
    """
    read = Form.objects.filter(sheet=OuterRef("sheet")).exclude(state__in=ON_ITS_WAY)
    found = Page.objects.select_related("sheet__form__person", "upload")
    return found.filter(upload__in=uploads(user)).annotate(is_read=Exists(read))


def waiting(user: "User | AnonymousUser") -> QuerySet[Page]:
    """The pages that wait in the tray."""
    return pages(user).filter(place=Place.WAITING)


def page(user: "User | AnonymousUser", key: UUID) -> Page:
    """One page that waits or was set aside. Http404 where absent, placed, or not theirs to see."""
    found = pages(user).filter(pk=key, place__in=(Place.WAITING, Place.ASIDE)).first()
    if found is None:
        raise Http404
    return found


def pages_for_whom(user: "User | AnonymousUser", serial: str) -> list[Page]:
    """The pages of a form printed for nobody that wait to be told whose. Http404 where none."""
    theirs = waiting(user).filter(why=Why.WHOSE, sheet__serial=serial)
    found = list(theirs.order_by("side", "number"))
    if not found:
        raise Http404
    return found


def open_page(user: User, key: UUID) -> bytes:
    """One page of the tray, opened for one look, with a line in the access log.

    The line names the page, and the person too where it is known whose form it is. Http404 as
    `page`, and to the assistant once the form was read, or where its person wants another.
    """
    found = page(user, key)
    if found.is_read and not user.is_artist:  # type: ignore[attr-defined] # `pages` annotates it
        raise Http404
    form = getattr(found.sheet, "form", None)
    if form is not None and form.person is not None:
        if wants_another(form.person, user):
            raise Http404
        note_read(user, "scan", form.person)
    note(user, "read", "documents.page", found.pk)
    with scans().open(found.file) as sealed:
        return bytes(sealed.read())


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


def clause(wording: Wording, name: str) -> Clause:
    """One clause of a wording by its name. Http404 where absent."""
    found = next((one for one in wording.clauses.all() if one.name == name), None)
    if found is None:
        raise Http404
    return found


def to_read(user: User, wording: Wording) -> list[Clause]:
    """The clauses that a user may read as their second person, in order."""
    if not may_approve(user, wording):
        return []
    return [one for one in wording.clauses.all() if one.translated_by_id != user.pk]


def readers(wordings: Iterable[Wording]) -> list[tuple[Wording, list[User]]]:
    """Each wording with those who may still read it: who know its language and did not write it."""
    people = by_name(User.objects.filter(is_active=True), lambda user: user.called)
    return [(one, [user for user in people if may_approve(user, one)]) for one in wordings]


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
