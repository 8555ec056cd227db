"""Catalogues of translations: every string of the site, the defects of a .po, the .mo built.

Babel only, no Django: a template is read by the few shapes that hold words in it
({% translate %}, {% blocktranslate %} and _("…") inside any tag).
"""

import os
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from gettext import c2py
from io import BytesIO
from pathlib import Path

from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract as babel_extract
from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileError, read_po

from .direction import hidden_characters

# What xgettext calls keywords, for the names Django's gettext functions go by.
KEYWORDS: dict[str, tuple[int | tuple[int, str], ...] | None] = {
    "_": None,
    "gettext": None,
    "gettext_lazy": None,
    "gettext_noop": None,
    "ngettext": (1, 2),
    "ngettext_lazy": (1, 2),
    "pgettext": ((1, "c"), 2),
    "pgettext_lazy": ((1, "c"), 2),
    "npgettext": ((1, "c"), 2, 3),
    "npgettext_lazy": ((1, "c"), 2, 3),
}
Key = str | tuple[str, ...]

TAG = re.compile(r"\{%\s*(.*?)\s*%\}|\{\{\s*(.*?)\s*\}\}|\{#.*?#\}", re.DOTALL)
QUOTED = r""""(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*'"""
TRANSLATE = re.compile(rf"trans(?:late)?\s+({QUOTED})(.*)", re.DOTALL)
CONTEXT = re.compile(rf"\bcontext\s+({QUOTED})")
INLINE = re.compile(rf"_\(\s*({QUOTED})\s*\)")
SLOT = re.compile(r"%\((\w+)\)[#0\- +]?\d*(?:\.\d+)?[diouxXeEfFgGcrs]|%[dsrf]|\{(\w*)\}")
ANY_NAMED = re.compile(r"%\((\w+)\)")
LETTERS = re.compile(r"[^\W\d_]{2,}")
# CLDR's names of plural forms, in the order in which a .po counts those that a language has.
PLURALS = ("zero", "one", "two", "few", "many", "other")
# A form that CLDR keeps for a million and more, as "many" in French, is no form of a .po.
COUNTED = range(1000)
# A comment of the translator on a word that is the same in both languages, such as "Page".
SAME = "same word"


@dataclass(frozen=True, slots=True)
class Problem:
    """One defect of a .po: its code and the msgid it stands at ("" for the header)."""

    code: str
    msgid: str

    def __str__(self) -> str:
        return f"{self.code}: {self.msgid!r}"


def extract(root: Path, folders: Iterable[str] = ("relations", "templates")) -> Catalog:
    """Collect every translatable string of the .py and .html files below `root`/`folders`.

    Locations are relative to `root`. Plural strings have a pair as their id. A keyword called
    with something that is no literal is no string and is left out, as xgettext does.
    """
    catalogue = Catalog(charset="utf-8")
    for folder in folders:
        for path in sorted((root / folder).rglob("*")):
            if path.suffix not in {".py", ".html"} or "migrations" in path.parts:
                continue
            strings = _of_python if path.suffix == ".py" else _of_template
            place = path.relative_to(root).as_posix()
            for line, context, key in strings(path):
                catalogue.add(key, locations=[(place, line)], context=context)
    return catalogue


def _of_python(path: Path) -> Iterator[tuple[int, str | None, Key]]:
    with path.open("rb") as source:
        for line, found, _comments, context in babel_extract("python", source, keywords=KEYWORDS):
            yield line, context, found


def _of_template(path: Path) -> Iterator[tuple[int, str | None, Key]]:
    """Give line, context and string of each word of a template, in the order they stand."""
    text = path.read_text("utf-8")
    block: tuple[int, str, int] | None = None
    for match in TAG.finditer(text):
        inside, line = match[1] or match[2] or "", text.count("\n", 0, match.start()) + 1
        if block is None:
            for inline in INLINE.finditer(inside):
                yield line, None, _bare(inline[1])
        word = inside.partition(" ")[0]
        if block is None and (said := TRANSLATE.match(inside)):
            yield line, _context(said[2]), _bare(said[1])
        elif block is None and word in {"blocktranslate", "blocktrans"}:
            block = (line, inside, match.end())
        elif block and word in {"endblocktranslate", "endblocktrans"}:
            yield block[0], _context(block[1]), _of_block(text[block[2] : match.start()], block[1])
            block = None


def _bare(quoted: str) -> str:
    """A quoted word as Django reads it; a lone % is doubled, as Django's own tool does."""
    body = quoted[1:-1].replace("\\" + quoted[0], quoted[0]).replace("\\\\", "\\")
    return body.replace("%", "%%")


def _context(rest: str) -> str | None:
    found = CONTEXT.search(rest)
    return found[1][1:-1] if found else None


def _of_block(body: str, opening: str) -> Key:
    """The id of a blocktranslate: its values as %(name)s, trimmed where it says so."""
    parts = re.split(r"\{%\s*plural\s*%\}", body)
    trimmed = re.search(r"\btrimmed\b", opening)
    ids = []
    for part in parts:
        said = re.sub(r"\s*\n\s*", " ", part.strip()) if trimmed else part
        said = said.replace("%", "%%")
        ids.append(re.sub(r"\{\{\s*(.*?)\s*\}\}", r"%(\1)s", said))
    return tuple(ids) if len(ids) > 1 else ids[0]


