"""Who may interpret and who may witness: what speaks against each of them, as codes."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum


class Tie(StrEnum):
    """What somebody present is besides: it keeps them from being the witness."""

    ARTIST = "artist"
    ASSISTANT = "assistant"
    INTERPRETER = "interpreter"
    INTRODUCER = "introducer"
    KIN = "kin"
    EMPLOYER = "employer"


# By job and by house: kin and employer as those who may have power over the sitter.
NO_INTERPRETER = frozenset({Tie.KIN, Tie.INTRODUCER, Tie.EMPLOYER})
NO_WITNESS = frozenset(Tie)
# What is asked of each on a page, in its order; that none of ours is the witness is known.
ASKED = (Tie.KIN, Tie.INTRODUCER, Tie.EMPLOYER)


@dataclass(frozen=True, slots=True)
class Helps:
    """Somebody who interprets or witnesses for one person.

    `languages`: tags of what they speak, () where it is not known; `ties`: what they are to the
    person besides; `of_own_group`: of the person's own community, which is a tie unless the
    person agrees to it (`is_agreed`); `has_promised`: the promise to keep silent is signed.
    """

    initials: str
    ties: frozenset[Tie] = frozenset()
    languages: tuple[str, ...] = ()
    of_own_group: bool = False
    is_agreed: bool = False
    has_promised: bool = False


def warnings(
    interpreter: Helps | None, witness: Helps | None, spoken: tuple[str, ...] = ()
) -> tuple[str, ...]:
    """Give what speaks against those who are to help; () where nothing does.

    `spoken`: the languages of the person, the preferred one first. Codes: interpreter_tied (kin,
    introducer, employer), own_group (without the person's word), interpreter_language and
    witness_language (none of the person's), not_promised, witness_tied (those, and whoever
    interprets). A warning and no bar: a form given so is doubtful until a person settles it.
    Source: job.md rows 11 and 19.
    """
    return tuple(
        code
        for code, holds in (
            *_of_interpreter(interpreter, spoken),
            *_of_witness(witness, interpreter, spoken),
        )
        if holds
    )


def _of_interpreter(helps: Helps | None, spoken: tuple[str, ...]) -> Iterator[tuple[str, bool]]:
    if helps is not None:
        yield "interpreter_tied", bool(helps.ties & NO_INTERPRETER)
        yield "own_group", helps.of_own_group and not helps.is_agreed
        yield "interpreter_language", _is_foreign(helps, spoken)
        yield "not_promised", not helps.has_promised


def _of_witness(
    helps: Helps | None, interpreter: Helps | None, spoken: tuple[str, ...]
) -> Iterator[tuple[str, bool]]:
    if helps is not None:
        is_both = interpreter is not None and interpreter.initials == helps.initials
        yield "witness_tied", is_both or bool(helps.ties & NO_WITNESS)
        yield "witness_language", _is_foreign(helps, spoken)


def _is_foreign(helps: Helps, spoken: tuple[str, ...]) -> bool:
    """Whether it is known that they share no language; not known is no warning."""
    return bool(spoken and helps.languages) and not set(spoken) & set(helps.languages)
