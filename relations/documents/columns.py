"""Two languages side by side: the columns of a paper, and its lines paired between them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import chain, zip_longest
from typing import NamedTuple

from relations.languages.digits import to_script
from relations.languages.direction import direction


class ClausesDifferError(ValueError):
    """The columns do not both hold the paper's clauses, in order, under the same numbers."""


class MarkupError(ValueError):
    """A wording holds the beginning of markup: the words of a paper are letters and signs only."""


class PaperClause(NamedTuple):
    """One clause in one language, as frozen."""

    key: str
    number: int
    heading: str
    text: str


@dataclass(frozen=True)
class Column:
    """One language of a paper: its clauses in order, its labels, its heading or none."""

    lang: str
    clauses: tuple[PaperClause, ...]
    labels: Mapping[str, str]
    heading: str = ""

    def __post_init__(self) -> None:
        """Raise MarkupError where a word could be taken for markup, escaped though all are."""
        said = chain(*((one.heading, one.text) for one in self.clauses), self.labels.values())
        if any("<" in words for words in (self.heading, *said)):
            raise MarkupError

    @property
    def direction(self) -> str:
        """Give "ltr" or "rtl", the way this language runs."""
        return direction(self.lang)

    def page_words(self, page: int, pages: int) -> str:
        """Give "side 1 of 2" in this language and in the digits of its script."""
        said = (to_script(str(number), self.lang) for number in (page, pages))
        return self.labels["page_of"].format(**dict(zip(("page", "pages"), said, strict=True)))


Pair = tuple[Column, Column]


class Cell(NamedTuple):
    """Words in one language with all that a template needs to set them."""

    lang: str
    direction: str
    order: str
    words: str
    more: str = ""


class Line(NamedTuple):
    """One line of a paper: its code and the same words in both languages."""

    code: str
    first: Cell
    second: Cell

    @property
    def cells(self) -> tuple[Cell, Cell]:
        """Give both cells, the sitter's language first."""
        return self.first, self.second


def line(columns: Pair, code: str, words: Iterable[tuple[str, str]]) -> Line:
    """Set one line; `words` gives, for each column in order, the words and what follows them."""
    first, second = (
        Cell(column.lang, column.direction, order, *said)
        for order, column, said in zip(("first", "second"), columns, words, strict=True)
    )
    return Line(code, first, second)


def labelled(columns: Pair, prefix: str, codes: Iterable[str]) -> list[Line]:
    """Give a line for each code, with the label `prefix` + code of both languages."""
    return [
        line(columns, code, [(column.labels[prefix + code], "") for column in columns])
        for code in codes
    ]


def clauses(columns: Pair, keys: tuple[str, ...]) -> dict[str, Line]:
    """Pair the clauses by key; ClausesDifferError unless both columns hold exactly `keys`."""
    lines = {}
    for pair in zip_longest(*(column.clauses for column in columns)):
        if None in pair or pair[0][:2] != pair[1][:2]:
            raise ClausesDifferError
        key, number = pair[0][:2]
        lines[key] = line(columns, str(number), [(said.heading, said.text) for said in pair])
    if tuple(lines) != keys:
        raise ClausesDifferError
    return lines
