"""What a hostile hand sends: every form that stands on a page, found there, and filled badly."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from http import HTTPStatus
from unittest import mock
from urllib.parse import urljoin, urlsplit
from xml.etree.ElementTree import Element

from django.forms import BaseForm
from django.urls import resolve
from django.utils.html import escape
from hypothesis import strategies as st

from tests.flows.hand import filled
from tests.house import headers
from tests.house.asking import Asked, Asker
from tests.house.pages import Page, table, wanted
from tests.parsed import parsed

MEGABYTE = 2**20
NOBODY = "00000000-0000-4000-8000-000000000000"
Pairs = list[tuple[bytes, bytes]]

# One line each; what is short enough must be given back as it was typed.
WORDS: tuple[str, ...] = (
    *("", " ", "x", "0", "-1", "²", "①", "½", "٣", "२०८३", "١٢٣٤٥٦٧", "1e400", "NaN", "-Infinity"),
    *("2147483648", "9223372036854775808", "-9223372036854775809", "9" * 200, "0x1f", "1_000"),
    *("0000-00-00", "0001-01-01", "9999-12-31", "10000-01-01", "2026-02-30", "31.4.2026", "2099"),
    *("32 Mangsir 2083 BS", "30/12/1448 AH", "31 मङ्सिर २०८३", "29/2/1405", "2026-11-23T25:61"),
    *("24:00", "23:59:60", "-1:-1", "99:99", "2026-W53-8", "1/1/1", "25.11.2026", "2026-11-25"),
    *("None", "null", "true", "on", "yes", "[]", '{"a": [1, null]}', "undefined", "__proto__"),
    *(NOBODY, NOBODY[:-1], NOBODY.replace("0", "g"), "-".join("123456"), "99999-99", "60022-64"),
    *("=1+1", "@SUM(A1)", "+1-1", "-2+3", "\\N", "%s %(x)s {0} %n", "{{ 7|add:7 }}", "{% now %}"),
    *("<script>alert(1)</script>", "<svg onload=alert(1)>", "\"'><b>&amp;&lt;", "]]>", "<!--"),
    *("' OR 1=1 --", "'; DROP TABLE people_name; --", "../../../etc/passwd", "..\\..\\x", "a/b"),
    *("//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example", "javascript:1"),
    *("06 39 98 00 07", "+33639980007", "+999999999999999", "tel:112", "a@b", "Ж" * 121, "ẞßıİ"),
    *(
        "الاسم",
        "नाम",
        "e" + "\u0301" * 3,
        "👨‍👩‍👧‍👦" * 3,
        "T" * 130,
        "word " * 90,
        "\u200d",
        "ﷺ" * 30,
    ),
)
# What no page can give back letter by letter: it is not to be seen, no text, or without measure.
RAW: tuple[bytes, ...] = (
    *(b"\0", b"a\0b", b"\x07\x1b[31m", b"a\r\nSet-Cookie: x=1", b"\x7f\x80", "\u0085".encode()),
    *(b"\xed\xa0\x80", b"\xff\xfe", b"\xc0\xaf", b"\xf4\x90\x80\x80", b"%u0041", b"\xe2\x82"),
    *("\u202eabc\u2066".encode(), "\u2068".encode() * 300, "\ufeff".encode(), "\u2028".encode()),
    *(b"e" + "\u0301".encode() * 9000, "\u1100".encode() * 9000, "ﷺ".encode() * 20_000),
    *(
        b"x" * MEGABYTE,
        b"9" * MEGABYTE,
        b" " * MEGABYTE,
        b"9" * 4400,
        b"-" * 60_000,
        b"1/" * 30_000,
    ),
    *(b"a-" * 30_000, "१".encode() * 20_000, b"a " * 40_000, b"a\n" * 40_000, b"(" * 40_000),
    *(b"1." * 30_000, b"<" * 60_000, b"&" * 60_000, "\u0646\u200c".encode() * 20_000),
)
GIVEN_BACK = 400  # letters up to which what was typed is looked for in the answer


# Names that no form has.
UNKNOWN: tuple[bytes, ...] = (b"__class__", b"id", b"pk", b"is_staff", b"\0", b"a[b]", b"", b"\xff")
TOKENS = ("token", "press")
NOT_GIVEN_BACK = {"hidden", "password", "file", "radio", "checkbox", "select", "submit"}


@dataclass
class Form:
    """One form as it stands on a page: where it is sent, by whom it can be, and its fields."""

    page: str
    address: str
    method: str
    base: dict[str, list[str]]
    kinds: dict[str, str]
    offered: dict[str, list[str]]
    roles: list[str] = field(default_factory=list)
    is_shown: bool = True  # or only what a press is checked by, where no page has it now

    @property
    def key(self) -> tuple[str, str, frozenset[str]]:
        """What makes it another form than its neighbours."""
        return self.page, self.method, frozenset(self.kinds)

    @property
    def files(self) -> list[str]:
        """Its fields that take a file."""
        return [name for name, kind in self.kinds.items() if kind == "file"]


def found(
    askers: Mapping[str, Asker], pages: Iterable[Page], samples: dict[str, str], *, all_roles: bool
) -> list[Form]:
    """Every form that stands on a page, or on what an empty press is answered with.

    Of each page only what the table of pages says is shown; to one role, or to `all_roles`. Where
    no form leads to a page that takes one, such as to a step whose hour has not come, the fields
    are those of the form that an empty press is checked by.
    """
    forms: dict[tuple[str, str, frozenset[str]], Form] = {}
    rows = table()
    for page in pages:
        row, address = rows[page.name], page.address(samples)
        for method, shown in (("GET", "200"), ("POST", "422")):
            seers = [who for who in askers if wanted(row[who], method) == shown]
            # What a page shows on looking stands on its answer to an empty press too.
            if method == "POST" and any(wanted(row[who], "GET") == "200" for who in seers):
                continue
            for who in seers if all_roles else sorted(seers, key=_FIRST.index)[:1]:
                for form in on(askers[who].ask(method, address), address):
                    known = forms.setdefault(form.key, form)
                    known.roles += [who] if who not in known.roles else []
    shown_at = {form.page for form in forms.values() if form.method == "POST"}
    for page in pages:
        senders = [who for who in askers if wanted(rows[page.name][who], "POST") == "422"]
        if page.name not in shown_at and senders:
            who = min(senders, key=_FIRST.index)
            for form in _checked(askers[who], page.name, page.address(samples)):
                form.roles.append(who)
                forms.setdefault(form.key, form)
    return list(forms.values())


def _checked(asker: Asker, page: str, address: str) -> Iterator[Form]:
    """The forms that an empty press is checked by, with the fields and choices they have."""
    checked: list[BaseForm] = []
    whole = BaseForm.full_clean

    def noting(form: BaseForm) -> None:
        if form.is_bound:  # a form beside it that only a GET fills is asked for its errors too
            checked.append(form)
        whole(form)

    with mock.patch.object(BaseForm, "full_clean", noting):
        asker.ask("POST", address)
    for form in checked:
        names = {form.add_prefix(name): field for name, field in form.fields.items()}
        kinds = {name: getattr(field.widget, "input_type", "text") for name, field in names.items()}
        offered = {
            name: [str(value) for value, _ in field.choices if isinstance(value, str | int)]
            for name, field in names.items()
            if hasattr(field, "choices")
        }
        base = {name: [NOBODY] for name in names if name == "token"}
        yield Form(page, address, "POST", base, kinds, offered, is_shown=False)


# Whom most is open to comes first.
_FIRST = ("artist", "keeper", "assistant", "wording_reader", "unseen", "stranger")


def on(asked: Asked, address: str) -> Iterator[Form]:
    is_shown = asked.status in {HTTPStatus.OK, HTTPStatus.UNPROCESSABLE_ENTITY}
    if not is_shown or asked.answer.streaming or b"<form" not in asked.answer.content:
        return
    for form in parsed(asked.answer.content.decode()).iter("form"):
        to = urljoin(address, form.get("action") or "")
        yield _read(form, resolve(urlsplit(to).path).view_name, to)


def _read(form: Element, page: str, address: str) -> Form:
    base = {
        name: [str(one) for one in (value if isinstance(value, list) else [value or ""])]
        for name, value in filled(form).items()
    }
    kinds: dict[str, str] = {}
    offered: dict[str, list[str]] = {}
    for one in form.iter():
        name = one.get("name")
        if not name or one.tag not in {"input", "select", "textarea", "button"}:
            continue
        kind = one.get("type") or ("text" if one.tag == "input" else str(one.tag))
        kinds[name] = "submit" if kind == "button" or one.tag == "button" else kind
        if kind in {"radio", "checkbox", "submit", "hidden"} or one.tag == "button":
            offered.setdefault(name, []).append(one.get("value") or "")
        elif one.tag == "select":
            offered[name] = [option.get("value") or "" for option in one.iter("option")]
    return Form(page, address, (form.get("method") or "get").upper(), base, kinds, offered)


def fillings(form: Form, known: list[str], longest: int = MEGABYTE) -> st.SearchStrategy[Pairs]:
    """Ways to fill a form badly; `known` are codes and keys of rows, of this page or of others.

    No value has more than `longest` bytes.
    Most fields are left as they stand or take a choice that is offered, so that what is bad in one
    is not hidden by what is bad in another; names are left out, sent twice and made up.
    """
    bad = st.one_of(
        st.sampled_from(WORDS).map(str.encode),
        st.sampled_from(RAW).map(lambda one: one[:longest]),
        st.sampled_from(known).map(str.encode),
        st.text(max_size=30).map(str.encode),
    )
    each = [_of_field(form, name, bad) for name in form.kinds if form.kinds[name] != "file"]
    more = st.lists(st.tuples(st.sampled_from(UNKNOWN), bad), max_size=1)
    return st.tuples(st.tuples(*each), more).map(
        lambda said: [pair for pairs in said[0] for pair in pairs] + said[1]
    )


def _of_field(form: Form, name: str, bad: st.SearchStrategy[bytes]) -> st.SearchStrategy[Pairs]:
    key, held = name.encode(), [one.encode() for one in form.base.get(name, [])]
    as_it_stands = st.just([(key, one) for one in held])
    fine = [one.encode() for one in form.offered.get(name, [])]
    choices = [as_it_stands]
    if form.kinds[name] not in TOKENS and fine:
        choices.append(st.sampled_from(fine).map(lambda one: [(key, one)]))
    if name == "token":
        choices *= 6  # else hardly anything is looked at
    choices.append(bad.map(lambda one: [(key, one)]))
    if name != "token":
        choices.append(bad.map(lambda one: [(key, one)]))
    choices.append(st.lists(bad, max_size=2).map(lambda many: [(key, one) for one in many]))
    return st.one_of(choices)


_UNSAFE = re.compile(rb"[^A-Za-z0-9_.~/-]+")


def encoded(pairs: Pairs) -> bytes:
    """A form's body as a browser writes it, of bytes that need not be any text."""
    return b"&".join(_quoted(name) + b"=" + _quoted(value) for name, value in pairs)


