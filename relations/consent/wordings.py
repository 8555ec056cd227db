"""Wordings: taken from a file, written clause by clause, read by a second person, frozen."""

import json
import string
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from django.db import transaction
from django.utils import timezone

from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import Clause, Wording
from .values import ClauseState

Texts = Mapping[str, tuple[str, str]]


@transaction.atomic
def load_wordings(*, path: Path, by: User) -> list[Wording]:
    """Take every wording of a file that the register does not hold yet; give those, unread.

    The file holds {"version": n, "languages": {tag: {"clauses": [{key, number, heading, text}],
    "labels": {key: words}}}}. `by` stands as the writer, so another must read. Raise ValueError
    where two languages do not hold the same clauses and labels: they could not be printed.
    """
    held = json.loads(path.read_text(encoding="utf-8"))
    _check_alike(held["languages"])
    version = int(held["version"])
    known = set(Wording.objects.filter(version=version).values_list("language", flat=True))
    return [
        _load(language, version, words, by)
        for language, words in held["languages"].items()
        if language not in known
    ]


def _check_alike(languages: Mapping[str, Any]) -> None:
    shapes = {
        language: (
            [(clause["key"], clause["number"]) for clause in words["clauses"]],
            set(words["labels"]),
        )
        for language, words in languages.items()
    }
    first = next(iter(shapes.values()), None)
    if unlike := sorted(language for language, shape in shapes.items() if shape != first):
        raise ValueError(f"not the same clauses and labels as the first: {', '.join(unlike)}")


def _load(language: str, version: int, words: Mapping[str, Any], by: User) -> Wording:
    wording = Wording.objects.create(
        language=language, version=version, labels=words["labels"], written_by=by
    )
    Clause.objects.bulk_create(
        Clause(
            wording=wording,
            key=clause["key"],
            number=clause["number"],
            heading=clause["heading"],
            text=clause["text"],
            state=ClauseState.TRANSLATED,
            source_version=version,
            translated_by=by,
        )
        for clause in words["clauses"]
    )
    return wording


def latest(language: str) -> Wording | None:
    """The newest wording in a language, frozen or not."""
    return Wording.objects.filter(language=language).order_by("-version").first()


def model_for(language: str) -> Wording | None:
    """The wording whose clauses and labels a new version in this language begins from.

    The newest in the language itself; for a language that has none yet, the newest of any.
    """
    return latest(language) or Wording.objects.order_by("-version", "language").first()


def slots(words: str) -> set[str]:
    """The names in braces that a label must keep, as in "side {page} of {pages}"."""
    return {name for _, name, _, _ in string.Formatter().parse(words) if name}


@transaction.atomic
def write_wording(
    *, language: str, texts: Texts, by: User, labels: Mapping[str, str] | None = None
) -> Wording:
    """Write the clauses of a language; a frozen wording is never touched, a new version follows.

    `texts` gives (heading, text) by the clause's key. An unfrozen version is written on: only
    what changed waits for a reader again. Refused with "no_model" where no wording shows which
    clauses there are, "unknown_clause", "clause_missing", "slots" where a label lost a name in
    braces, "nothing_changed".
    """
    model = model_for(language)
    if model is None:
        raise Refused("no_model")
    clauses = list(model.clauses.all())
    _check(clauses, model.labels, texts, labels)
    labels = {**model.labels, **(labels or {})}
    is_own = model.language == language
    changed = {
        clause.key
        for clause in clauses
        if not is_own or (clause.heading, clause.text) != texts[clause.key]
    }
    if not changed and labels == model.labels:
        raise Refused("nothing_changed")
    if is_own and model.frozen_at is None:
        return _write_on(model, clauses, texts, labels, by)
    return _write_anew(language, model, clauses, texts, changed, labels, by)


def _check(
    clauses: list[Clause], held: Mapping[str, str], texts: Texts, labels: Mapping[str, str] | None
) -> None:
    keys = {clause.key for clause in clauses}
    if set(texts) - keys or set(labels or {}) - set(held):
        raise Refused("unknown_clause")
    if keys - set(texts) or any(not text.strip() for _, text in texts.values()):
        raise Refused("clause_missing")
    for key, words in (labels or {}).items():
        if slots(words) != slots(held[key]):
            raise Refused("slots")


