"""Model fields sealed by the application: bound to their row, opened only when looked at."""

import datetime
import hmac
import json
import secrets
import uuid
from typing import TYPE_CHECKING, Any, TypeVar, cast

from django.db import models
from django.db.models.query_utils import DeferredAttribute

from .crypt import SealBroken, unwrap, wrap
from .keys import keyring

VERSION = 1


def header(key_id: int) -> bytes:
    """How a token begins: version 1 B, number of the master key 2 B."""
    return bytes([VERSION]) + key_id.to_bytes(2, "big")


HEADER = header(1)
NONCE_BYTES = 12
OVERHEAD = len(HEADER) + NONCE_BYTES + 16
MARK_BYTES = 16


class Sealed(bytes):
    """A token as the database keeps it: version 1 B, key id 2, nonce 12, ciphertext, tag 16."""

    __slots__ = ()


def place(table: str, column: str, row: uuid.UUID) -> bytes:
    """What a token is bound to; moved to another table, column or row it does not open."""
    return b"\0".join((table.encode(), column.encode(), row.bytes))


def seal(
    key: bytes, plain: bytes, bound: bytes, nonce: bytes | None = None, *, key_id: int = 1
) -> Sealed:
    """A token for `plain`; `nonce` (12 bytes) is given by checks against known values only."""
    nonce = secrets.token_bytes(NONCE_BYTES) if nonce is None else nonce
    head = header(key_id)
    return Sealed(head + nonce + wrap(key, nonce, plain, head + bound))


def unseal(key: bytes, token: bytes, bound: bytes, *, key_id: int = 1) -> bytes:
    """What `seal` closed. Raise SealBroken when it is changed, moved, cut or of another key."""
    head = header(key_id)
    if len(token) < OVERHEAD or token[: len(head)] != head:
        raise SealBroken("not a token of this site, or under another key")
    body = token[len(head) :]
    return unwrap(key, body[:NONCE_BYTES], body[NONCE_BYTES:], head + bound)


def mark(value: str) -> bytes:
    """16 bytes by which an equal value is found again (HMAC-SHA256, cut), without keeping it.

    Keyed, because all telephone numbers of a country can be tried within minutes.
    """
    return marks(value)[0]


def marks(value: str) -> list[bytes]:
    """The mark of a value under this master key and under each earlier one, newest first.

    For marks of which the value itself was let go, so that no rekey can make them anew.
    """
    keys = keyring.mark_keys()
    return [hmac.digest(key, value.encode(), "sha256")[:MARK_BYTES] for key in keys]


class _Opening(DeferredAttribute):
    """Opens a token at the first look and keeps what it said.

    `__set__` makes this a data descriptor; without it the row's own dictionary would win, and
    hand out sealed bytes.
    """

    def __set__(self, instance: models.Model, value: object) -> None:
        instance.__dict__[self.field.attname] = value

    def __get__(self, instance: models.Model | None, cls: type[models.Model] | None = None) -> Any:
        if instance is None:
            return self
        name = self.field.attname
        held = instance.__dict__
        value = held[name] if name in held else super().__get__(instance, cls)
        if isinstance(value, Sealed):
            field = cast("SealedField[Any, Any]", self.field)
            value = held[name] = field.unsealed(value, instance)
        return value


if TYPE_CHECKING:
    # What may be set and what is read; the checker fills both in, with None where null is allowed.
    _ST = TypeVar("_ST", contravariant=True)
    _GT = TypeVar("_GT", covariant=True)

    class _Binary(models.BinaryField[_ST, _GT]): ...

else:
    _ST = _GT = None

    class _Binary(models.BinaryField):
        """Takes type parameters, as the checker's twin of it does, and forgets them."""

        def __class_getitem__(cls, _parameters):
            return cls