def _quoted(value: bytes) -> bytes:
    """As urllib does it, which takes half a second for a megabyte."""
    return _UNSAFE.sub(lambda found: b"%" + found[0].hex("%").encode(), value)


def press(asker: Asker, form: Form, pairs: Pairs) -> Asked:
    """Send a form so filled."""
    if form.method == "GET":
        # No server takes an address so long: waitress stops at 256 KiB of headers.
        said = encoded([(name, value[:20_000]) for name, value in pairs])
        return asker.ask("GET", f"{form.address.partition('?')[0]}?{said.decode()}")
    return asker.send(form.address, encoded(pairs), "application/x-www-form-urlencoded")


ACCEPTED = {HTTPStatus.OK, HTTPStatus.NO_CONTENT, HTTPStatus.FOUND}
REFUSED = {
    *(HTTPStatus.BAD_REQUEST, HTTPStatus.UNAUTHORIZED, HTTPStatus.FORBIDDEN, HTTPStatus.NOT_FOUND),
    *(HTTPStatus.METHOD_NOT_ALLOWED, HTTPStatus.CONFLICT, HTTPStatus.REQUEST_ENTITY_TOO_LARGE),
    *(HTTPStatus.UNPROCESSABLE_ENTITY, HTTPStatus.TOO_MANY_REQUESTS),
}


