"""Everything a role is answered, page by page, and what of it can be read in any writing."""

import io
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from html import unescape
from itertools import product
from urllib.parse import unquote_plus

import pikepdf
import pypdfium2

from tests.house.asking import Asked, Asker
from tests.house.fields import OPENED_AT, READERS, Row
from tests.house.pages import Page, table, wanted
from tests.house.planted import SECOND, Needle, Planted

LOG = "privacy_accessentry"
WAYS = ("GET", "typed", "POST")
TABLE = table()
CODE = "people.Participant.code"
# An assistant's first page of the day brings into sight whoever its work is about.
BRINGS_INTO_SIGHT = {("today:today", "unseen")}
# Reached by typing a code that somebody told: the page says again which one was typed.
TYPED_BEFORE = {"rights:erase_whom"}


class Writings:
    """What stands in an answer, in every writing; each thing is looked for once."""

    def __init__(self, head: str, body: bytes) -> None:
        text = f"{head}\n{body.decode('utf-8', 'ignore')}\n{_of_pdf(body)}"
        plain = unescape(text)
        # Headers and body as sent, and once more without HTML's and addresses' own writing.
        written = dict.fromkeys((text, plain, unquote_plus(plain), unquote_plus(head)))
        said = "\n".join(unicodedata.normalize("NFC", one) for one in written)
        self.said = said.encode()
        self._found: dict[Needle, bool] = {}

    def hold(self, needle: Needle) -> bool:
        """Whether a word can be read here, or what a pattern means."""
        if needle not in self._found:
            self._found[needle] = (
                needle in self.said
                if isinstance(needle, bytes)
                else needle.search(self.said) is not None
            )
        return self._found[needle]


# Most of what a role is answered is the same refusal, again and again.
_writings = cache(Writings)


@dataclass
class Seen:
    """One answer to one role: the page, how it was asked, and all it can be read for."""

    page: str
    method: str
    address: str
    asked: Asked

    @cached_property
    def read(self) -> "Writings":
        """All it can be read for, shared by the answers that say the same."""
        head = "\n".join(f"{name}: {value}" for name, value in self.asked.answer.headers.items())
        body = b"".join(self.asked.answer) if self.asked.answer.streaming else self.asked.plain
        return _writings(head, body)

    def holds(self, needle: Needle) -> bool:
        """Whether it can be read here: a file by its bytes, a word in any writing."""
        is_read = self.read.hold(needle)
        return is_read or (isinstance(needle, bytes) and needle in self.asked.answer.content)

    @property
    def is_paper(self) -> bool:
        """Whether it is a PDF, which holds the hour at which it was made."""
        return self.asked.answer.headers.get("Content-Type") == "application/pdf"

    @property
    def is_noted(self) -> bool:
        """Whether that it was opened stands in the access log."""
        return LOG in self.asked.written


def _of_pdf(body: bytes) -> str:
    """The text and the metadata of a PDF; nothing of anything else."""
    if not body.startswith(b"%PDF"):
        return ""
    document = pypdfium2.PdfDocument(body)
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    with pikepdf.open(io.BytesIO(body)) as pdf:
        about = [str(value) for value in pdf.docinfo.values()]
        about.append(pdf.Root.Metadata.read_bytes().decode() if "/Metadata" in pdf.Root else "")
    return "\n".join([text, *about])


def addresses(
    page: Page, samples: Mapping[str, str], more: Mapping[str, Iterable[str]]
) -> Iterator[str]:
    """The addresses of a page about each of the two people and each of the further rows."""
    room = page.name.split(":")[0]
    choices = []
    for name, _kind in page.parameters:
        keys = (f"{page.name}:{name}", f"{room}:{name}", name)
        first = next((samples[key] for key in keys if key in samples), None)
        others = [value for key in keys for value in more.get(key, ())]
        values = [first, *others] if first else [None]
        choices.append([(name, value) for value in dict.fromkeys(values)])
    for chosen in product(*choices):
        own = {f"{page.name}:{name}": value for name, value in chosen if value is not None}
        yield page.address({**samples, **own})


def crawl(
    asker: Asker,
    pages: Iterable[Page],
    planted: Planted,
    methods: Iterable[str] = WAYS,
    *,
    is_whole: bool = False,
) -> Iterator[Seen]:
    """Every page about each of the two people; `typed` is a POST with somebody's code in it.

    But where all `is_whole`, what is refused whole is asked once, for it is refused before anybody
    is asked about, which test_pages.py holds; and a form that what was typed shows again is not
    sent empty beside that.
    """
    typed = dict.fromkeys(("code", "person", "typed", "press"), SECOND)
    for page in pages:
        refused = frozenset[str]() if is_whole else _refused(page, asker)
        for at, address in enumerate(addresses(page, planted.samples, planted.more)):
            is_shown_again = False
            for method in methods:
                if at and (method == "typed" or method in refused):
                    continue
                if method == "POST" and (is_shown_again or method in refused):
                    continue
                verb, data = ("POST", typed) if method == "typed" else (method, None)
                sent = asker.ask(verb, address, data)
                is_shown_again = not is_whole and method == "typed" and sent.outcome == "422"
                sent.answer.context = None  # every row that was shown: too much to keep
                yield Seen(page.name, method, address, sent)


def _refused(page: Page, asker: Asker) -> frozenset[str]:
    """The ways of asking that the page refuses to this role whatever it is about."""
    role = asker.user.role if asker.user else ""
    if role not in getattr(page.view, "roles", (role,)):
        return frozenset(WAYS)
    row = TABLE.get(page.name)
    is_for_looking = row is not None and wanted(row[asker.who], "POST") == "405"
    return frozenset({"POST", "typed"} if is_for_looking else ())


def leaks(row: Row, needle: Needle, seen: Mapping[str, list[Seen]]) -> Iterator[str]:
    """Where a role is answered more, or less, than its letter says; the cell in words."""
    for who in READERS:
        letter = row.cells[who]
        found = [one for one in seen[who] if one.holds(needle)]
        for one in found:
            is_given_back = row.field == CODE and (
                one.method == "typed" or one.page in TYPED_BEFORE
            )
            if is_given_back or (one.page, who) in BRINGS_INTO_SIGHT:
                continue
            if wrong := _wrong(row, letter, one):
                yield f"{row.what}, {who}: {letter}, but {wrong} {one.page} ({one.method})"
        if letter in "Rr" and not found:
            yield f"{row.what}, {who}: {letter}, but it is on no page"


def _wrong(row: Row, letter: str, one: Seen) -> str:
    if letter in ("-", "own"):
        return "stands on"
    if letter == "r" and one.page not in OPENED_AT[row.field].split():
        return "is open on"
    return "is not noted when opened on" if letter == "r" and not one.is_noted else ""
