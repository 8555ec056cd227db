"""The words that come with the site, taken from its file into the register as drafts."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction

from relations.documents.values import PaperKind
from relations.privacy.models import User

from . import source
from .texts import Clause, Wording
from .wordings import slots


@transaction.atomic
def load_wordings(*, path: Path, by: User) -> list[Wording]:
    """Take what a file holds and the register does not yet; give the wordings made or added to.

    The file holds {"version": n, "languages": {tag: {"clauses": [{key, number, heading, text}],
    "labels": {key: words}, "papers": {kind: {"clauses": […], "labels": {…}}}}}}. All of it comes
    in as a draft; `by` stands as the writer, so another must read. A language that is there keeps
    its words and is given what it lacks. Raise ValueError where two languages do not hold the
    same clauses and labels, or for a paper we do not print: they could not be printed.
    """
    held = json.loads(path.read_text(encoding="utf-8"))
    _check_alike(held["languages"])
    version = int(held["version"])
    drafts = {
        language: list(_drafts(version, words, by)) for language, words in held["languages"].items()
    }
    says = {one.name: one.words for one in drafts.get(settings.RELATIONS_SOURCE_LANGUAGE, [])}
    loaded = []
    for language, clauses in drafts.items():
        for clause in clauses:
            clause.source_words = "" if source.is_own(language) else says.get(clause.name, "")
        labels = _labels(held["languages"][language])
        loaded.append(_load(language, version, clauses, labels, by))
    return [wording for wording in loaded if wording is not None]


def _papers(words: Mapping[str, Any]) -> Iterator[tuple[PaperKind, Mapping[str, Any]]]:
    """Each paper of a language with its words, the form first."""
    yield PaperKind.FORM, words
    for kind, held in words.get("papers", {}).items():
        if kind == PaperKind.FORM:
            raise ValueError("the form's words stand beside the papers")
        yield PaperKind(kind), held


def _labels(words: Mapping[str, Any]) -> dict[str, str]:
    """The words on the lines of every paper; those of another than the form under its name."""
    return {
        key if kind == PaperKind.FORM else f"{kind}.{key}": label
        for kind, held in _papers(words)
        for key, label in held.get("labels", {}).items()
    }


def _check_alike(languages: Mapping[str, Any]) -> None:
    shapes = {
        language: (
            {
                kind: [(clause["key"], clause["number"]) for clause in held.get("clauses", [])]
                for kind, held in _papers(words)
            },
            {key: slots(label) for key, label in _labels(words).items()},
        )
        for language, words in languages.items()
    }
    first = next(iter(shapes.values()), None)
    if unlike := sorted(language for language, shape in shapes.items() if shape != first):
        raise ValueError(f"not the same clauses and labels as the first: {', '.join(unlike)}")


def _load(
    language: str, version: int, clauses: list[Clause], labels: dict[str, str], by: User
) -> Wording | None:
    """Take a language in, or what its newest wording lacks; None where it lacks nothing."""
    newest = source.latest(language)
    known = set() if newest is None else {clause.name for clause in newest.clauses.all()}
    lacking = [clause for clause in clauses if clause.name not in known]
    if newest is None:
        newest = Wording.objects.create(language=language, version=version, written_by=by)
    elif not lacking and labels.keys() <= newest.labels.keys():
        return None
    elif newest.frozen_at is not None:
        newest = source.next_version(newest)
    newest.labels = {**labels, **newest.labels}
    newest.save(update_fields=["labels"])
    for clause in lacking:
        clause.wording = newest
    Clause.objects.bulk_create(lacking)
    return newest


def _drafts(version: int, words: Mapping[str, Any], by: User) -> Iterator[Clause]:
    for kind, held in _papers(words):
        for clause in held.get("clauses", []):
            yield Clause(
                paper=kind,
                key=clause["key"],
                number=clause["number"],
                heading=clause["heading"],
                text=clause["text"],
                source_version=version,
                translated_by=by,
            )
