"""What makes a form complete for its way of giving, and what makes it doubtful."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from relations.meetings.helping import NO_INTERPRETER, NO_WITNESS, Tie


class Way(StrEnum):
    """How the sitter gave the answers."""

    SIGNED = "signed"
    MARK_AND_WITNESS = "mark_and_witness"
    SPOKEN = "spoken"
    SIGN_LANGUAGE = "sign_language"
    WITH_SUPPORT = "with_support"
    CHILD = "child"


RECORDED = frozenset({Way.SPOKEN, Way.SIGN_LANGUAGE})


class Authority(StrEnum):
    """In what right somebody answers for a child."""

    PARENT = "parent"
    SOLE_PARENT = "sole_parent"  # with the proof seen
    COURT = "court"
    OTHER = "other"  # grandparent, teacher, captain of a team …


# Whose answers are kept.
HOLDERS = (Authority.PARENT, Authority.SOLE_PARENT, Authority.COURT)


@dataclass(frozen=True, slots=True)
class Guardian:
    """One adult who answered for a child."""

    authority: Authority
    has_signed: bool = False
    proof_was_seen: bool = False

    @property
    def counts(self) -> bool:
        """Whether this answer is one of a holder of authority."""
        if self.authority not in HOLDERS:
            return False
        return self.has_signed and (
            self.authority is not Authority.SOLE_PARENT or self.proof_was_seen
        )


@dataclass(frozen=True, slots=True)
class Giving:
    """What the paper and the sheet of the talk say about how a form was given; unset is no.

    People are known here by any key that tells them apart (a code, initials); None is nobody.
    """

    way: Way
    given_on: date | None = None
    has_mark: bool = False  # a signature, a thumb or a cross
    can_read: bool = False
    is_in_own_language: bool = False
    was_explained_first: bool = False  # all ticks of the explanation before the mark
    explained_by: str | None = None
    copy_settled: bool = False  # kept, or plainly refused
    was_read_aloud: bool = False  # the whole of it
    witness: str | None = None
    witness_ties: frozenset[Tie] = frozenset()
    witness_signed: bool = False  # with the day
    witness_stayed: bool = False  # present from start to end
    witness_reads: bool = False  # the language of the form
    interpreter_used: bool = False
    interpreter: str | None = None
    interpreter_ties: frozenset[Tie] = frozenset()
    language_pair: bool = False  # between which languages
    recording_sealed: bool = False
    serial_and_day_given: bool = False  # in the recording, and no name
    asked_one_by_one: bool = False  # each use aloud, by itself
    ours_present: int = 0  # of us, present and signed
    video_kept_apart: bool = False  # the face in it is never used as a picture
    supporter_chosen: bool = False  # by the sitter
    plain_version: bool = False
    second_talk_on: date | None = None
    same_answers: bool = False
    is_child: bool = False
    guardians: tuple[Guardian, ...] = ()
    authority_holders: int = 2
    childs_own_words: bool = False
    child_heard_apart: bool = False  # the answer was read by somebody not the parent


class Missing(StrEnum):
    """A line without which a form is not complete."""

    MARK = "mark"
    DAY = "day"
    OWN_LANGUAGE = "own_language"
    COPY = "copy"
    EXPLAINED_BY = "explained_by"
    READ_ALOUD = "read_aloud"
    WITNESS = "witness"
    WITNESS_APART = "witness_apart"
    WITNESS_STAYED = "witness_stayed"
    WITNESS_READS = "witness_reads"
    INTERPRETER = "interpreter"
    INTERPRETER_APART = "interpreter_apart"
    LANGUAGE_PAIR = "language_pair"
    RECORDING = "recording"
    SERIAL_AND_DAY = "serial_and_day"
    ONE_BY_ONE = "one_by_one"
    TWO_OF_OURS = "two_of_ours"
    VIDEO_KEPT_APART = "video_kept_apart"
    SUPPORTER = "supporter"
    PLAIN_VERSION = "plain_version"
    SECOND_TALK = "second_talk"
    SAME_ANSWERS = "same_answers"
    HOLDERS = "holders"
    CHILDS_WORDS = "childs_words"
    CHILD_HEARD_APART = "child_heard_apart"


class Doubt(StrEnum):
    """What makes a form doubtful until a person has settled it."""

    SIGNED_BEFORE_EXPLAINED = "signed_before_explained"
    OTHER_LANGUAGE = "other_language"
    WITNESS_TIED = "witness_tied"
    ONE_LONG_YES = "one_long_yes"
    INTERPRETER_TIED = "interpreter_tied"
    ANSWERS_CHANGED = "answers_changed"
    NO_HOLDER = "no_holder"


def complete(giving: Giving) -> tuple[Missing, ...]:
    """The lines that are missing for the way in which a form was given; none if complete.

    Source: the project's table of ways, over 45 CFR 46.117(b) and ICH E6 4.8.9 and 1.26 (see
    tests/outside/test_signature_matrix.py); where they differ, the stricter line is asked.
    """
    return tuple(line for line, is_there in _lines(giving) if not is_there)


def is_witness_needed(giving: Giving) -> bool:
    """Whether a witness must sign: a mark, somebody who cannot read, or an interpreter.

    On record two of ours stand in for the witness; for a child those who hold authority sign.
    """
    if giving.way in RECORDED:
        return False
    if giving.way is Way.MARK_AND_WITNESS or giving.interpreter_used:
        return True
    return giving.way is not Way.CHILD and not giving.can_read


def is_witness_apart(giving: Giving) -> bool:
    """Whether the witness is nobody who explained, interpreted, introduced or has power."""
    others = {giving.explained_by, giving.interpreter} - {None}
    return giving.witness not in others and not giving.witness_ties & NO_WITNESS


def _lines(giving: Giving) -> Iterator[tuple[Missing, bool]]:
    yield Missing.DAY, giving.given_on is not None
    yield Missing.OWN_LANGUAGE, giving.is_in_own_language
    yield Missing.COPY, giving.copy_settled
    yield Missing.EXPLAINED_BY, giving.explained_by is not None
    if giving.way in RECORDED:
        yield from _recorded(giving)
    elif giving.way is not Way.CHILD:
        may_read = giving.can_read and giving.way is not Way.MARK_AND_WITNESS
        yield Missing.MARK, giving.has_mark
        yield Missing.READ_ALOUD, giving.was_read_aloud or may_read
    if is_witness_needed(giving):
        yield from _witnessed(giving)
    if giving.interpreter_used or giving.way is Way.SIGN_LANGUAGE:
        yield from _interpreted(giving)
    if giving.way is Way.WITH_SUPPORT:
        yield from _supported(giving)
    if giving.is_child or giving.way is Way.CHILD:
        yield Missing.HOLDERS, _holders(giving) >= giving.authority_holders
        yield Missing.CHILDS_WORDS, giving.childs_own_words
        yield Missing.CHILD_HEARD_APART, giving.child_heard_apart


def _witnessed(giving: Giving) -> Iterator[tuple[Missing, bool]]:
    is_there = giving.witness is not None and giving.witness_signed
    yield Missing.WITNESS, is_there
    yield Missing.WITNESS_APART, is_witness_apart(giving)
    yield Missing.WITNESS_STAYED, giving.witness_stayed
    yield Missing.WITNESS_READS, giving.witness_reads


def _interpreted(giving: Giving) -> Iterator[tuple[Missing, bool]]:
    yield Missing.INTERPRETER, giving.interpreter is not None
    yield Missing.INTERPRETER_APART, not giving.interpreter_ties & NO_INTERPRETER
    yield Missing.LANGUAGE_PAIR, giving.language_pair


def _recorded(giving: Giving) -> Iterator[tuple[Missing, bool]]:
    yield Missing.RECORDING, giving.recording_sealed
    yield Missing.SERIAL_AND_DAY, giving.serial_and_day_given
    yield Missing.ONE_BY_ONE, giving.asked_one_by_one
    yield Missing.TWO_OF_OURS, giving.ours_present >= 2
    if giving.way is Way.SIGN_LANGUAGE:
        yield Missing.VIDEO_KEPT_APART, giving.video_kept_apart


def _supported(giving: Giving) -> Iterator[tuple[Missing, bool]]:
    first, second = giving.given_on, giving.second_talk_on
    is_later = first is not None and second is not None and second > first
    yield Missing.SUPPORTER, giving.supporter_chosen
    yield Missing.PLAIN_VERSION, giving.plain_version
    yield Missing.SECOND_TALK, is_later
    yield Missing.SAME_ANSWERS, giving.same_answers


def _holders(giving: Giving) -> int:
    """How many answers of holders of authority count, each once."""
    return sum(guardian.counts for guardian in giving.guardians)


def doubtful(giving: Giving) -> tuple[Doubt, ...]:
    """Why a form is doubtful for its way of giving; a doubt is settled by a person, not a rule."""
    is_recorded = giving.way in RECORDED
    is_child = giving.is_child or giving.way is Way.CHILD
    is_tied = giving.witness is not None and not is_witness_apart(giving)
    doubts = {
        Doubt.SIGNED_BEFORE_EXPLAINED: not giving.was_explained_first,
        Doubt.OTHER_LANGUAGE: not giving.is_in_own_language,
        Doubt.WITNESS_TIED: is_tied,
        Doubt.ONE_LONG_YES: is_recorded and not giving.asked_one_by_one,
        Doubt.INTERPRETER_TIED: bool(giving.interpreter_ties & NO_INTERPRETER),
        Doubt.ANSWERS_CHANGED: giving.second_talk_on is not None and not giving.same_answers,
        Doubt.NO_HOLDER: is_child and bool(giving.guardians) and not _holders(giving),
    }
    return tuple(doubt for doubt, holds in doubts.items() if holds)
