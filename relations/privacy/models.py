"""Who may sign in, what they looked at, and what was sent or mended; rows every room builds on."""

import unicodedata
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures

from .fields import SealedJSON, SealedText
from .rows import Hold as Hold
from .rows import Row as Row
from .rows import choices_of as choices_of
from .rows import held_to as held_to


class Role(models.TextChoices):
    ARTIST = "artist", _("Artist")
    ASSISTANT = "assistant", _("Assistant")
    WORDING_READER = "wording_reader", _("Wording reader")
    KEEPER = "keeper", _("Keeper")


class UserManager(BaseUserManager["User"]):
    """Makes users; there is no user above all others."""

    def create_user(
        self, username: str, password: str | None, *, role: Role, called: str, **rest: Any
    ) -> "User":
        """A user with the password hashed; None makes one who cannot sign in.

        Raise ValidationError where the name is taken or the role unknown.
        """
        user = self.model(
            username=self.model.normalize_username(username), role=role, called=called, **rest
        )
        user.set_password(password)
        user.full_clean()
        user.save(using=self._db)
        return user

    def in_role(self, *roles: Role) -> "models.QuerySet[User]":
        """Those who may sign in now, in one of `roles`."""
        return self.filter(is_active=True, role__in=roles)


class User(Row, AbstractBaseUser):
    """One of the few who sign in. `called` is what the others say to them."""

    username = models.CharField(max_length=60, unique=True)
    called = SealedText()
    role = models.CharField(max_length=14, choices=Role)
    # Codes of the languages this person reads well enough to answer for a wording.
    languages = models.JSONField(default=list, blank=True)
    # The language of the screens.
    language = models.CharField(max_length=12, default="en")
    # Which figures they read, and which calendar stands beside the Gregorian one.
    figures = models.CharField(max_length=8, choices=choices_of(Figures), default="usual")
    calendar = models.CharField(max_length=13, choices=choices_of(Calendar), default="gregorian")
    is_active = models.BooleanField(default=True)
    # Has set up one-time codes: a password alone never signs in again, and may be shorter.
    asks_code = models.BooleanField(default=False)
    # What comes before every page but Stop, Hold and Alarm: somebody else knows the password; the
    # device that showed codes is gone, or never was.
    must_choose_password = models.BooleanField(default=False)
    must_set_up_codes = models.BooleanField(default=False)
    # Up to which line of the access log artist and keeper have seen what became of the accounts.
    told_up_to = models.BigIntegerField(default=0)
    joined_at = models.DateTimeField(default=timezone.now, editable=False)

    objects: ClassVar[UserManager] = UserManager()

    USERNAME_FIELD = "username"

    class Meta:
        ordering = ["username"]
        constraints = [
            models.CheckConstraint(condition=Q(role__in=Role.values), name="user_role_known"),
            held_to(Figures, "figures", "user_figures_known"),
            held_to(Calendar, "calendar", "user_calendar_known"),
        ]

    def set_password(self, raw_password: str | None) -> None:
        """Keep a hash of the password as its NFKC form (NIST SP 800-63B: normalise first)."""
        super().set_password(same_typing(raw_password))

    def check_password(self, raw_password: str | None) -> bool:
        return super().check_password(same_typing(raw_password))

    def is_one_of(self, *roles: Role) -> bool:
        return self.role in roles

    @property
    def is_artist(self) -> bool:
        return self.role == Role.ARTIST


def same_typing(password: str | None) -> str | None:
    """The NFKC form, so that two keyboards that write é in two ways sign in alike."""
    return None if password is None else unicodedata.normalize("NFKC", password)


class CodeDevice(Row):
    """The secret that a person's device makes one-time codes from; pending until it showed one."""

    user = models.ForeignKey(User, models.CASCADE, related_name="code_devices")
    secret = SealedText()
    made_at = models.DateTimeField()
    is_set_up = models.BooleanField(default=False)
    # The step of the last code taken: neither it nor an older one is taken again.
    used_step = models.BigIntegerField(default=-1)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["user", "is_set_up"], name="code_device_one_and_pending"
            )
        ]


class PaperCode(Row):
    """One of ten codes on paper, as its hash; it goes when it is used."""

    user = models.ForeignKey(User, models.CASCADE, related_name="paper_codes")
    number = models.PositiveSmallIntegerField()
    hashed = models.CharField(max_length=128)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "number"], name="paper_code_numbered_once")
        ]


