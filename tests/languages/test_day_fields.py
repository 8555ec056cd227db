"""The field for a day: what was understood is shown, and sent once more before it counts."""

from datetime import date
from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError
from django.utils import translation

from relations.languages.day_fields import (
    CHOOSE,
    CONFIRM,
    DayField,
    Typed,
    in_words,
    read,
    settled,
)
from relations.languages.direction import strip_marks
from relations.languages.forms import PlainForm, tidy
from relations.languages.local_calendars import Calendar
from relations.languages.manner import Manner, speaking
from relations.languages.reading_days import readings
from tests.audit import faults
from tests.one_form import shown

DAY = date(2026, 11, 25)
BS = Manner("en", calendar=Calendar.BIKRAM_SAMBAT)
SOLAR = Manner("fa", calendar=Calendar.SOLAR_HIJRI)


class PastField(DayField):
    def validate(self, value) -> None:
        super().validate(value)
        if value and value > date(2026, 12, 31):
            raise ValidationError("Not yet.", code="future")


class Told(PlainForm):
    on = DayField(initial=DAY)
    past = PastField(required=False)


def sent(**typed: str) -> Told:
    return Told({"token": str(uuid4()), **typed})


def said(form: PlainForm, field: str = "on") -> list[str]:
    return [str(error) for error in form.errors.get(field, [])]


@pytest.mark.parametrize("typed", ["2026-11-25", "25.11.2026", "25/11/2026", "२५.११.२०२६"])
def test_gregorian_figures_count_at_once(typed):
    form = sent(on=typed)
    assert form.is_valid(), form.errors
    assert form.cleaned_data["on"] == DAY
    assert "on_meant" not in shown(form)


@pytest.mark.parametrize(
    "typed", ["9 Mangsir 2083", "२०८३ मङ्सिर ९", "25 November 2026", "4 آذر 1405", "25/11/2569"]
)
def test_another_calendar_or_a_name_is_shown_back_and_counts_once_sent_again(typed):
    form = sent(on=typed)
    assert said(form) == [str(CONFIRM)]
    assert form.has_error("on", "confirm")
    html = shown(form)
    assert "Understood: " in html and "25 November 2026" in html
    assert f'value="{typed}"' in html
    assert '<input type="hidden" name="on_meant" value="2026-11-25">' in html
    again = sent(on=typed, on_meant="2026-11-25")
    assert again.is_valid(), again.errors
    assert again.cleaned_data["on"] == DAY


def test_what_was_confirmed_stays_confirmed_while_another_field_is_mended():
    form = sent(on="9 Mangsir 2083", on_meant="2026-11-25", past="x")
    assert not form.is_valid()
    assert not said(form)
    assert 'name="on_meant" value="2026-11-25"' in shown(form)
    assert 'value="x"' in shown(form)


@pytest.mark.parametrize("meant", ["2026-11-25", "2026-11-26", "x", ""])
def test_day_that_is_typed_anew_is_asked_anew(meant):
    form = sent(on="10 Mangsir 2083 BS", on_meant=meant)
    assert form.is_valid() == (meant == "2026-11-26")


def test_two_readings_are_offered_and_none_is_chosen_beforehand():
    form = sent(on="1405-09-04")
    assert said(form) == [str(CHOOSE)]
    html = shown(form)
    assert html.count('type="radio" name="on_meant"') == 2
    assert "checked" not in html
    assert "15 Ramadan 1405" not in html and "4 Azar 1405 SH" in html and "1405 AH" in html
    for meant, day in (("2026-11-25", DAY), ("1985-05-23", date(1985, 5, 23))):
        chosen = sent(on="1405-09-04", on_meant=meant)
        assert chosen.is_valid()
        assert chosen.cleaned_data["on"] == day
        assert shown(chosen).count(" checked") == 1


def test_reading_that_the_field_may_not_take_is_not_offered():
    with speaking(BS):
        form = sent(on="25.11.2026", on_meant="2026-11-25", past="2083-08-09")
        # 2083 of our years has not come.
        assert said(form, "past") == [str(CONFIRM)]
        assert 'name="past_meant" value="2026-11-25"' in shown(form)


def test_where_no_reading_may_be_taken_the_field_says_why():
    assert said(sent(on="2026-11-25", past="9 Mangsir 2084 BS"), "past") == ["Not yet."]
    assert said(sent(on="2026-11-25", past="2027-01-01"), "past") == ["Not yet."]
    assert "past_meant" not in shown(sent(on="2026-11-25", past="2027-01-01"))


