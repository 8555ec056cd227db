"""How long a password must be: 15 characters where it stands alone, 8 beside a one-time code."""

from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import ngettext

from .models import same_typing

# NIST SP 800-63B-4, section 3.1.1.2; each code point of the normalised form counts as one.
ALONE = 15
BESIDE_A_CODE = 8


class LongEnough:
    """Refuses a short password; nothing else is asked of its characters."""

    def validate(self, password: str, user: Any = None) -> None:
        """Raise ValidationError where the password is too short for how `user` signs in."""
        least = BESIDE_A_CODE if getattr(user, "asks_code", False) else ALONE
        if len(same_typing(password) or "") < least:
            raise ValidationError(
                ngettext(
                    "A password needs %(least)d character or more.",
                    "A password needs %(least)d characters or more.",
                    least,
                ),
                code="password_too_short",
                params={"least": least},
            )

    def get_help_text(self) -> str:
        return ""
