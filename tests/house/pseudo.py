"""A made-up language: every letter of the site's own words is wide, so that none can be mistaken.

What is still plain on a page of it has never been marked for translation.
"""

import re
from collections.abc import Mapping
from pathlib import Path

from babel.messages.catalog import Catalog
from django.utils.translation import to_locale

from relations.languages import catalogues

WIDE = {code: code + 0xFEE0 for code in (*range(0x41, 0x5B), *range(0x61, 0x7B))}
# What stays as it is in a translation: values, tags, entities.
KEPT = re.compile(r"(%\(\w+\)[#0\- +]?\d*(?:\.\d+)?[a-zA-Z]|%[dsrf%]|\{\w*\}|<[^<>]+>|&#?\w+;)")


def spoken(words: str) -> str:
    """The words in the made-up language: each letter wide, all that must stay kept."""
    pieces = KEPT.split(words)
    return "".join(piece if at % 2 else piece.translate(WIDE) for at, piece in enumerate(pieces))


def catalogue(source: Catalog, code: str, *, head: Mapping[str, str] | None = None) -> Catalog:
    """Every string of the source in the made-up language, with as many plurals as `code` has."""
    made = Catalog(locale=code, charset="utf-8", header_comment="# To be read by nobody.")
    for name, value in (head or {}).items():
        made.mime_headers = [(name, value)]
    for message in source:
        if isinstance(message.id, str):
            said: str | tuple[str, ...] = spoken(message.id)
        else:
            said = tuple(spoken(message.id[min(at, 1)]) for at in range(made.num_plurals))
        if message.id:
            made.add(message.id, said, context=message.context)
    return made


def build(folder: Path, source: Catalog, code: str) -> None:
    """Write the built catalogue of the made-up language where Django looks for `code`."""
    path = folder / to_locale(code) / "LC_MESSAGES" / "django.mo"
    path.parent.mkdir(parents=True)
    path.write_bytes(catalogues.compiled(catalogue(source, code)))
