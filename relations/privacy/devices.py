"""The second thing somebody signs in with: a device that shows codes, codes on paper."""

import hashlib
import secrets
from datetime import timedelta

from django.conf import settings
from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from . import codes
from .log import note
from .models import CodeDevice, KnownDevice, PaperCode, Role, User

SALT = "relations.privacy.devices"
KNOWN_FOR = timedelta(days=180)
PENDING_FOR = timedelta(minutes=30)
# Those who can reach everything give a code at every sign-in, on whatever device.
EVERY_TIME = (Role.ARTIST, Role.KEEPER)


@transaction.atomic
def begin(*, user: User) -> CodeDevice:
    """A new secret, pending until the device has shown a code; a device set up before stays."""
    user.code_devices.filter(is_set_up=False).delete()
    return CodeDevice.objects.create(user=user, secret=codes.new_secret(), made_at=timezone.now())


def pending(user: User) -> CodeDevice | None:
    """The device being set up, where one is; its secret is shown for half an hour only."""
    young = timezone.now() - PENDING_FOR
    return user.code_devices.filter(is_set_up=False, made_at__gt=young).first()


@transaction.atomic
def set_up(*, device: CodeDevice, said: str) -> list[str] | None:
    """Take a pending device whose first code was said, and give ten new paper codes.

    None where the code does not fit. The device and the paper codes of before are gone.
    """
    device = CodeDevice.objects.select_for_update().get(pk=device.pk)
    step = codes.accepted_step(device.secret, said, timezone.now().timestamp(), device.used_step)
    if step is None:
        return None
    user = device.user
    user.code_devices.filter(is_set_up=True).delete()
    device.is_set_up, device.used_step = True, step
    device.save()
    user.asks_code, user.must_set_up_codes = True, False
    user.save(update_fields=["asks_code", "must_set_up_codes"])
    note(user, "code_device_set_up", "privacy.user", user.pk)
    return new_paper(user)


@transaction.atomic
def new_paper(user: User, amount: int = codes.PAPER_CODES) -> list[str]:
    """So many codes for paper in place of all before; ten, or one as the way back.

    They are kept as salted Argon2id hashes: 55 bits alone would be too few for a plain one.
    """
    made = codes.new_paper_codes()[:amount]
    user.paper_codes.all().delete()
    PaperCode.objects.bulk_create(
        PaperCode(user=user, number=number, hashed=make_password(code))
        for number, code in enumerate(made)
    )
    return made


@transaction.atomic
def accepts(user: User, said: str) -> bool:
    """Whether a code of the device or of the paper fits; one that did never fits again."""
    number = codes.paper_number(said)
    if number is not None:
        return _accepts_paper(user, number, said)
    device = user.code_devices.select_for_update().filter(is_set_up=True).first()
    if device is None:
        return False
    at = timezone.now().timestamp()
    step = codes.accepted_step(device.secret, said, at, device.used_step)
    if step is not None:
        device.used_step = step
        device.save(update_fields=["used_step"])
    return step is not None


def _accepts_paper(user: User, number: int, said: str) -> bool:
    code = user.paper_codes.select_for_update().filter(number=number).first()
    if code is None or not check_password(codes.paper_text(said), code.hashed):
        return False
    code.delete()
    note(user, "paper_code_used", "privacy.user", user.pk)
    return True


def asks_code(request: HttpRequest, user: User) -> bool:
    """Whether the password is not enough: always, or on a device that is new."""
    return user.asks_code and (user.is_one_of(*EVERY_TIME) or not _is_known(request, user))


def _is_known(request: HttpRequest, user: User) -> bool:
    token = request.get_signed_cookie(
        settings.DEVICE_COOKIE_NAME, default="", salt=SALT, max_age=KNOWN_FOR
    )
    young = timezone.now() - KNOWN_FOR
    return user.known_devices.filter(digest=_digest(token or ""), since__gt=young).exists()


def _digest(token: str) -> bytes:
    """The token is 256 random bits: a plain hash is enough."""
    return hashlib.sha256(token.encode()).digest()


def remember(response: HttpResponse, user: User) -> None:
    """Know this device again, by a cookie that is sent to the sign-in page only."""
    if user.is_one_of(*EVERY_TIME):
        return
    token, now = secrets.token_urlsafe(32), timezone.now()
    user.known_devices.filter(since__lte=now - KNOWN_FOR).delete()
    KnownDevice.objects.create(user=user, digest=_digest(token), since=now)
    response.set_signed_cookie(
        settings.DEVICE_COOKIE_NAME,
        token,
        salt=SALT,
        max_age=KNOWN_FOR,
        path=reverse("privacy:sign_in"),
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Strict",
    )


def forget(user: User) -> None:
    """A telephone is lost: no browser is known, and no device shows codes. The paper stays.

    Whoever gave codes sets up a new device before anything else.
    """
    user.known_devices.all().delete()
    user.code_devices.all().delete()
    user.must_set_up_codes = user.must_set_up_codes or user.asks_code
    user.save(update_fields=["must_set_up_codes"])