def faults(form: Form, pairs: Pairs, asked: Asked, spared: Mapping[str, set[str]]) -> Iterator[str]:
    """What is wrong with an answer to a form; `spared`: what a refusal may write, by page."""
    status = asked.status
    if status not in ACCEPTED | REFUSED:
        yield f"answered {status}"
    if status in REFUSED:
        for table in sorted(asked.stayed - spared.get(form.page, set())):
            yield f"answered {status} and yet wrote to {table}"
    to = asked.answer.headers.get("Location", "/")
    if not to.startswith("/") or to.startswith(("//", "/\\")):
        yield f"leads to {to}"
    yield from headers.faults(asked.answer.headers)
    # Where there is nothing to fill in, such as no print for the lab, nothing can be given back.
    if status == HTTPStatus.UNPROCESSABLE_ENTITY and form.method == "POST" and form.is_shown:
        yield from _lost(form, pairs, asked)


def _lost(form: Form, pairs: Pairs, asked: Asked) -> Iterator[str]:
    """What was typed into a field of words and is not on the page that asks for it again."""
    page = asked.answer.content.decode()
    sent: dict[str, list[str]] = {}
    for name, value in pairs:
        sent.setdefault(name.decode("utf-8", "replace"), []).append(
            value.decode("utf-8", "replace")
        )
    for name, kind in form.kinds.items():
        if kind == "hidden" and sent.get(name, []) != form.base.get(name, []):
            return  # nobody types what is hidden: it may say which form this is
    last = {name.decode("utf-8", "replace"): value for name, value in pairs}
    for name, value in last.items():
        if form.kinds.get(name, "hidden") in NOT_GIVEN_BACK or name in TOKENS:
            continue
        try:
            typed = value.decode()
        except UnicodeDecodeError:
            continue
        is_plain = typed.isprintable() and len(typed) <= GIVEN_BACK
        if is_plain and typed.strip() and escape(typed) not in page:
            yield f"{name}: {typed!r} is lost"


def shown(form: Form) -> str:
    """A form in words, for a message."""
    return f"{form.method} {form.page} ({', '.join(form.kinds)})"