def read(path: Path) -> Catalog:
    """Read a .po; the language stands in its header. ValueError where it cannot be parsed."""
    with path.open("rb") as source:
        try:
            return read_po(source, abort_invalid=True)
        except PoFileError as error:
            raise ValueError(str(error)) from error


def problems(po: Catalog, template: Catalog | None = None) -> list[Problem]:
    """List the defects of a translation; with `template` also what is missing or left over.

    Codes: no_language, plural_header, fuzzy, untranslated, plural_forms, slots, line_break,
    hidden, same, missing, left_over. Source: the planted defects of languages.md 2.3, most of
    which the common tools let through.
    """
    if po.locale is None:
        found = [Problem("no_language", "")]
    else:
        found = [] if _counts_as_cldr(po, po.locale) else [Problem("plural_header", "")]
    alone = _of_one_number(po)
    for message in po:
        if message.id:
            codes = _codes(message, po.num_plurals, alone)
            found += [Problem(code, _first(message)) for code in codes]
    if template is not None:
        have = {(message.context, message.id) for message in po if message.id}
        want = {(message.context, message.id) for message in template if message.id}
        for code, keys in (("missing", want - have), ("left_over", have - want)):
            found += [Problem(code, msgid) for msgid in sorted(_text(key) for _, key in keys)]
    return found


def _counts_as_cldr(po: Catalog, locale: Locale) -> bool:
    """Whether Plural-Forms puts every number into the form that CLDR puts it into.

    Babel's own table, which stands in where the header is silent, swaps two forms of Arabic.
    """
    named = [locale.plural_form(n) for n in COUNTED]
    order = [name for name in PLURALS if name in named]
    try:
        chosen = c2py(po.plural_expr)
    except ValueError:
        return False
    said = [int(chosen(n)) for n in COUNTED]
    return po.num_plurals == len(order) and said == [order.index(name) for name in named]


def _text(key: Key | list[str]) -> str:
    return key if isinstance(key, str) else key[0]


def _first(message: Message) -> str:
    return _text(message.id)


def _of_one_number(po: Catalog) -> frozenset[int]:
    """The plural forms that a single number takes: its words may say it, as a dual does."""
    try:
        chosen = c2py(po.plural_expr)
    except ValueError:
        return frozenset()
    taken = Counter(int(chosen(n)) for n in COUNTED)
    return frozenset(form for form, times in taken.items() if times == 1)


def _codes(message: Message, plurals: int, alone: frozenset[int]) -> list[str]:
    """Codes of the defects of one message, each once, in a fixed order."""
    ids = [message.id] if isinstance(message.id, str) else list(message.id)
    said = [message.string] if isinstance(message.string, str) else list(message.string or ())
    if message.fuzzy:
        return ["fuzzy"]
    if not any(said):
        return ["untranslated"]
    checks = {
        "plural_forms": len(said) != (plurals if len(ids) > 1 else 1) or not all(said),
        "slots": not all(
            _slots_agree(ids, text, is_counted=len(ids) > 1 and form in alone)
            for form, text in enumerate(said)
            if text
        ),
        "line_break": any(_ends(text) != _ends(ids[0]) for text in said),
        "hidden": any(hidden_characters(text, lines=True) for text in said),
        "same": said[0] == ids[0]
        and bool(LETTERS.search(SLOT.sub("", ids[0])))
        and SAME not in message.user_comments,
    }
    return [code for code, is_wrong in checks.items() if is_wrong]


def _slots(text: str) -> list[str]:
    return sorted(match[0] for match in SLOT.finditer(text.replace("%%", "")))


def _slots_agree(ids: list[str], text: str, *, is_counted: bool = False) -> bool:
    """Whether the values in `text` are those of one of the ids, each whole.

    One may be left out where `is_counted`: the number that the words of this form say themselves.
    """
    found = _slots(text)
    whole = len(ANY_NAMED.findall(text.replace("%%", ""))) == sum(
        slot.startswith("%(") for slot in found
    )
    asked = [_slots(key) for key in ids]
    if is_counted:
        asked += [slots[:at] + slots[at + 1 :] for slots in asked for at in range(len(slots))]
    return whole and found in asked


def _ends(text: str) -> tuple[bool, bool]:
    return text.startswith("\n"), text.endswith("\n")


def compiled(po: Catalog) -> bytes:
    """The .mo of a catalogue, ready to be written beside its .po."""
    built = BytesIO()
    write_mo(built, po)
    return built.getvalue()


def build(path: Path) -> int:
    """Write the .mo beside a .po and count its strings; ValueError names every defect.

    The .mo appears at once and whole: two processes may build the same one.
    """
    po = read(path)
    if found := problems(po):
        raise ValueError("\n".join(map(str, found)))
    aside = path.with_suffix(f".{os.getpid()}.new")
    aside.write_bytes(compiled(po))
    aside.replace(path.with_suffix(".mo"))
    return len(po)
