"""Listen in on every test: what was rendered, and whether a name went where none may go."""

import logging
import re
from collections.abc import Iterator
from contextlib import contextmanager
from html import unescape
from pathlib import Path
from typing import Any
from unittest import mock
from urllib.parse import unquote_plus

from tests.house.cautions import CAUTIONS

# Where the register keeps what may never be said aloud: model -> fields.
SEALED_WORDS = {
    "people.Participant": ("call_name", "born_said"),
    "people.Name": ("text",),
    "people.PhoneLine": ("as_typed", "number", "note"),
    "people.Speaker": ("name", "way"),
    "people.OutsideIntroducer": ("label",),
}
SHORTEST = 3  # a shorter word is met by chance


class Recorder(logging.Handler):
    """One a session: the templates rendered so far, and what went wrong in the test at hand."""

    def __init__(self) -> None:
        super().__init__(level=logging.NOTSET)
        self.rendered: set[str] = set()
        self.words: set[str] = set()
        self.faults: list[str] = []

    @contextmanager
    def listening(self) -> Iterator[None]:
        """Hear saves, renderings, log lines and the test client's answers until the block ends."""
        from django.db.models.signals import post_save
        from django.test import signals
        from django.test.client import Client

        self.words, self.faults = set(), []
        request = Client.request

        def asked(client: Client, **environ: Any) -> Any:
            answer = request(client, **environ)
            self.hear_answer(environ, answer)
            return answer

        post_save.connect(self._saved)
        signals.template_rendered.connect(self._rendered)
        logging.getLogger().addHandler(self)
        try:
            with mock.patch.object(Client, "request", asked):
                yield
        finally:
            logging.getLogger().removeHandler(self)
            signals.template_rendered.disconnect(self._rendered)
            post_save.disconnect(self._saved)

    def hear_answer(self, environ: dict[str, Any], answer: Any) -> None:
        """Look at the address asked for, the address sent to, and the title."""
        asked = f"{environ.get('PATH_INFO', '')}?{environ.get('QUERY_STRING', '')}"
        self.look(asked, "the address asked for")
        self.look(answer.headers.get("Location", ""), "the address sent to")
        if "html" in answer.headers.get("Content-Type", "") and not answer.streaming:
            text = answer.content.decode(answer.charset or "utf-8", "replace")
            for title in re.findall(r"<title>(.*?)</title>", text, re.DOTALL):
                self.look(unescape(title), f"the title of {environ.get('PATH_INFO', '')}")
            self.hear_form(environ.get("PATH_INFO", ""), answer)

    def hear_form(self, address: str, answer: Any) -> None:
        """Note a fault where a form holds a field whose caution the page does not carry."""
        form = (getattr(answer, "context", None) or {}).get("form")
        shown = {template.name for template in getattr(answer, "templates", ())}
        for key, caution in CAUTIONS.items():
            asked = set(caution.fields).intersection(getattr(form, "fields", ()))
            if asked and f"_cautions/{key}.html" not in shown:
                self.faults.append(f"{address} asks for {asked} without the caution {key!r}")

    def look(self, said: str, where: str) -> None:
        """Note a leak for each sealed word that stands, as a whole word, in `said`."""
        plain = unquote_plus(unquote_plus(said)).casefold()
        for word in self.words:
            # Hardly anything holds one at all; only then is it asked whether it stands whole.
            if word in plain and re.search(rf"(?<!\w){re.escape(word)}(?!\w)", plain):
                self.faults.append(f"{word!r} stands in {where}: {said.strip()}")

    def emit(self, record: logging.LogRecord) -> None:
        trace = logging.Formatter().formatException(record.exc_info) if record.exc_info else ""
        self.look(f"{record.getMessage()} {trace}", f"a log line of {record.name}")

    def never_rendered(self, folder: Path) -> list[str]:
        """The templates under `folder` that nothing has rendered so far."""
        there = {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
        return sorted(there - self.rendered)

    def _saved(self, sender: Any, instance: Any, **_: Any) -> None:
        for field in SEALED_WORDS.get(sender._meta.label, ()):
            value = getattr(instance, field)
            if isinstance(value, str) and len(value.strip()) >= SHORTEST:
                self.words.add(value.strip().casefold())

    def _rendered(self, template: Any, **_: Any) -> None:
        self.rendered.add(str(template.name))
