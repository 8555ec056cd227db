"""Which words of a page stand where the direction of a neighbour can turn them.

Two readers, which share nothing: one of the templates, by the names of what they print, and one of
the pages that are answered, by words that were planted in the rows.
"""

import re
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser

from django.template.base import Lexer, TokenType

# The last name of what is printed, where it holds words that people wrote: fields of the models,
# and what the pages call them.
_WORDS = """
    address agreed_name agreed_word alt_text as_typed born_said by_hand call_name called company
    contact decided_by ended_why exit_signal fallback file_name files_with group heading holder
    initials instruction into_whose_hand label late_why may_say name not_needed_why note
    own_condition person_name place project quarter reach_holder read_back reason
    sentence starts_in text typed username when_to_come where why why_differs word
    word_at_the_door words
"""
WORDS = frozenset(_WORDS.split())
# What views and `with` call such words when they stand alone; other names alone are codes, counts
# and our own sentences.
_ALONE = "call_name called come gone helper holder instruction project sent_by speaker who"
# Printed without the filter, and why: none of these is set into a line of another direction.
OURS = {
    r"(.*\.)?(label|item\.label)": "what a field or a page is called, in our words",
    r"(cell|use|of|when|what|long|run|scope|one|entry|line|text|says|label|picture\.scope)\.words?"
    r"|(line|labels\.\w+|of|when|what|long|use)\.(first|second)\.words"
    r"|(titles|masked|more|line|part\.headings)\.0\.words": (
        "our own words, or a wording's in a cell that says its language and its direction"
    ),
    r"(wording|clause|pair\.other)\.(text|heading|words|read_back|name)(\|linebreaksbr)?": (
        "a wording in a part of the page that says its language and its direction"
    ),
    r"part\.heading|row\.kept\.why|column\.(name|note)": "the impact assessment, which is ours",
    r"(one|one\.appearance)\.place\|figures": "a number in a picture, from the left",
    r"(page|leak|asked)\.(word|why|where|way)\|(waits|where|asked_way)(\|capfirst)?": (
        "a code, said in our words"
    ),
    r'(gone|come)\|default_if_none:""\|figures': "what each of two people counted",
}
FILTERS = frozenset({"iso", "ltr"})
PAIR = re.compile(r"(\w+)=((?:\"[^\"]*\"|[^\s\"])+)")
SENTENCE = re.compile(r"blocktrans(late)?\b")
# `{% whom code as who %}`: what a tag of ours makes is set apart by it.
MADE = re.compile(r"^(?!translate).* as (\w+)$")

# Elements that hold nothing but what was typed.
ALONE = frozenset({"option", "textarea", "text", "tspan"})
NOT_SHOWN = frozenset({"script", "style", "title"})
_VOID = "area base br col embed hr img input link meta source track use wbr"
VOID = frozenset(_VOID.split())
ISOLATED = re.compile("[\u2066-\u2068][^\u2066-\u2069]*\u2069")


def bare_prints(template: str) -> Iterator[str]:
    """Every expression of a template that prints a person's words without the filter.

    What `with` passes on bare is followed under its new name, and what a sentence to translate
    takes in is looked at where it is handed over. Attributes are left out.
    """
    alone, taken, around = set(_ALONE.split()), set[str](), ""
    for token in Lexer(template).tokenize():
        said = token.contents
        if token.token_type is TokenType.TEXT:
            around = (around + said)[-4000:]
        elif token.token_type is TokenType.VAR:
            is_value = around.rfind("<") > around.rfind(">")
            if not is_value and said not in taken and _is_bare(said, alone):
                yield said
        elif token.token_type is TokenType.BLOCK:
            pairs = PAIR.findall(said)
            alone -= set(MADE.findall(said))
            if said.startswith("endblocktrans"):
                taken = set()
            elif SENTENCE.match(said):
                taken = {name for name, _value in pairs}
                yield from (f"{name}={value}" for name, value in pairs if _is_bare(value, alone))
            elif said.startswith("with "):
                alone |= {name for name, value in pairs if _is_bare(value, alone)}


def _is_bare(said: str, alone: set[str]) -> bool:
    """Whether an expression is a person's words, unfiltered, and none of ours."""
    name, *filters = said.split("|")
    *of, last = name.strip().split(".")
    if last not in (WORDS if of else alone) or {one.split(":")[0] for one in filters} & FILTERS:
        return False
    return not any(re.fullmatch(ours, said) for ours in OURS)


class _Reader(HTMLParser):
    """Goes through a page and keeps each text that holds a word outside any isolation."""

    def __init__(self, words: Iterable[str]) -> None:
        super().__init__(convert_charrefs=True)
        self.words = tuple(words)
        self.open: list[tuple[str, bool]] = []
        self.found: dict[str, None] = {}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in VOID:
            self.open.append((tag, tag == "bdi" and dict(attrs).get("dir") in {"ltr", "rtl"}))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Nothing stands in an element that is closed where it is opened."""

    def handle_endtag(self, tag: str) -> None:
        while any(name == tag for name, _is_isolated in self.open):
            if self.open.pop()[0] == tag:
                break

    def handle_data(self, data: str) -> None:
        tags = {name for name, _is_isolated in self.open}
        if tags & NOT_SHOWN or any(is_isolated for _name, is_isolated in self.open):
            return
        bare = ISOLATED.sub("", data).strip()
        if any(word in bare and not (tags & ALONE and bare == word) for word in self.words):
            self.found[" ".join(data.split())] = None


def loose(page: str, words: Iterable[str]) -> list[str]:
    """Each text of a page that holds one of the words outside `<bdi dir>` and outside isolates.

    Values, titles and other attributes are not looked at: a browser sets each of them on its own.
    """
    reader = _Reader(words)
    reader.feed(page)
    reader.close()
    return list(reader.found)
