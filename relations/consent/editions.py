"""How far the words of a paper have come in a language, and whether a form may be printed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from .values import ClauseState


class Stand(NamedTuple):
    """Where one clause stands, how far it came, and on which edition of the project's own words."""

    number: int
    state: ClauseState
    edition: int


@dataclass(frozen=True, slots=True)
class Text:
    """A wording as these rules ask it; clauses by name, editions counted from 1."""

    language: str
    is_frozen: bool
    lines_edition: int  # of the words on the lines
    clauses: Mapping[str, Stand]

    @property
    def is_ready(self) -> bool:
        """Whether a second person has read the whole of it."""
        return is_ready(self.is_frozen, (stand.state for stand in self.clauses.values()))


def is_ready(is_frozen: bool, states: Iterable[ClauseState]) -> bool:
    """Whether a wording is frozen, has clauses, and a second person has read each of them."""
    return is_frozen and set(states) == {ClauseState.APPROVED}


@dataclass(frozen=True, slots=True)
class Reading:
    """What is known when somebody approves a clause, keeps its reading back, or sends it back."""

    is_frozen: bool
    knows_language: bool
    wrote_it: bool
    has_read_back: bool
    was_sent_back: bool  # and was not written anew since
    is_behind: bool  # the project's own words have changed since it was translated


def reader_codes(said: Reading) -> tuple[str, ...]:
    """Why somebody may not read this clause as its second person; empty where they may."""
    holds = {
        "frozen": said.is_frozen,
        "not_your_language": not said.knows_language,
        "same_person": said.wrote_it,
    }
    return tuple(code for code, is_so in holds.items() if is_so)


def reading_codes(said: Reading) -> tuple[str, ...]:
    """Why nobody can say now what a clause says; empty where they can.

    The codes of `reader_codes`, then "sent_back" where it must be written anew first and
    "source_moved" where it follows an older edition.
    """
    if codes := reader_codes(said):
        return codes
    if said.was_sent_back:
        return ("sent_back",)
    return ("source_moved",) if said.is_behind else ()


def approval_codes(said: Reading) -> tuple[str, ...]:
    """Why a clause cannot be approved now; empty where it can.

    The codes of `reading_codes`, then "not_read_back" where nobody has yet said back what it says
    (WHO, process of translation; by way of languages.md 7).
    """
    return reading_codes(said) or (() if said.has_read_back else ("not_read_back",))


def printing_codes(first: Text, second: Text) -> tuple[str, ...]:
    """Why no form may be printed in these two languages; empty where it may.

    "first_unread", "second_unread": a clause was approved by nobody, or the whole was not frozen.
    "same_language", "clauses_differ". "editions_differ": both were read, but not on the same
    edition of the project's own words (languages.md 7).
    """
    unread = [
        f"{which}_unread"
        for which, text in (("first", first), ("second", second))
        if not text.is_ready
    ]
    if unread:
        return tuple(unread)
    if codes := pair_codes(first, second):
        return codes
    is_same = first.lines_edition == second.lines_edition and all(
        stand.edition == second.clauses[name].edition for name, stand in first.clauses.items()
    )
    return () if is_same else ("editions_differ",)


def pair_codes(first: Text, second: Text) -> tuple[str, ...]:
    """Why two wordings cannot stand beside each other at all, not even on a proof."""
    if first.language == second.language:
        return ("same_language",)
    places = [{name: one.number for name, one in text.clauses.items()} for text in (first, second)]
    return () if places[0] == places[1] else ("clauses_differ",)


def behind(editions: Mapping[str, int], source: Mapping[str, int]) -> frozenset[str]:
    """The names of the clauses that follow another edition than the project's own words now."""
    return frozenset(
        name for name, edition in editions.items() if source.get(name, edition) != edition
    )
