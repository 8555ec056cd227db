import pytest

from relations.languages.reading_level import (
    Level,
    grade,
    level,
    lix,
    longest,
    measure,
    sentences,
    syllables,
)


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


@pytest.mark.parametrize(
    ("text", "value"),
    [
        # Worked by hand: 6 words in one sentence, none of more than six letters.
        ("The cat sat on the mat.", 6.0),
        # 13 words and 5 long ones: 13 + 500 / 13 (languages.md 7 gives 51.5).
        (
            "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.",
            51.46,
        ),
    ],
)
def test_lix_agrees_with_values_worked_by_hand(text, value):
    assert lix(text) == pytest.approx(value, abs=0.005)


def test_text_without_words_has_no_lix():
    with pytest.raises(ValueError):
        lix("42!")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", 0),
        ("One. Two words.", 2),
        ("एउटै पाना, दुई पट्टि। दुवै स्तम्भमा एउटै कुरा छ।", 5),
        ("ما هذا؟ ورقة واحدة بوجهين.", 3),
        ("একটি পাতা, দুই পিঠ। না!", 4),
        ("Nous sommes deux : appelez.", 3),
    ],
)
def test_longest_sentence_is_counted_in_every_script(text, words):
    assert longest(text) == words


def test_each_language_is_measured_by_what_fits_it():
    plain = "The cat sat on the mat."
    assert level(plain, "en") == Level("grade", pytest.approx(-1.45), 6, is_over=False)
    assert level("Le chat est sur le tapis.", "fr-FR") == Level("lix", 6.0, 6, is_over=False)
    assert level("एउटै पाना, दुई पट्टि।", "ne") == Level("sentence", 4.0, 4, is_over=False)


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("Institutional considerations necessitate comprehensive documentation.", "en"),
        (" ".join(["we"] * 21) + ".", "en"),
        ("Considérations institutionnelles nécessitant documentation.", "fr"),
        (" ".join(["পাতা"] * 21) + "।", "bn"),
    ],
)
def test_what_is_hard_to_read_is_over_its_bar(text, language):
    assert level(text, language).is_over


@pytest.mark.parametrize("text", ["", "42", " . "])
def test_text_without_words_has_no_level(text):
    assert level(text, "en") is None
