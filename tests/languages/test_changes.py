"""Word by word: what is gone, what is new; nothing is lost between the two texts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.changes import Kind, changes

SAME, GONE, NEW = Kind.SAME, Kind.GONE, Kind.NEW


@pytest.mark.parametrize(
    ("before", "now", "runs"),
    [
        ("", "", []),
        ("We pay  no\nmoney.", "We pay no money.", [(SAME, "We pay no money.")]),
        ("We pay.", "", [(GONE, "We pay.")]),
        ("", "We pay.", [(NEW, "We pay.")]),
        (
            "We pay no money.",
            "We pay some money now.",
            [(SAME, "We pay"), (GONE, "no money."), (NEW, "some money now.")],
        ),
        ("नाम पनि ठाउँ पनि", "नाम ठाउँ पनि", [(SAME, "नाम"), (GONE, "पनि"), (SAME, "ठाउँ पनि")]),
    ],
)
def test_words_are_the_same_gone_or_new(before, now, runs):
    assert list(changes(before, now)) == runs


WORDS = st.lists(st.sampled_from(["we", "pay", "no", "money", "কাগজ", "نعم"]), max_size=12)


@given(WORDS, WORDS)
def test_runs_spell_both_texts(before, now):
    runs = changes(" ".join(before), " ".join(now))
    for kind, text in ((NEW, before), (GONE, now)):
        assert " ".join(run.words for run in runs if run.kind != kind).split() == text
