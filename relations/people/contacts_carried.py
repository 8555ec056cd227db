"""What was read of a file of contacts, sealed in the page that asks about it and in nothing else.

Neither the database nor the disk nor the session ever holds people who were not taken. Sealed, not
in plain fields: hundreds of people who were asked nothing would lie in what a browser keeps of a
page, and what comes back is what was read. It opens for the same user, for the same step, for half
an hour, and while the home is under the same master key.
"""

import base64
import binascii
import json
import zlib
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from relations.privacy.crypt import SealBroken
from relations.privacy.fields import place, seal, unseal
from relations.privacy.keys import keyring

if TYPE_CHECKING:
    from relations.privacy.models import User

LASTS = timedelta(minutes=30)
# Signs of what comes back: the most that a table may hold, were it not to be pressed, in base64.
LONGEST = 620_000


def carry(what: Any, *, step: str, user: "User", at: datetime) -> str:
    """Seal lists, texts and numbers for the page of `step`, as text for a hidden field."""
    plain = json.dumps([at.timestamp(), what], ensure_ascii=False, separators=(",", ":"))
    bound = place("contacts carried", step, user.pk)
    pressed = zlib.compress(plain.encode())  # it goes over a weak line four times
    token = seal(keyring.subkey("field"), pressed, bound, key_id=keyring.key_id)
    return base64.b64encode(token).decode()


def brought(carried: str, *, step: str, user: "User", at: datetime) -> Any:
    """What `carry` sealed; None where it is older than LASTS, somebody else's, or was changed."""
    bound = place("contacts carried", step, user.pk)
    try:
        token = base64.b64decode(carried, validate=True)
        pressed = unseal(keyring.subkey("field"), token, bound, key_id=keyring.key_id)
    except (SealBroken, binascii.Error, ValueError):
        return None
    since, what = json.loads(zlib.decompress(pressed))
    return what if 0 <= at.timestamp() - since < LASTS.total_seconds() else None
