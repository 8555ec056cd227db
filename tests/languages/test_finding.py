"""Names are found in captions and names of files, in every script and however they are spelt."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.languages.finding import Names, parted, without
from relations.languages.sorting import contains_folded, fold

# Source: languages.md 5 (NFKD, marks stripped, U+0640, U+064B to U+0652) and job.md, weighing,
# step 7; what each name looks like is common practice, no source.
IN_WORDS = [
    ("José Aldana", "With JOSE ALDANA, at the mole."),
    ("Jose Aldana", "With José\u00a0Aldaña."),
    ("حورية", "صورة لحورية في الميناء"),
    ("حورية", "حُورِيَّة"),
    ("حورية", "حـــورية"),
    ("Ёлка", "ЕЛКА у окна"),
    ("Ἀλέξανδρος", "ο ΑΛΕΞΑΝΔΡΟΣ"),
    ("ইউনুস", "ইউ\u200cনুস মিয়া"),
    ("अनिता", "अनिताको घर"),
    ("Anna", "Ａｎｎａ at work"),
    ("O’Malvey", "O'MALVEY & sons"),
]


@pytest.mark.parametrize(("name", "text"), IN_WORDS)
def test_name_is_found_in_any_script_case_and_accent(name: str, text: str) -> None:
    assert Names([("12", name)]).found(text) == ["12"]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("Anna", "Susanna and Annalise"),
        ("Jose Aldana", "Jose, then Aldana’s Jose"),
        ("حورية", "حرية"),
        ("", "anything"),
        ("--", "-- anything --"),
        ("Anna", ""),
    ],
)
def test_another_word_is_no_name(name: str, text: str) -> None:
    assert Names([("12", name)]).found(text) == []


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Houria Benzarfa", "HouriaBenzarfa_04.jpg"),
        ("Houria Benzarfa", "houriabenzarfa04.tif"),
        ("Houria", "K04houria.jpg"),
        ("Houria", "portraithouria.jpg"),
        ("Ana", "Ana04.jpg"),
        ("Ana", "k04Ana.jpg"),
        ("Jose", "K77_josé-web.jpg"),
        ("حورية", "صورة_حورية_04.jpg"),
    ],
)
def test_name_is_found_in_the_name_of_a_file_without_spaces(name: str, file: str) -> None:
    assert Names([("12", name)]).found_in_file(file) == ["12"]


@pytest.mark.parametrize("file", ["K04.jpg", "banana.jpg", "", "manager-02.tif"])
def test_short_name_within_another_word_of_a_file_is_none(file: str) -> None:
    assert Names([("12", "Ana"), ("13", "Anna")]).found_in_file(file) == []


def test_file_is_parted_where_case_or_kind_turns() -> None:
    assert parted("HouriaB04x.jpg") == "Houria B 04 x.jpg"
    assert parted("") == ""


def test_everybody_of_a_name_is_told_once() -> None:
    names = Names([("12", "Anna"), ("13", "ANNA"), ("12", "Ánna"), ("14", "Bruno")])
    assert names.found("Anna and Anna") == ["12", "13"]
    assert names.found_in_file("anna-Anna.jpg") == ["12", "13"]


def test_signs_stand_for_names_and_another_spelling_takes_the_whole_text_with_it() -> None:
    known = Names([(("12", "Anna"), "Anna"), (("…", "حورية"), "حورية")])
    assert without("Ask Anna at the pump", known) == "Ask 12 at the pump"
    assert without("صورة حورية", known) == "صورة …"
    assert without("ask ANNA", known) == ""
    assert without("ask ANNA", known, rest="…") == "…"


WORDS = st.sampled_from(["Anna", "anna", "Éva", "حورية", "ال", "अनिता", "K04", "-", "ʼ", "Aу", "٣"])
TEXT = st.lists(WORDS, max_size=5).flatmap(
    lambda words: st.sampled_from([" ", "", "_"]).map(lambda gap: gap.join(words))
)


@given(st.lists(TEXT, max_size=6), TEXT)
def test_many_names_at_once_are_found_as_each_alone(names: list[str], text: str) -> None:
    wanted = {place for place, name in enumerate(names) if contains_folded(fold(text), fold(name))}
    assert set(Names(enumerate(names)).found(text)) == wanted
