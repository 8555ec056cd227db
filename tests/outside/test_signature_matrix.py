"""Who must sign what, against published rules; [T] read in the text, [M] from memory.

Where the house asks more than a source, the test says so: a relative or the interpreter is
never the witness here, though some sources allow the interpreter.
"""

from dataclasses import replace

import pytest

from relations.consent.completeness import (
    Authority,
    Doubt,
    Guardian,
    Missing,
    Way,
    complete,
    doubtful,
)
from relations.meetings.helping import Tie
from tests.consent.givings import SIGNED

WITNESSED = replace(
    SIGNED,
    way=Way.MARK_AND_WITNESS,
    can_read=False,
    was_read_aloud=True,
    witness="w",
    witness_signed=True,
    witness_stayed=True,
    witness_reads=True,
)
PARENT = Guardian(Authority.PARENT, has_signed=True)
CHILD = replace(
    SIGNED,
    way=Way.CHILD,
    can_read=False,
    has_mark=False,
    guardians=(PARENT, PARENT),
    childs_own_words=True,
    child_heard_apart=True,
)


def test_who_reads_their_own_language_signs_alone() -> None:
    assert complete(SIGNED) == ()
    assert complete(replace(SIGNED, has_mark=False)) == (Missing.MARK,)


def test_form_in_another_language_is_not_complete() -> None:
    # [T] OPRR memo, 9 November 1995: the short form is in the person's language.
    assert complete(replace(SIGNED, is_in_own_language=False)) == (Missing.OWN_LANGUAGE,)


def test_form_may_be_read_aloud_and_a_copy_is_given() -> None:
    # [T] 45 CFR 46.117(b)(1), 2018 rule; ICH E6(R3): everyone receives a copy.
    assert complete(WITNESSED) == ()
    assert complete(replace(WITNESSED, was_read_aloud=False)) == (Missing.READ_ALOUD,)
    assert complete(replace(WITNESSED, copy_settled=False)) == (Missing.COPY,)


def test_who_cannot_read_needs_a_witness_and_a_presenter_even_with_a_signature() -> None:
    # [T] ICH E6(R1/R2) 4.8.9: signs if able, the witness signs and dates.
    alone = replace(SIGNED, can_read=False, was_read_aloud=True)
    assert set(complete(alone)) == {Missing.WITNESS, Missing.WITNESS_STAYED, Missing.WITNESS_READS}
    assert complete(replace(WITNESSED, explained_by=None)) == (Missing.EXPLAINED_BY,)


def test_witness_is_there_for_the_whole_talk_reads_and_signs() -> None:
    # [T] ICH E6(R1/R2) 4.8.9, E6(R3) 2.8; reads the papers: 1.26.
    assert complete(replace(WITNESSED, witness_stayed=False)) == (Missing.WITNESS_STAYED,)
    assert complete(replace(WITNESSED, witness_reads=False)) == (Missing.WITNESS_READS,)
    assert complete(replace(WITNESSED, witness_signed=False)) == (Missing.WITNESS,)


def test_who_cannot_write_makes_a_mark() -> None:
    # [T] US FDA information sheet: makes their mark; the method is recorded, a third party signs.
    # The house has it read aloud also to somebody who can read.
    reader = replace(WITNESSED, can_read=True)
    assert complete(reader) == ()
    assert complete(replace(reader, was_read_aloud=False)) == (Missing.READ_ALOUD,)
    assert complete(replace(reader, has_mark=False)) == (Missing.MARK,)


@pytest.mark.parametrize("tie", list(Tie))
def test_witness_is_independent(tie: Tie) -> None:
    # [T] ICH E6 1.26: independent, cannot be unfairly influenced; relatives by advice.
    tied = replace(WITNESSED, witness_ties=frozenset({tie}))
    assert complete(tied) == (Missing.WITNESS_APART,)
    assert doubtful(tied) == (Doubt.WITNESS_TIED,)


def test_presenter_is_not_the_witness() -> None:
    # [T] 45 CFR 46.117(b)(2): the one who presents signs the summary, the witness both papers.
    assert complete(replace(WITNESSED, witness="artist")) == (Missing.WITNESS_APART,)


def test_interpreter_is_named_with_the_languages_and_a_witness() -> None:
    # [T] OPRR memo, 9 November 1995: a witness fluent in both languages.
    used = replace(SIGNED, interpreter_used=True)
    assert set(complete(used)) == {
        Missing.WITNESS,
        Missing.WITNESS_STAYED,
        Missing.WITNESS_READS,
        Missing.INTERPRETER,
        Missing.LANGUAGE_PAIR,
    }
    named = replace(WITNESSED, interpreter_used=True, interpreter="i", language_pair=True)
    assert complete(named) == ()


def test_interpreter_is_not_the_witness_here() -> None:
    # [T] two university pages allow it where another presents; the house does not.
    both = replace(
        WITNESSED, interpreter_used=True, interpreter="w", language_pair=True, witness="w"
    )
    assert complete(both) == (Missing.WITNESS_APART,)


def test_minor_needs_every_guardian_and_the_childs_own_answer() -> None:
    # [T] ICH E6(R3): the representative consents, and assent fit for the age is noted.
    assert complete(CHILD) == ()
    assert complete(replace(CHILD, guardians=(PARENT,))) == (Missing.HOLDERS,)
    assert complete(replace(CHILD, childs_own_words=False)) == (Missing.CHILDS_WORDS,)
    assert complete(replace(CHILD, guardians=(PARENT,), authority_holders=1)) == ()
