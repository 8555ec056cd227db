"""What the artist and the keeper do for those who sign in, and each for themselves."""

from collections.abc import Iterable

from django.db import transaction

from . import devices, tries
from .access import HELPED
from .ending import end_sessions
from .log import head, note
from .models import Role, User
from .refused import Refused


@transaction.atomic
def add(*, username: str, called: str, role: str, password: str, by: User) -> User:
    """A new user with a first password; `password` was found good before.

    They choose their own before anything else. Refused: not_this_role, taken.
    """
    if role not in HELPED:
        raise Refused("not_this_role")
    if User.objects.filter(username=username).exists():
        raise Refused("taken")
    user = User.objects.create_user(
        username,
        password,
        role=Role(role),
        called=called,
        must_choose_password=True,
        # Whoever adds them shows them round; they may choose another on their own page.
        language=by.language,
    )
    note(by, "account_added", "privacy.user", user.pk)
    return user


def choose_manner(*, user: User, language: str, figures: str = "", calendar: str = "") -> None:
    """Keep how the site speaks to a user; figures and calendar stay where none are said."""
    user.language = language
    user.figures = figures or user.figures
    user.calendar = calendar or user.calendar
    user.save(update_fields=["language", "figures", "calendar"])


@transaction.atomic
def end_all(*, users: Iterable[User], by: User) -> None:
    """End every session of these users, on every device."""
    users = list(users)
    end_sessions(users)
    for user in users:
        note(by, "sessions_ended", "privacy.user", user.pk)


@transaction.atomic
def lose_phone(*, user: User, by: User) -> None:
    """A telephone is gone: end the sessions, know no device, take no code of the device.

    The paper codes stay: with one of them and the password a new device is set up.
    """
    devices.forget(user)
    end_sessions([user])
    note(by, "phone_lost", "privacy.user", user.pk)


@transaction.atomic
def lose_codes(*, user: User, by: User | None) -> str:
    """Telephone and paper are both gone: one new code for paper, to be told by word of mouth.

    The password alone never opens, neither for them nor for whoever helps them; after it and this
    code they set up a new device. `by` is None at the machine itself. Refused: no_codes.
    """
    if not user.asks_code:
        raise Refused("no_codes")
    devices.forget(user)
    (code,) = devices.new_paper(user, 1)
    tries.free(user)
    end_sessions([user])
    note(by, "codes_lost", "privacy.user", user.pk)
    return code


@transaction.atomic
def renew_paper(*, user: User) -> list[str]:
    """Ten new codes on paper for oneself; those of before open nothing. Refused: no_device."""
    if not user.code_devices.filter(is_set_up=True).exists():
        raise Refused("no_device")
    note(user, "paper_renewed", "privacy.user", user.pk)
    return devices.new_paper(user)


@transaction.atomic
def give_password(*, user: User, password: str, by: User) -> None:
    """A new first password, for somebody who lost their own or their codes on paper.

    All they signed in with before is forgotten; they choose their own password and, where they
    gave codes, set up a device before anything else. Refused: not_this_role.
    """
    _must_be_helped(user)
    devices.forget(user)
    user.paper_codes.all().delete()
    user.asks_code, user.must_choose_password = False, True
    user.set_password(password)
    user.save()
    tries.free(user)
    end_sessions([user])
    note(by, "password_given", "privacy.user", user.pk)


@transaction.atomic
def change_password(*, user: User, password: str) -> None:
    """A new password of one's own; every session but the one at hand is to end.

    Refused: the_same.
    """
    if user.check_password(password):
        raise Refused("the_same")
    user.set_password(password)
    user.must_choose_password = False
    user.save(update_fields=["password", "must_choose_password"])
    note(user, "password_changed", "privacy.user", user.pk)


@transaction.atomic
def change_role(*, user: User, role: str, by: User) -> None:
    """Another role, at once: every session under the old one ends. Refused: not_this_role."""
    _must_be_helped(user)
    if role not in HELPED:
        raise Refused("not_this_role")
    user.role = Role(role)
    user.save(update_fields=["role"])
    end_sessions([user])
    note(by, "role_changed", "privacy.user", user.pk)


@transaction.atomic
def let_go(*, user: User, by: User) -> None:
    """Somebody signs in no more; what they noted stays. Refused: not_this_role."""
    _must_be_helped(user)
    user.is_active = False
    user.save(update_fields=["is_active"])
    devices.forget(user)
    end_sessions([user])
    note(by, "let_go", "privacy.user", user.pk)


@transaction.atomic
def let_in(*, user: User, by: User) -> None:
    """Somebody who was let go may sign in again. Refused: not_this_role."""
    _must_be_helped(user)
    user.is_active = True
    user.save(update_fields=["is_active"])
    note(by, "let_in", "privacy.user", user.pk)


@transaction.atomic
def free(*, user: User, by: User) -> None:
    """Let somebody who was held off try again at once."""
    tries.free(user)
    note(by, "freed", "privacy.user", user.pk)


def see(*, user: User, up_to: int) -> None:
    """Artist or keeper has seen what became of the accounts, up to this line of the access log."""
    User.objects.filter(pk=user.pk).update(told_up_to=min(up_to, head()[0]))


def _must_be_helped(user: User) -> None:
    if user.role not in HELPED:
        raise Refused("not_this_role")
