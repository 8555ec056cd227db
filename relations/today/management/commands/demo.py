"""Rehearses the site: fills a home with invented people once, and serves it."""

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from relations.privacy import tables
from relations.privacy.home import home
from relations.privacy.models import User
from relations.privacy.opening import make_home, open_home, share_home
from relations.privacy.server import serve
from relations.today.management import rehearsal


class Command(BaseCommand):
    help = "Fill the rehearsal home with invented people once, and serve it on this machine."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--no-serve", action="store_true", help="fill the home and stop")
        parser.add_argument("--port", type=int, default=8000)

    def handle(self, *args: Any, **options: Any) -> None:
        if home().keys.is_file():
            open_home(older_too=True)
        else:
            self.stdout.write(f"Making the rehearsal home in {home().root} …")
            make_home("rehearsal", {"open": "rehearsal"})
            share_home()
        # Also after a power cut: what was not filled whole was not filled at all.
        tables.bring_up()
        if not User.objects.exists():
            self.stdout.write("Filling it with the invented people of Port-Ozène …")
            self.stdout.write(f"{rehearsal.fill()} presses entered.")
        address = f"http://127.0.0.1:{options['port']}/"
        self.stdout.write(f"\nRehearsal: invented people. Do not add real ones here.\n{address}")
        for user in rehearsal.users():
            self.stdout.write(f"  {user['role']:<15} {user['username']:<12} {user['password']}")
        if not options["no_serve"]:
            self.stdout.write("Ctrl-C ends it.")
            serve(port=options["port"])
