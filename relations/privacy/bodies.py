"""Bodies beyond what the server takes: read to their end, forgotten, and answered with a page."""

from typing import Any

from django.conf import settings
from django.template.loader import get_template
from django.utils import translation
from waitress.parser import HTTPRequestParser
from waitress.utilities import RequestEntityTooLarge

from .middleware import HEADERS

# A browser reads an answer only once it has sent all; whoever sends more than this meets a line
# that is cut. Nothing of it is kept, in memory or elsewhere.
FORGOTTEN_BYTES = 512 * 1024 * 1024


class TooLargeABody(RequestEntityTooLarge):  # type: ignore[misc] # waitress brings no types
    """The page that says so; it names nothing, since the home may be locked."""

    def __init__(self, languages: str) -> None:
        super().__init__("")
        self.languages = languages

    def to_response(self, ident: object = None) -> tuple[str, list[tuple[str, str]], bytes]:
        """Status, headers and body, as the server writes them."""
        known = dict(settings.LANGUAGES)
        wanted = [said.split(";")[0].split("-")[0].strip() for said in self.languages.split(",")]
        language = next((one for one in wanted if one in known), settings.LANGUAGE_CODE)
        with translation.override(language):
            megabytes = settings.UPLOAD_BYTES // 2**20
            page = get_template("privacy/too_large.html").render({"megabytes": megabytes})
        headers = [("Content-Type", "text/html; charset=utf-8"), *HEADERS.items()]
        return f"{self.code} {self.reason}", headers, page.encode()


class Parser(HTTPRequestParser):  # type: ignore[misc] # waitress brings no types
    """Reads a request; of a body that is too large it only counts the bytes."""

    error: Any
    _left = 0

    def received(self, data: bytes) -> int:
        """Take in the next bytes; how many of them belong to this request."""
        if self._left:
            taken = min(self._left, len(data))
            self._left -= taken
            self.completed = not self._left
            return taken
        consumed: int = super().received(data)
        if isinstance(self.error, RequestEntityTooLarge):
            self.error = TooLargeABody(_text(self.headers, "ACCEPT_LANGUAGE"))
            if not self.chunked and self.content_length <= FORGOTTEN_BYTES:
                self._left = self.content_length
                self.completed = False
        return consumed


def _text(headers: dict[str, Any], name: str) -> str:
    return str(headers.get(name, ""))