class SealedField(_Binary[_ST, _GT]):
    """A value only rows can read: `values()`, dumps and the database see its token."""

    descriptor_class = _Opening

    def _place(self, row: models.Model) -> bytes:
        return place(self.model._meta.db_table, str(self.column), row.pk)

    def unsealed(self, token: Sealed, row: models.Model) -> Any:
        """The value of `token` in `row`. Raise SealBroken when it was not sealed for this place."""
        try:
            bound, key_id = self._place(row), keyring.key_id
            return self.loads(unseal(keyring.subkey("field"), token, bound, key_id=key_id))
        except SealBroken as error:
            where = f"{self.model._meta.db_table}.{self.column}"
            raise SealBroken(f"{where} of row {row.pk} does not open") from error

    def sealed(self, row: models.Model) -> Sealed | None:
        """The token for what `row` holds now; one that was never opened stays as it is."""
        value = row.__dict__.get(self.attname)
        if value is None or isinstance(value, Sealed):
            return value
        key, key_id = keyring.subkey("field"), keyring.key_id
        return seal(key, self.dumps(value), self._place(row), key_id=key_id)

    def resealed(self, token: Sealed, row: uuid.UUID) -> Sealed:
        """The same value under the master key of now; one that is already stays as it is.

        Raise SealBroken when it is under neither this master nor the one before.
        """
        now = keyring.key_id
        if token.startswith(header(now)):
            return token
        bound = place(self.model._meta.db_table, str(self.column), row)
        before = keyring.former_id
        plain = unseal(keyring.former_subkey("field"), token, bound, key_id=before)
        return seal(keyring.subkey("field"), plain, bound, key_id=now)

    def dumps(self, value: Any) -> bytes:
        raise NotImplementedError

    def loads(self, plain: bytes) -> Any:
        raise NotImplementedError

    def pre_save(self, model_instance: models.Model, add: bool) -> Sealed | None:
        if self.attname not in model_instance.__dict__:
            getattr(model_instance, self.attname)
        token = model_instance.__dict__[self.attname]
        if add and isinstance(token, Sealed):
            # A row copied under a new key: better refused now than unreadable later.
            self.unsealed(token, model_instance)
        return self.sealed(model_instance)

    def get_db_prep_value(self, value: Any, connection: Any, prepared: bool = False) -> Any:
        if value is not None and not isinstance(value, Sealed):
            raise TypeError(f"{self} is sealed: save its row, or look it up by a mark")
        return super().get_db_prep_value(value, connection, prepared)

    def get_lookup(self, lookup_name: str) -> Any:
        if lookup_name != "isnull":
            raise TypeError(f"{self} is sealed: nothing can be looked up in it; use a mark")
        return super().get_lookup(lookup_name)

    def from_db_value(self, value: Any, expression: object, connection: object) -> Sealed | None:
        return None if value is None else Sealed(value)

    def to_python(self, value: Any) -> Any:
        return value

    def value_from_object(  # type: ignore[override] # a dump gets the token
        self, obj: models.Model
    ) -> Sealed | None:
        """What dumps and forms of a whole row are given: the token."""
        return self.sealed(obj)

    def value_to_string(self, obj: models.Model) -> str:
        """What a dump may hold: the token, in hexadecimal."""
        token = self.sealed(obj)
        return "" if token is None else token.hex()

    def get_default(self) -> Any:
        default = super().get_default()
        return None if default == b"" else default

    def _check_str_default_value(self) -> list[Any]:
        return []


class SealedText(SealedField[_ST, _GT]):
    """Text; an empty one is sealed too, so that its emptiness does not show."""

    if TYPE_CHECKING:
        _pyi_private_set_type: str
        _pyi_private_get_type: str  # type: ignore[assignment]

    def dumps(self, value: Any) -> bytes:
        if not isinstance(value, str):
            raise TypeError(f"{self} holds text, not {type(value).__name__}")
        return value.encode()

    def loads(self, plain: bytes) -> str:
        return plain.decode()

    def get_default(self) -> Any:
        """As for any text, nothing said is the empty text."""
        default = super().get_default()
        return "" if default is None and not self.null else default


class SealedDate(SealedField[_ST, _GT]):
    """A day."""

    if TYPE_CHECKING:
        _pyi_private_set_type: datetime.date
        _pyi_private_get_type: datetime.date  # type: ignore[assignment]

    def dumps(self, value: Any) -> bytes:
        if not isinstance(value, datetime.date) or isinstance(value, datetime.datetime):
            raise TypeError(f"{self} holds a day, not {type(value).__name__}")
        return value.isoformat().encode()

    def loads(self, plain: bytes) -> datetime.date:
        return datetime.date.fromisoformat(plain.decode())


class SealedJSON(SealedField[_ST, _GT]):
    """Lists, dictionaries, text, numbers, yes and no, as JSON."""

    if TYPE_CHECKING:
        _pyi_private_set_type: Any
        _pyi_private_get_type: Any

    def dumps(self, value: Any) -> bytes:
        return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()

    def loads(self, plain: bytes) -> Any:
        return json.loads(plain)
