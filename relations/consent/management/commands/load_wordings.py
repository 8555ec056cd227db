"""Takes the wordings that come with the site into the register, as drafts that nobody has read."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from relations.consent import actions
from relations.privacy.models import Role, User
from relations.privacy.opening import open_home


class Command(BaseCommand):
    help = "Take the shipped form wordings in as drafts; what is already there stays."

    def handle(self, *args: Any, **options: Any) -> None:
        open_home()
        artist = User.objects.in_role(Role.ARTIST).first()
        if artist is None:
            raise CommandError("There is no artist yet to answer for the drafts.")
        path = settings.BASE_DIR / "fixtures" / "wordings.json"
        taken = actions.load_wordings(path=path, by=artist)
        self.stdout.write(
            f"{len(taken)} wordings taken in as drafts; a second person must read each."
        )