@pytest.mark.parametrize("typed", ["Mangsir 2083", "2083", "11/2026", "yesterday", "30.2.2026"])
def test_month_or_a_year_is_no_day(typed):
    assert sent(on=typed).has_error("on", "invalid")


def test_day_that_is_no_text_is_taken_as_it_is_and_an_empty_one_is_none():
    assert DayField().clean(DAY) == DAY
    assert DayField(required=False).clean("  ") is None
    assert DayField().has_changed(None, "25.11.2026")
    assert not DayField().has_changed(DAY, "25.11.2026")


def test_gregorian_reader_gets_the_field_of_the_browser_unless_words_stand_in_it():
    assert '<input type="date" name="on" value="2026-11-25"' in shown(Told())
    assert '<input type="text" name="on" value="9 Mangsir 2083"' in shown(sent(on="9 Mangsir 2083"))
    assert '<input type="date" name="on" value="2026-11-25"' in shown(sent(on="2026-11-25"))


def test_reader_of_another_calendar_gets_a_line_with_the_day_in_it_and_an_example():
    with speaking(BS):
        html = shown(Told())
        assert 'type="date"' not in html
        assert 'value="9 Mangsir 2083 BS"' in html
        assert "Such as \u20669 Mangsir 2083 BS\u2069, or 25.11.2026." in html
        # Left as it stands, the day is the one that was proposed.
        assert '<input type="hidden" name="on_meant" value="2026-11-25">' in html
        left = sent(on="9 Mangsir 2083 BS", on_meant="2026-11-25")
        assert left.is_valid()
        assert left.cleaned_data["on"] == DAY
    with speaking(BS), translation.override("ne"):
        assert 'value="२०८३ मङ्सिर ९"' in shown(Told())


def test_figures_that_fit_the_reader_s_calendar_and_ours_are_asked():
    with speaking(BS):
        form = sent(on="2026-11-25")
        assert said(form) == [str(CHOOSE)]
        # What a machine sends says which day it means.
        assert sent(on="2026-11-25", on_meant="2026-11-25").is_valid()
    with speaking(SOLAR):
        assert sent(on="2026-11-25").is_valid()
        assert said(sent(on="1405/9/4")) == [str(CONFIRM)]


def test_day_that_a_page_proposes_in_figures_is_ours():
    with speaking(BS):
        html = shown(Told(initial={"on": "2026-11-25", "past": "9 Mangsir"}))
    assert 'value="9 Mangsir 2083 BS"' in html
    assert '<input type="hidden" name="on_meant" value="2026-11-25">' in html
    assert 'value="9 Mangsir"' in html


def test_day_outside_the_reader_s_calendar_stands_there_as_ours():
    class Old(PlainForm):
        on = DayField(initial=date(1900, 1, 1))

    with speaking(BS):
        assert 'value="1900-01-01"' in shown(Old())


@pytest.mark.parametrize("manner", [Manner(), BS, SOLAR])
def test_html_is_sound(manner):
    with speaking(manner):
        for form in (Told(), sent(on="1405-09-04"), sent(on="9 Mangsir 2083"), sent(on="x")):
            assert faults(shown(form)) == []


def test_hostile_text_is_never_html():
    html = shown(sent(on='"><script>', on_meant='"><script>'))
    assert "<script>" not in html


def test_tidying_keeps_what_was_meant():
    typed = tidy(DayField(), Typed("९ मङ्सिर \u200e२०८३", "2026-11-25"))
    assert (typed, typed.meant) == ("9 मङ्सिर 2083", "2026-11-25")


def test_what_was_understood_of_a_year_or_a_month_is_its_days():
    with translation.override("en"):
        words = [strip_marks(in_words(one)) for one in (*read("BS 2065"), *read("Nov 2026"))]
        words += [strip_marks(in_words(one)) for one in read("Mangsir 2083")]
    assert words == [
        "13 April 2008 – 13 April 2009 (2065 BS)",
        "1 November 2026 – 30 November 2026",
        "17 November 2026 – 15 December 2026 (Mangsir 2083 BS)",
    ]


def test_settling_without_a_confirmed_day_asks():
    fits = readings("1405")
    with pytest.raises(ValidationError) as asked:
        settled("1405", fits)
    assert asked.value.code == "confirm"
    assert settled(Typed("1405", "2026-03-21"), fits).calendar is Calendar.SOLAR_HIJRI
