import pytest

from relations.languages.reading_level import grade, measure, sentences, syllables


@pytest.mark.parametrize(
    "text, counted, published",
    [
        # Worked by hand from the formula: 0.39 * 6 + 11.8 * 1 - 15.59.
        ("The cat sat on the mat.", (1, 6, 6), -1.45),
        # Published as 11.3 (from memory, languages.md 7).
        (
            "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.",
            (1, 13, 24),
            11.26,
        ),
        # The lowest there is: one word of one syllable.
        ("Go.", (1, 1, 1), -3.40),
    ],
)
def test_grade_agrees_with_published_values(text, counted, published):
    assert measure(text) == counted
    assert grade(text) == pytest.approx(published, abs=0.005)


@pytest.mark.parametrize(
    "word, count",
    [("made", 1), ("pieces", 1), ("needed", 2), ("asked", 1), ("little", 2), ("people", 2),
     ("print", 1), ("portrait", 2), ("family", 3), ("the", 1), ("rhythm", 1), ("mmm", 1)],
)  # fmt: skip
def test_syllables_are_counted_by_vowels(word, count):
    assert syllables(word) == count


def test_sentences_end_at_stops_and_colons_and_numbers_are_no_words():
    assert sentences("Ring this: 42. Don’t wait! Why? ") == [["Ring", "this"], ["Don’t", "wait"], ["Why"]]  # fmt: skip  # noqa: E501


def test_text_without_words_has_no_grade():
    with pytest.raises(ValueError):
        grade("12 / 34.")
