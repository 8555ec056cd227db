"""Read one object of a file of cases, strictly: no key missing, unknown or of another type."""

from collections.abc import Callable
from datetime import date
from typing import Any, Self, TypeVar

T = TypeVar("T")


class ShapeError(ValueError):
    """Something in a file of cases is not in the shape agreed."""


class Fields:
    """The fields of one object: each is read once as what it must be, and none may be left."""

    def __init__(self, found: Any, what: str) -> None:
        if type(found) is not dict:
            raise ShapeError(f"{what}: an object was expected")
        self.what, self.found, self.unread = what, found, set(found)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, *rest: object) -> None:
        if kind is None and self.unread:
            raise ShapeError(f"{self.what}: unknown {sorted(self.unread)}")

    def value(self, key: str, kind: type[T]) -> T:
        """The value, if it is just of that type: true is no number and 1 is not true."""
        if key not in self.found:
            raise ShapeError(f"{self.what}: {key} is missing")
        self.unread.discard(key)
        if type(self.found[key]) is not kind:
            raise ShapeError(f"{self.what}: {key} is no {kind.__name__}")
        return self.found[key]

    def flag(self, key: str) -> bool:
        return self.value(key, bool)

    def text(self, key: str) -> str:
        return self.value(key, str)

    def number(self, key: str) -> int:
        return self.value(key, int)

    def is_null(self, key: str) -> bool:
        """Whether the field is null, which then counts as read."""
        is_null = key in self.found and self.found[key] is None
        if is_null:
            self.unread.discard(key)
        return is_null

    def or_none(self, read: Callable[[str], T], key: str) -> T | None:
        """What `read` makes of the field, or None where it is null."""
        return None if self.is_null(key) else read(key)

    def converted(self, value: Any, convert: Callable[[Any], T], key: str) -> T:
        try:
            return convert(value)
        except ShapeError:
            raise
        except (TypeError, ValueError) as error:
            raise ShapeError(f"{self.what}: {key} does not know {value!r}") from error

    def code(self, key: str, convert: Callable[[str], T]) -> T:
        return self.converted(self.text(key), convert, key)

    def day(self, key: str) -> date:
        return self.code(key, date.fromisoformat)

    def items(self, key: str, convert: Callable[[Any], T]) -> tuple[T, ...]:
        return tuple(self.converted(item, convert, key) for item in self.value(key, list))

    def words(self, key: str) -> tuple[str, ...]:
        """A list of texts."""
        return self.items(key, text)

    def table(self, key: str, name: Callable[[str], str], convert: Callable[[Any], T]) -> Any:
        """An object whose keys and values are both converted."""
        return {
            self.converted(k, name, key): self.converted(v, convert, key)
            for k, v in self.value(key, dict).items()
        }


def text(value: Any) -> str:
    """A text and nothing else."""
    if type(value) is not str:
        raise TypeError
    return value
