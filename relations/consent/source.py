"""The project's own words, in the language the artist writes, and what follows when they change."""

from collections.abc import Collection

from django.conf import settings

from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import editions
from .texts import Clause, Wording
from .values import ClauseState

# What a clause loses when its words, or the words it follows, are others than were read.
UNREAD = {
    "read_back": "",
    "read_back_by": None,
    "approved_by": None,
    "approved_on": None,
    "why": "",
    "sent_back_by": None,
}


def latest(language: str) -> Wording | None:
    """The newest wording in a language, frozen or not."""
    return Wording.objects.filter(language=language).order_by("-version").first()


def own() -> Wording | None:
    """The newest wording in the language the artist writes; None where there is none yet."""
    return latest(settings.RELATIONS_SOURCE_LANGUAGE)


def is_own(language: str) -> bool:
    """Whether a language is the one the artist writes."""
    return bool(language == settings.RELATIONS_SOURCE_LANGUAGE)


def followed(language: str) -> dict[str, Clause]:
    """The clauses that a language follows, by name: none for the artist's own."""
    source = None if is_own(language) else own()
    return {} if source is None else {clause.name: clause for clause in source.clauses.all()}


def behind(wording: Wording) -> frozenset[str]:
    """The names of its clauses that follow an older edition than the artist's words now."""
    return editions.behind(
        {clause.name: clause.source_version for clause in wording.clauses.all()},
        {name: one.source_version for name, one in followed(wording.language).items()},
    )


def is_behind(clause: Clause) -> bool:
    """Whether one clause follows an older edition than the artist's words now."""
    source = None if is_own(clause.wording.language) else own()
    if source is None:
        return False
    editions_now = source.clauses.filter(paper=clause.paper, key=clause.key)
    return any(
        edition != clause.source_version
        for edition in editions_now.values_list("source_version", flat=True)
    )


def text_of(wording: Wording) -> editions.Text:
    """A wording as the rules of printing ask it."""
    return editions.Text(
        language=wording.language,
        is_frozen=wording.frozen_at is not None,
        lines_edition=wording.lines_edition,
        clauses={
            clause.name: editions.Stand(
                clause.number, ClauseState(clause.state), clause.source_version
            )
            for clause in wording.clauses.all()
        },
    )


def is_ready(wording: Wording) -> bool:
    """Whether a second person has read the whole of it; of its clauses no words are fetched."""
    states = wording.clauses.order_by().values_list("state", flat=True).distinct()
    return editions.is_ready(wording.frozen_at is not None, map(ClauseState, states))


def refuse_unready(first: Wording, second: Wording) -> None:
    """Raise Refused with the codes of `editions.printing_codes` where nothing may be printed."""
    if codes := editions.printing_codes(text_of(first), text_of(second)):
        raise Refused(*codes)


def refuse_pair(first: Wording, second: Wording) -> None:
    """Raise Refused with "same_language" or "clauses_differ": not even a proof can be made."""
    if codes := editions.pair_codes(text_of(first), text_of(second)):
        raise Refused(*codes)


def carry(clause: Clause, wording: Wording) -> Clause:
    """A copy of a clause for another wording, not yet saved, with all that was read of it."""
    fields = [field.attname for field in Clause._meta.concrete_fields]
    held = {name: getattr(clause, name) for name in fields if name not in ("id", "wording_id")}
    return Clause(wording=wording, **held)


def next_version(wording: Wording) -> Wording:
    """Open the version after a frozen one: the same words, read as they were, not yet frozen."""
    opened = Wording.objects.create(
        language=wording.language,
        version=wording.version + 1,
        labels=wording.labels,
        lines_edition=wording.lines_edition,
        written_by=wording.written_by,
    )
    Clause.objects.bulk_create(carry(clause, opened) for clause in wording.clauses.all())
    return opened


def send_translations_back(changed: Collection[str], *, are_lines_changed: bool) -> None:
    """Ask every other language to follow what changed in the artist's own words.

    Clauses of these names are drafts again, in a version that is not frozen: where the newest is,
    the next one is opened, and forms keep theirs. Where only words on the lines changed, that
    version is to be frozen again.
    """
    for language in Wording.objects.order_by("language").values_list("language", flat=True):
        newest = None if is_own(language) else latest(language)
        if newest is None:
            continue
        names = {clause.name for clause in newest.clauses.all()} & set(changed)
        if newest.frozen_at is not None and (names or are_lines_changed):
            newest = next_version(newest)
        for clause in newest.clauses.all():
            if clause.name in names:
                set_back(clause)


def set_back(clause: Clause, *, why: str = "", by: User | None = None) -> None:
    """Make a draft of a clause: it is to be written anew, or to be said to hold as it is.

    `by` is who sent it back; nobody where the words it follows have changed.
    """
    lost = {**UNREAD, "why": why, "sent_back_by": by, "state": ClauseState.DRAFTED}
    for field, value in lost.items():
        setattr(clause, field, value)
    clause.save()
