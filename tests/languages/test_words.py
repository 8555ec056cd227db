"""Days, hours, codes and marks come out in the reader's language and order."""

from datetime import UTC, date, datetime, time
from pathlib import Path

import pytest
from django.template import Context, Template, TemplateSyntaxError
from django.utils import translation

from relations.languages.direction import strip_marks
from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures, Manner, speaking
from relations.languages.templatetags import words

DAY = date(2026, 11, 25)
# Babel's own words, seen in languages.md 2.1; English day first is our choice, and the figures
# are those that the language mostly uses.
LONG = {
    "en": "25 November 2026",
    "fr": "25 novembre 2026",
    "ar": "25 نوفمبر 2026",
    "ne": "२०२६ नोभेम्बर २५",
}
MARKS = Path(__file__).resolve().parents[2] / "templates" / "_marks.html"


@pytest.mark.parametrize("language", LONG)
def test_day_is_written_in_the_language_of_the_page(language: str) -> None:
    with translation.override(language):
        assert words.day(DAY) == LONG[language]


def test_day_may_carry_its_weekday_or_follow_a_pattern() -> None:
    with translation.override("en"):
        assert words.day(DAY, "full") == "Wednesday 25 November 2026"
        assert words.day(DAY, "d MMM") == "25 Nov"


@pytest.mark.parametrize("language", ["xx", "qq-XX", "not a tag", None])
def test_language_that_is_not_known_is_written_in_english(language: str | None) -> None:
    with translation.override(language):
        assert words.day(DAY) == LONG["en"]


def test_language_that_is_asked_for_goes_before_that_of_the_screen() -> None:
    with translation.override("fr"):
        assert str(words.reader_locale()) == "fr"
        assert str(words.reader_locale("ne")) == "ne"
        assert str(words.reader_locale("not a tag")) == "en"


def test_moment_is_told_in_the_zone_of_the_project() -> None:
    late = datetime(2026, 11, 22, 23, 30, tzinfo=UTC)
    with translation.override("en"):
        assert words.moment(late) == "23 November 2026, 00:30"
        assert words.day(late) == "23 November 2026"
        assert words.hour(late) == "00:30"


def test_naive_moment_keeps_its_day() -> None:
    with translation.override("en"):
        assert words.day(datetime(2026, 11, 25, 23, 59)) == LONG["en"]  # noqa: DTZ001


@pytest.mark.parametrize("word", [words.day, words.hour, words.moment, words.ltr, words.iso])
def test_nothing_is_written_for_nothing(word) -> None:
    assert word(None) == ""


@pytest.mark.parametrize("word", [words.figures, words.decimal, words.listed])
def test_nothing_is_said_of_no_number(word) -> None:
    assert not word(None)


def test_counts_and_lists_are_written_for_the_reader() -> None:
    page = Template(
        "{% load words %}{{ n|figures }} {{ n|decimal:1 }} {{ who|listed }} "
        "{% for one in who %}<b>{{ one }}</b>{{ forloop|joint }}{% endfor %}"
    )
    with translation.override("fr"):
        shown = page.render(Context({"n": 12345, "who": ["A", "<B>", "C"]}))
    assert shown == (
        "12\u202f345 12\u202f345,0 "
        '<bdi dir="ltr" class="words">A</bdi>, <bdi dir="ltr" class="words">&lt;B&gt;</bdi> et '
        '<bdi dir="ltr" class="words">C</bdi> <b>A</b>, <b>&lt;B&gt;</b> et <b>C</b>'
    )


def test_the_comma_between_two_things_is_that_of_the_reader() -> None:
    page = Template("{% load words %}a{% comma %}b")
    assert page.render(Context()) == "a, b"
    with translation.override("ar"):
        assert page.render(Context()) == "a، b"


@pytest.mark.parametrize("lang, sign", [("en", ": "), ("fr", "\u00a0: "), ("ar", ": ")])
def test_the_colon_stands_as_the_reader_writes_it(lang: str, sign: str) -> None:
    with translation.override(lang):
        assert Template("{% load words %}a{% colon %}b").render(Context()) == f"a{sign}b"


@pytest.mark.parametrize("lang, sign", [("en", "."), ("fr", "."), ("ar", "."), ("ne", "।")])
def test_a_sentence_ends_with_the_sign_of_the_reader(lang: str, sign: str) -> None:
    with translation.override(lang):
        assert Template("{% load words %}{% full_stop %}").render(Context()) == sign


def test_hour_of_a_clock_alone_is_told_and_midnight_is_an_hour() -> None:
    assert words.hour(time(0, 0)) == "00:00"
    assert words.hour(datetime(2026, 11, 25, 9, 5)) == "09:05"  # noqa: DTZ001


def test_what_is_no_count_stays_as_it_is() -> None:
    assert words.figures("–") == "–"
    assert words.figures(None) is None
    assert str(words.figures(0)) == "0"


