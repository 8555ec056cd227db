"""Brings papers home from the command line: scans are split, turned and put to their forms."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from relations.consent import coming_home
from relations.consent.refusals import REFUSALS
from relations.consent.waiting import WAITING
from relations.documents.models import Page, Upload
from relations.documents.sorting import Place
from relations.privacy.models import Role, User
from relations.privacy.opening import open_home, place, word
from relations.privacy.refused import Refused

MIB = 1024 * 1024
# No bad line and no other request waits here, so that a whole scanner file of some five hundred
# pages is taken at once; it is held in memory three times over.
LARGEST_BYTES = 256 * MIB


class Command(BaseCommand):
    help = (
        "Take scans or photographs in, any pages in any order and turned any way, and put each to "
        "its form. What cannot be placed waits in the tray. Delete the files yourself afterwards."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("files", nargs="+", type=place, metavar="FILE")
        parser.add_argument("--by", type=word, help="who files them, by the name they sign in with")

    def handle(self, *args: Any, **options: Any) -> None:
        contents = [(path, self._content(path)) for path in options["files"]]
        open_home()
        user = self._user(options["by"])
        refused = 0
        for number, (path, content) in enumerate(contents, start=1):
            try:
                upload = self._bring(content, user)
            except Refused as error:
                refused += 1
                self.stderr.write(f"{path}: {' '.join(self._words(error))}")
            else:
                self.stdout.write(f"File {number}: {path}")
                self._tell(upload)
        if refused:
            raise CommandError(f"{refused} of {len(contents)} files were not taken.")

    def _content(self, path: Path) -> bytes:
        try:
            if path.stat().st_size > LARGEST_BYTES:
                raise CommandError(f"{path} is larger than {LARGEST_BYTES // MIB} MB. Part it.")
            return path.read_bytes()
        except OSError as error:
            raise CommandError(f"{path} cannot be read: {error.strerror}.") from error

    def _user(self, username: str | None) -> User:
        """Who is named, else the artist; nobody else files papers."""
        hands = User.objects.filter(role__in=[Role.ARTIST, Role.ASSISTANT], is_active=True)
        if username:
            found = hands.filter(username=username).first()
        else:
            found = hands.filter(role=Role.ARTIST).order_by("username").first()
        if found is None:
            raise CommandError("Only the artist and assistants file papers; name one with --by.")
        return found

    def _words(self, refused: Refused) -> list[str]:
        return [str(REFUSALS[code]) for code in refused.codes]

    def _bring(self, content: bytes, user: User) -> Upload:
        """Seal the file whole, then do it part by part, as the page does at each press."""
        upload = coming_home.receive(
            files=[content], by=user, at=timezone.now(), largest=LARGEST_BYTES
        )
        while upload.ended_at is None:
            seen = coming_home.look_on(upload)
            upload = coming_home.go_on(upload=upload, seen=seen, by=user, at=timezone.now())
            self.stdout.write(f"  {upload.looked} of {upload.count} pages looked at")
        return upload

    def _tell(self, upload: Upload) -> None:
        for paper in coming_home.came(upload):
            sides = ", ".join(map(str, paper.sides)) or "filed by hand"
            missing = ", ".join(map(str, paper.missing))
            self.stdout.write(
                f"  {paper.sheet.serial}: {sides}" + (f"; missing: {missing}" if missing else "")
            )
        pages = upload.pages.select_related("sheet")
        for page in pages.filter(place=Place.WAITING):
            self.stdout.write(f"  page {page.number}, in the tray: {self._waits(page)}")
        if twice := pages.filter(place=Place.TWICE).count():
            self.stdout.write(f"  {twice} pages were here already; they are kept once.")
        if gone := pages.filter(place=Place.NOT_KEPT).count():
            self.stdout.write(
                f"  {gone} pages are of papers that were erased; nothing of them was kept."
            )

    def _waits(self, page: Page) -> str:
        serial = f"{page.sheet.serial}. " if page.sheet else ""
        return f"{serial}{WAITING[page.why]}"
