"""The filters of the uses room say the words of its codes."""

import pytest

from relations.consent.answers import NextAction, Result
from relations.uses.templatetags import uses_words as said


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (said.reason("ENDED"), "Their form ends before the start."),
        (said.next_step("WITHDRAWN"), "Do not ask again; finish the list of what must come down."),
        (said.action(NextAction.TALK), "Talk with them"),
        (said.may("exhibition"), "may hang"),
        (said.may("web"), "may go on line"),
        (said.this("book"), "this book"),
        (said.begins("book"), "the press day"),
        (said.in_words(0), "no"),
        (said.in_words(9), "nine"),
        (said.in_words(10), "10"),
        (said.asks("book"), "May these go in?"),
        (said.asks("teaching"), "May these be shown?"),
        (said.release("MR-LMR"), "limited"),
        (said.undo("seal"), "Have it sealed where it lies."),
        (said.force("asked"), "What is asked of others"),
        (said.of({"07": "Teresa"}, "07"), "Teresa"),
        (said.of({}, "07"), ""),
    ],
)
def test_filter_says_it_in_words(found, words):
    assert str(found) == words


@pytest.mark.parametrize(
    ("result", "mark", "word"),
    [
        (Result.CLEARED, "ok", "may hang"),
        (Result.CONDITIONS, "part", "with a condition"),
        (Result.NOT_CLEARED, "no", "not"),
    ],
)
def test_answer_is_shown_by_a_mark_and_a_word(result, mark, word):
    seen = said.answers("exhibition")[result]
    assert (seen.mark, str(seen.word)) == (mark, word)
    assert f'href="#m-{mark}"' in seen.drawn
    assert seen.stamp.strip() == f'<span class="st {mark}">{seen.drawn}{word}</span>'