def test_day_said_whole_has_the_second_calendar_in_brackets_and_a_short_one_has_not() -> None:
    nepali = Manner("ne", Figures.USUAL, Calendar.BIKRAM_SAMBAT)
    with translation.override("ne"), speaking(nepali):
        assert strip_marks(words.day(DAY)) == "२०२६ नोभेम्बर २५ (२०८३ मङ्सिर ९)"
        assert "(२०८३ मङ्सिर ९)" in strip_marks(words.day(DAY, "full"))
        assert "(" not in words.day(DAY, "d MMM")
        late = datetime(2026, 11, 25, 9, 5, tzinfo=UTC)
        # Hours stay in ASCII, as they are on a telephone.
        assert strip_marks(words.moment(late)) == "२०२६ नोभेम्बर २५ (२०८३ मङ्सिर ९), 10:05"
    with translation.override("ne"), speaking(Manner("ne", Figures.EUROPEAN)):
        assert words.day(DAY) == "2026 नोभेम्बर 25"
    with translation.override("ar"), speaking(Manner("ar", Figures.OWN)):
        assert words.day(DAY) == "٢٥ نوفمبر ٢٠٢٦"


def test_code_keeps_its_order_and_is_escaped() -> None:
    assert words.ltr("60022-64") == '<bdi dir="ltr" class="nw">60022-64</bdi>'
    assert words.ltr("<b>") == '<bdi dir="ltr" class="nw">&lt;b&gt;</bdi>'
    assert words.ltr("") == ""


def test_sentence_says_whose_it_is_and_a_name_keeps_its_direction():
    said = words.of_whom("%(who)s & all", "<مريم>")
    assert said == '<bdi dir="rtl" class="words">&lt;مريم&gt;</bdi> &amp; all'


def test_code_in_a_sentence_keeps_its_order_and_its_words_are_escaped():
    said = words.with_code("A & %(code)s", "<07>")
    assert said == 'A &amp; <bdi dir="ltr" class="nw">&lt;07&gt;</bdi>'


@pytest.mark.parametrize(
    "said, runs",
    # The first strong letter decides (UAX 9, P2 and P3).
    [("+33 4 65 71 00 42", "ltr"), ("Mara", "ltr"), ("(3) مريم", "rtl"), ("12 שלום x", "rtl")],
)
def test_what_is_set_into_a_line_keeps_its_own_direction(said, runs) -> None:
    assert words.iso(said) == f'<bdi dir="{runs}" class="words">{said}</bdi>'
    assert "<b>" not in words.iso("<b>")


def test_lines_of_their_own_begin_at_the_side_of_their_script() -> None:
    assert words.iso("مريم", "block") == '<bdi dir="rtl" class="words para">مريم</bdi>'
    page = Template('{% load words %}{{ said|iso:"block"|linebreaksbr }}')
    shown = page.render(Context({"said": "<a\nb>"}))
    assert shown == '<bdi dir="ltr" class="words para">&lt;a<br>b&gt;</bdi>'


def test_plain_text_is_marked_only_where_the_page_runs_right_to_left() -> None:
    with translation.override("ar"):
        assert words.apart("60022-64") == "\u206660022-64\u2069"
        assert words.apart(None) == ""
    with translation.override("fr"):
        assert words.apart("60022-64") == "60022-64"


def test_a_code_leads_to_its_page_where_it_has_one_and_is_escaped() -> None:
    assert words.code_shown("X1") == '<span class="num">X1</span>'
    assert words.code_shown("07", "/people/07/") == '<a class="num" href="/people/07/">07</a>'
    assert "<b>" not in words.code_shown("<b>", '"><b>')


def test_every_mark_is_drawn_and_no_other_is_named() -> None:
    sprite = MARKS.read_text("utf-8")
    assert sprite.count("<symbol") == len(words.MARKS)
    for name in words.MARKS:
        assert f'id="m-{name}"' in sprite
        assert f'href="#m-{name}"' in words.mark(name)
    with pytest.raises(TemplateSyntaxError, match="sparkle"):
        words.mark("sparkle")


def test_day_on_paper_is_in_the_language_of_its_column_and_escaped_as_any_other():
    page = Template("{% load words %}{% paper_day day lang %}|{% paper_day day 'en' 'hijri' %}")
    with translation.override("fr"):
        said = page.render(Context({"day": date(2026, 11, 25), "lang": "ne"}))
    one, two = strip_marks(said).split("|")
    assert one == "२०२६ नोभेम्बर २५ (२०८३ मङ्सिर ९)"
    assert two == "25 November 2026 (15 Jumada II 1448 AH)"


def test_values_are_set_into_words_and_only_markup_of_ours_stays_markup() -> None:
    said = words.with_values("<%(who)s> told us of %(of)s", who=words.ltr("07"), of="<b>")
    assert said == '&lt;<bdi dir="ltr" class="nw">07</bdi>&gt; told us of &lt;b&gt;'


@pytest.mark.parametrize(("lang", "said", "way"), [("fr", "oui", "ltr"), ("ar", "نعم", "rtl")])
def test_words_of_another_language_say_which_and_run_its_way(lang, said, way) -> None:
    assert words.in_language(said, lang) == f'<span lang="{lang}" dir="{way}">{said}</span>'
    assert "<i>" not in words.in_language("<i>", lang)
