"""A browser without a screen: it keeps cookies, follows redirects and fills in forms."""

import re
import urllib.error
import urllib.request
from dataclasses import dataclass, field
from html import unescape
from http.cookiejar import CookieJar
from urllib.parse import urlencode

EDGE = "edge-of-a-part"
HIDDEN = re.compile(r"<input[^>]*type=\"hidden\"[^>]*>")


@dataclass(frozen=True)
class Answer:
    """What came back: the status, where one was led to, and the body."""

    status: int
    address: str
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode("utf-8", "replace")


class _Stays(urllib.request.HTTPRedirectHandler):
    """Goes nowhere by itself."""

    def redirect_request(self, *_: object) -> None:
        return None


@dataclass
class Browser:
    """Speaks to a server on this machine as one visitor."""

    port: int
    jar: CookieJar = field(default_factory=CookieJar)
    follows: bool = True  # else an answer that leads on is itself the answer

    def ask(self, path: str, body: bytes | None = None, kind: str = "") -> Answer:
        """GET a path, or POST a body of a kind to it; a refusal is an answer too."""
        headers = {"Content-Type": kind} if kind else {}
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}{path}", body, headers)
        more = [] if self.follows else [_Stays()]
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar), *more)
        try:
            with opener.open(request, timeout=120) as answer:
                return Answer(answer.status, answer.url, answer.read())
        except urllib.error.HTTPError as refusal:
            with refusal:
                led = refusal.headers.get("Location", refusal.url)
                return Answer(refusal.code, led, refusal.read())

    def send(self, path: str, **said: str) -> Answer:
        """Fill in the form of a page and send it; what the page hides in it goes along."""
        return self.ask(path, *self.filled(path, **said))

    def filled(self, path: str, **said: str) -> tuple[bytes, str]:
        """The form of a page, filled in, as it would be sent: the body and its kind."""
        body = urlencode(self.hidden(path) | said).encode()
        return body, "application/x-www-form-urlencoded"

    def send_file(self, path: str, name: str, content: bytes, kind: str, **said: str) -> Answer:
        """The same with a file in the field `name`."""
        return self.ask(path, *self.filled_with_file(path, name, content, kind, **said))

    def filled_with_file(
        self, path: str, name: str, content: bytes, kind: str, **said: str
    ) -> tuple[bytes, str]:
        """The same as `filled`, with a file in the field `name`."""
        parts = [
            f'--{EDGE}\r\nContent-Disposition: form-data; name="{key}"\r\n\r\n{value}\r\n'.encode()
            for key, value in (self.hidden(path) | said).items()
        ]
        parts.append(
            f'--{EDGE}\r\nContent-Disposition: form-data; name="{name}"; filename="scan"\r\n'
            f"Content-Type: {kind}\r\n\r\n".encode()
            + content
            + f"\r\n--{EDGE}--\r\n".encode()
        )
        return b"".join(parts), f"multipart/form-data; boundary={EDGE}"

    def hidden(self, path: str) -> dict[str, str]:
        """What the form in the main part of a page carries unseen."""
        page = self.ask(path).text
        main = page.partition("<main")[2] or page
        found = {}
        for tag in HIDDEN.findall(main):
            told = dict(re.findall(r"(name|value)=\"([^\"]*)\"", tag))
            found[told["name"]] = unescape(told.get("value", ""))
        return found