def _write_on(
    wording: Wording, clauses: list[Clause], texts: Texts, labels: Mapping[str, str], by: User
) -> Wording:
    """Change a wording that nobody can print yet."""
    wording.labels = dict(labels)
    wording.save(update_fields=["labels"])
    for clause in clauses:
        is_changed = (clause.heading, clause.text) != texts[clause.key]
        if is_changed or clause.state == ClauseState.DRAFTED:
            clause.heading, clause.text = texts[clause.key]
            clause.state, clause.translated_by = ClauseState.TRANSLATED, by
            clause.approved_by = None
            clause.save()
    return wording


def _write_anew(
    language: str,
    model: Wording,
    clauses: list[Clause],
    texts: Texts,
    changed: set[str],
    labels: Mapping[str, str],
    by: User,
) -> Wording:
    """A new version, in which a clause that did not change keeps its reader."""
    own = latest(language)
    wording = Wording.objects.create(
        language=language,
        version=own.version + 1 if own else model.version,
        labels=dict(labels),
        written_by=by,
    )
    for clause in clauses:
        heading, text = texts[clause.key]
        # Who wrote the new version cannot be the one who read it, not even of an old clause.
        kept = clause.key not in changed and clause.approved_by_id not in (None, by.pk)
        Clause.objects.create(
            wording=wording,
            key=clause.key,
            number=clause.number,
            heading=heading,
            text=text,
            source_version=model.version,
            state=ClauseState.APPROVED if kept else ClauseState.TRANSLATED,
            translated_by=clause.translated_by if kept else by,
            approved_by=clause.approved_by if kept else None,
        )
    return wording


def _check_reader(wording: Wording, writers: set[object], by: User) -> None:
    codes = []
    if wording.frozen_at is not None:
        codes.append("frozen")
    if wording.language not in by.languages:
        codes.append("not_your_language")
    if by.pk in writers | {wording.written_by_id}:
        codes.append("same_person")
    if codes:
        raise Refused(*codes)


@transaction.atomic
def approve(*, clause: Clause, by: User, on: date) -> Clause:
    """Let a second person, who reads the language, stand for one clause.

    Refused with "frozen", "not_your_language", "same_person", or "sent_back" where the clause
    must be written anew first. `on` is for callers that enter the past; the day that is kept is
    the one of `freeze`.
    """
    _check_reader(clause.wording, {clause.translated_by_id}, by)
    if clause.state == ClauseState.DRAFTED:
        raise Refused("sent_back")
    clause.state, clause.approved_by = ClauseState.APPROVED, by
    clause.save(update_fields=["state", "approved_by"])
    return clause


@transaction.atomic
def send_back(*, clause: Clause, by: User, on: date) -> Clause:
    """Ask for a clause to be written anew; refused as `approve` is, "sent_back" apart."""
    _check_reader(clause.wording, {clause.translated_by_id}, by)
    clause.state, clause.approved_by = ClauseState.DRAFTED, None
    clause.save(update_fields=["state", "approved_by"])
    return clause


@transaction.atomic
def freeze(*, wording: Wording, by: User, at: datetime) -> Wording:
    """Close a wording for ever, so that it may be printed; an edit makes a new version.

    `by` is the second person: freezing says that they read the whole, the words on the lines
    too. Refused with "frozen", "not_your_language", "same_person" for whoever wrote it, and
    "not_approved" while a clause waits.
    """
    _check_reader(wording, set(), by)
    if wording.clauses.exclude(state=ClauseState.APPROVED).exists():
        raise Refused("not_approved")
    wording.read_by, wording.read_on, wording.frozen_at = by, timezone.localtime(at).date(), at
    wording.save(update_fields=["read_by", "read_on", "frozen_at"])
    return wording


def is_frozen(wording: Wording | None) -> bool:
    """Whether a form may be printed in it."""
    return wording is not None and wording.frozen_at is not None
