"""Serves a real home."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection

from relations.privacy import durable
from relations.privacy.home import home
from relations.privacy.opening import open_home, share_home
from relations.privacy.server import serve, watch_over
from relations.privacy.workers import MOST


class Command(BaseCommand):
    help = "Open the home with its passphrase and serve it; unused for a while it locks itself."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument(
            "--locked",
            action="store_true",
            help="start locked; the passphrase is then typed into the unlocking page",
        )
        parser.add_argument(
            "--workers",
            type=int,
            default=1,
            metavar="N",
            help="so many processes answer, each with the key; needs a register on PostgreSQL",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if not home().keys.is_file():
            raise CommandError(f"There is no home at {home().root} yet. Run: manage.py begin")
        if home().is_rehearsal:
            raise CommandError("These keys open themselves: a rehearsal. Run: manage.py demo")
        self._refuse_workers(options["workers"])
        # Parted before anything is opened: the half that watches never holds the key.
        locked = watch_over(locked=options["locked"])
        share_home()
        if not locked:
            open_home()
        if not locked or connection.vendor == "postgresql":  # a locked register cannot be asked
            self._refuse_a_forgetful_database()
        host, port = options["host"], options["port"]
        self.stdout.write(f"http://{host}:{port}/  (Ctrl-C ends it)")
        serve(host, port, settings.RELATIONS_IDLE_MINUTES, options["workers"])

    def _refuse_workers(self, count: int) -> None:
        if not 1 <= count <= MOST:
            raise CommandError(f"--workers must be from 1 to {MOST}.")
        if count > 1 and connection.vendor != "postgresql":
            raise CommandError(
                "Several workers need a register on PostgreSQL (RELATIONS_DATABASE_URL): the "
                "embedded one has one writer, and one process serves it best. Leave --workers out."
            )

    def _refuse_a_forgetful_database(self) -> None:
        if forgets := durable.forgets():
            raise CommandError(
                "The database may lose what a page has acknowledged. Set right: "
                + ", ".join(forgets)
            )
