"""Makes a real home: keys, a recovery code printed once, the register, the first users."""

from typing import Any

from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from relations.privacy import tables
from relations.privacy.devices import EVERY_TIME
from relations.privacy.home import home
from relations.privacy.models import Role, User, same_typing
from relations.privacy.opening import (
    SHORTEST,
    ask,
    ask_passphrase,
    make_home,
    same,
    show_recovery_code,
)

FIRST = (Role.ARTIST, Role.ASSISTANT, Role.KEEPER)


class Command(BaseCommand):
    help = "Make a real home in RELATIONS_HOME. Nothing is written before all is answered."
    # Of the checks, those that say whether every stored field has its reason: before any table.
    requires_system_checks = ("kept",)

    def handle(self, *args: Any, **options: Any) -> None:
        self._refuse_what_is_there()
        said = self._secrets()
        users = [user for role in FIRST if (user := self._user(role))]
        if len({user["username"] for user in users}) < len(users):
            raise CommandError("Each needs a name of their own: two different people, two names.")
        self.stdout.write("Making the home …")
        make_home("real", said)
        tables.make_all()
        for user in users:
            User.objects.create_user(**user, language=settings.LANGUAGE_CODE)
        for command in settings.RELATIONS_AFTER_BEGIN:
            call_command(command)
        self.stdout.write(f"The home is made. {len(users)} may sign in. Run: manage.py serve")

    def _refuse_what_is_there(self) -> None:
        root = home().root
        if root.exists() and any(root.iterdir()):
            raise CommandError(f"{root} is not empty; a home is made in an empty folder.")
        if connection.vendor != "sqlite" and connection.introspection.table_names():
            raise CommandError("The database already has tables; a home begins with an empty one.")

    def _secrets(self) -> dict[str, str]:
        """What opens the home: passphrase and recovery code; the keeper's own, or later."""
        self.stdout.write(f"A passphrase opens the home: {SHORTEST} characters or more.")
        passphrase = ask_passphrase("Passphrase")
        said = {"passphrase": passphrase, "recovery": show_recovery_code(self.stdout.write)}
        self.stdout.write(
            "\nThe keeper can open the home without the artist, with a passphrase of their own.\n"
            "Let the keeper type it, or leave it empty: manage.py change_passphrase --slot keeper"
        )
        keepers = ask_passphrase("Keeper's passphrase", may_be_empty=True)
        if same_typing(keepers) == same_typing(passphrase):
            raise CommandError("The keeper needs another passphrase than the artist's.")
        return said | ({"keeper": keepers} if keepers else {})

    def _user(self, role: Role) -> dict[str, Any] | None:
        """The answers for one user; an empty name leaves out all but the artist."""
        self.stdout.write(f"\n{role.label}")
        username = ask("Name to sign in with: ").strip()
        if not username and role != Role.ARTIST:
            return None
        called = ask("What the others say to them: ").strip()
        password = ask("Password: ", hidden=True)
        try:
            User(username=username, called=called, role=role).clean_fields(["password"])
            validate_password(password)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        same(password, ask("The same again: ", hidden=True))
        return {
            "username": username,
            "called": called,
            "password": password,
            "role": role,
            # Whoever sits here, most likely the artist, may have typed it for them.
            "must_choose_password": role != Role.ARTIST,
            "must_set_up_codes": role in EVERY_TIME,
        }
