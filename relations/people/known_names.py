"""The names that are known, opened in memory once and folded, to be searched in every script.

Nothing of it is written anywhere: neither a folded name nor a key made of one is in the database.
"""

from collections.abc import Iterator
from threading import Lock
from uuid import UUID

from django.db.models import Model, QuerySet

from relations.languages.likeness import Known
from relations.languages.sorting import fold, is_spaced
from relations.privacy.keys import keyring

from .models import Name, NameKind, Participant

# Where names stand: the table, the column, and whose row it is.
STANDS: tuple[tuple[type[Model], str, str], ...] = (
    (Participant, "call_name", "pk"),
    (Name, "text", "person_id"),
)


class Names(Known[UUID]):
    """Names by whose they are, to be asked by what is like them and by the very words in them."""

    def __init__(self) -> None:
        super().__init__()
        self._folded: list[tuple[UUID, str]] = []

    def add(self, key: UUID, name: str) -> None:
        super().add(key, name)
        self._folded.append((key, f" {fold(name)} "))

    def with_words(self, folded: str) -> set[UUID]:
        """In whose names these folded words stand, as `sorting.contains_folded` has it."""
        # Asked once for all: of each name it would cost more than the looking.
        sought = f" {folded} " if is_spaced(folded) else folded
        return {key for key, text in self._folded if sought in text}


class _Opened:
    """What was opened under one generation of the keys; let go when that is over.

    A name is known by its sealed token: it changes with every writing, whichever process writes,
    so that what is known here is compared with what stands in the database at every look.
    """

    def __init__(self) -> None:
        self._lock = Lock()
        self.forget()

    def forget(self) -> None:
        self._generation = -1
        self._tokens: set[bytes] = set()
        self._known = Names()

    def known(self) -> Names:
        """Every name of everybody, as it stands now."""
        with self._lock:
            tokens = _tokens()
            if self._generation != keyring.generation or self._tokens - tokens:
                # A name was changed or let go: begin anew, so that nothing of it stays.
                self.forget()
            if tokens - self._tokens:
                for token, person, text in _texts():
                    if token not in self._tokens:
                        self._known.add(person, text)
            self._generation, self._tokens = keyring.generation, tokens
            return self._known


def _rows(model: type[Model]) -> QuerySet[Model]:
    rows = model._default_manager.order_by("pk")
    return rows.exclude(kind=NameKind.NEVER_PRINT) if model is Name else rows


def _tokens() -> set[bytes]:
    return {
        token
        for model, column, _ in STANDS
        for token in _rows(model).values_list(column, flat=True).iterator()
    }


def _texts() -> Iterator[tuple[bytes, UUID, str]]:
    for model, column, person in STANDS:
        for row in _rows(model).only(column, person):
            token = row.__dict__[column]
            yield token, getattr(row, person), getattr(row, column)


_opened = _Opened()


def known() -> Names:
    """The names of everybody but those never to be printed, by whose they are, as they stand now.

    Read from the database at most once for each name while the keys are open; two queries a look.
    """
    return _opened.known()


def forget() -> None:
    """Let go of every opened name."""
    _opened.forget()