class KnownDevice(Row):
    """A browser from which a code was given; the digest of what its cookie holds."""

    user = models.ForeignKey(User, models.CASCADE, related_name="known_devices")
    digest = models.BinaryField(max_length=32, unique=True)
    since = models.DateTimeField()


class WrongTries(Row):
    """How often in a row a name was tried in vain, from one address or from all of them.

    The name as it was typed and the address are kept as a mark only. `user` is whom the name
    belongs to, if anybody.
    """

    mark = models.BinaryField(max_length=16, unique=True)
    user = models.ForeignKey(
        User, models.CASCADE, null=True, blank=True, related_name="wrong_tries"
    )
    count = models.PositiveIntegerField(default=0)
    last_at = models.DateTimeField()
    held_until = models.DateTimeField(null=True, blank=True)


class AccessEntry(models.Model):
    """One line of the access log: who did what to which row; never a value, never a link.

    It outlives the row and the user it speaks of. `mac` covers the line and the one before.
    """

    seq = models.BigIntegerField(primary_key=True)
    at = models.DateTimeField()
    by = models.UUIDField(null=True)
    verb = models.CharField(max_length=40)
    kind = models.CharField(max_length=60)
    key = models.UUIDField(null=True)
    mac = models.BinaryField(max_length=32)

    class Meta:
        ordering = ["seq"]
        indexes = [models.Index(fields=["kind", "key"], name="access_entry_of_row")]

    def __str__(self) -> str:
        return str(self.seq)


class LogHead(models.Model):
    """The one row that says how far the access log goes; held while a line is added."""

    only = models.BooleanField(primary_key=True, default=True)
    seq = models.BigIntegerField(default=0)
    mac = models.BinaryField(max_length=32, default=bytes)

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(only=True), name="log_head_only_one")]

    def __str__(self) -> str:
        return str(self.seq)


class LedgerHead(models.Model):
    """The one row that says how far the ledger was applied; held while people are erased.

    `cleared`: up to which line also files, free pages and the journal hold nothing any more.
    """

    only = models.BooleanField(primary_key=True, default=True)
    seq = models.BigIntegerField(default=0)
    mac = models.BinaryField(max_length=32, default=bytes)
    cleared = models.BigIntegerField(default=0)

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(only=True), name="ledger_head_only_one")]

    def __str__(self) -> str:
        return str(self.seq)


class GoneFile(models.Model):
    """A sealed file that an erasing lets go of; the row goes once the file is gone."""

    folder = models.CharField(max_length=8)
    name = models.CharField(max_length=36)

    def __str__(self) -> str:
        return self.name


class Posted(models.Model):
    """A form that was sent: its token, and where the first sending led."""

    token = models.UUIDField()
    by = models.ForeignKey(User, models.CASCADE, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    address = models.CharField(max_length=500, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["token", "by"], name="posted_once")]

    def __str__(self) -> str:
        return str(self.token)


class Mending(Row):
    """What a row held before a wrong entry was mended."""

    kind = models.CharField(max_length=60)
    key = models.UUIDField()
    # The log key of the person whom the row is about, so that erasing them reaches this too.
    about = models.UUIDField(null=True, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    # Field name to the old value, as JSON can say it.
    old = SealedJSON()
    why = SealedText()

    class Meta:
        ordering = ["at"]
        indexes = [models.Index(fields=["kind", "key"], name="mending_of_row")]


class OutboxKey(Row):
    """A pair to which telephones seal what is written without a signal; the newest is given out."""

    public = models.BinaryField(max_length=600)
    private = SealedText()
    made_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["-made_at"]


class EntryState(models.TextChoices):
    DONE = "done"
    ASKED = "asked"  # the telephone's clock is in doubt
    REFUSED = "refused"
    UNREAD = "unread"
    LET_GO = "let_go"


class OutboxEntry(Row):
    """What came out of a telephone, under the key it was given there: so it comes in once.

    `written_at`, `phone_at`: by the telephone's clock, when it was written and when it was sent;
    `received_at`: by ours. `said` is emptied once it is acted on or let go.
    """

    state = models.CharField(max_length=7, choices=EntryState)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    written_at = models.DateTimeField(null=True, blank=True)
    phone_at = models.DateTimeField(null=True, blank=True)
    received_at = models.DateTimeField()
    # The log key of the person whom it is about, so that erasing them reaches this too.
    about = models.UUIDField(null=True, blank=True)
    said = SealedJSON()

    class Meta:
        ordering = ["received_at"]
        constraints = [held_to(EntryState, "state", "outbox_entry_state_known")]
