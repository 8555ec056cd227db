"""Forms: text is kept tidy, shown again as typed, and sent once; the pack's HTML is sound."""

from datetime import date, time
from uuid import UUID, uuid4

import pytest
from django import forms

from relations.languages.forms import (
    CodeField,
    DayField,
    Group,
    HourField,
    NameField,
    NoteField,
    PhoneField,
    PlainForm,
    SerialField,
    TicksField,
    YesNoField,
)
from tests.audit import faults
from tests.one_form import shown

HIDDEN = "\u202e"


class Ring(PlainForm):
    press = "Note the ring"
    name = NameField()
    code = CodeField(required=False)
    serial = SerialField(required=False)
    phone = PhoneField(required=False, help_text="One number.")
    day = DayField(required=False)
    hour = HourField(required=False)
    tries = forms.IntegerField(required=False)
    said = forms.CharField(required=False)
    note = NoteField(required=False)
    secret = forms.CharField(required=False, widget=forms.PasswordInput)
    wall = YesNoField(label="Wall")
    read = TicksField(choices=[("fr", "French"), ("ar", "Arabic")])
    sure = forms.BooleanField(required=False)


class Grouped(Ring):
    def groups(self) -> tuple[Group | str, ...]:
        return (Group("What is allowed", "wall", ticks=True), "name")


class Find(PlainForm):
    method = "get"
    words = forms.CharField(required=False)


def sent(form: type[PlainForm] = Ring, **typed: object) -> PlainForm:
    return form({"token": str(uuid4()), "name": "Awa", **typed})


def cleaned(**typed: object) -> dict:
    form = sent(**typed)
    assert form.is_valid(), form.errors
    return form.cleaned_data


def test_every_new_form_holds_a_token_of_its_own() -> None:
    one, other = (UUID(str(Ring()["token"].value())) for _ in range(2))
    assert one != other


def test_token_of_a_sent_form_is_the_one_it_was_shown_with() -> None:
    token = uuid4()
    form = Ring({"token": str(token), "name": "Awa"})
    assert form.is_valid()
    assert form.token == token


@pytest.mark.parametrize("token", ["", "x", "1234"])
def test_form_without_a_whole_token_is_refused_in_words(token: str) -> None:
    form = sent(token=token)
    assert form.errors == {"token": ["This page was incomplete. Please send it again."]}
    assert "This page was incomplete" in shown(form)


def test_refused_form_keeps_its_token_and_all_that_was_typed() -> None:
    token, day = str(uuid4()), "२०२६-१३-०१"
    html = shown(sent(token=token, name="", day=day, note="ring after 18", said="a\u200eb"))
    assert token in html
    assert f'value="{day}"' in html
    assert "ring after 18</textarea>" in html
    assert 'value="a\u200eb"' in html


@pytest.mark.parametrize("hidden", [HIDDEN, "\u200e", "\ufeff", "\u0007", "\u2066"])
def test_hidden_characters_in_a_name_are_named_and_refused(hidden: str) -> None:
    form = sent(name=f"Aw{hidden}a")
    assert form.has_error("name", "direction")
    assert f"U+{ord(hidden):04X}" in str(form.errors["name"])


def test_joiners_belong_to_the_spelling_of_a_name() -> None:
    name = "\u0930\u094d\u200d\u092f"
    assert cleaned(name=name)["name"] == name


def test_names_and_notes_are_composed() -> None:
    given = cleaned(name="Ne\u0301lida", note="e\u0301")
    assert (given["name"], given["note"]) == ("N\u00e9lida", "\u00e9")


def test_hidden_characters_leave_other_lines_silently() -> None:
    assert cleaned(said=f"a{HIDDEN}b\u0007")["said"] == "ab"


def test_longer_text_keeps_its_lines_and_loses_its_overrides() -> None:
    assert cleaned(note=f"one\r\ntwo{HIDDEN}\tthree")["note"].splitlines() == ["one", "two\tthree"]


def test_passwords_are_never_changed() -> None:
    assert cleaned(secret="e\u0301\u200e१")["secret"] == "e\u0301\u200e१"


@pytest.mark.parametrize(
    ("field", "typed", "kept"),
    [
        ("day", "२०२६-११-२५", date(2026, 11, 25)),
        ("day", " 25.11.2026 ", date(2026, 11, 25)),
        ("day", "٢٥/١١/٢٠٢٦", date(2026, 11, 25)),
        ("hour", "१४:३०", time(14, 30)),
        ("hour", "9.05", time(9, 5)),
        ("tries", "٣", 3),
        ("phone", "०४ ६५ ७१ ०० ०१", "04 65 71 00 01"),
        ("phone", "call me", "call me"),
        ("code", " a7 9–x ", "A79-X"),
        ("serial", "60022–64", "60022-64"),
        ("serial", "६००२२६४", "60022-64"),
        ("serial", "60022 64", "60022-64"),
        ("wall", "yes", True),
        ("wall", "no", False),
        ("wall", "not_said", None),
        ("wall", "", None),
        ("read", ["fr", "ar"], ["fr", "ar"]),
    ],
)
def test_figures_of_any_script_are_read(field: str, typed: object, kept: object) -> None:
    assert cleaned(**{field: typed})[field] == kept


@pytest.mark.parametrize(
    ("field", "typed", "code"),
    [
        ("day", "2026-02-30", "invalid"),
        ("day", "yesterday", "invalid"),
        ("hour", "25:00", "invalid"),
        ("serial", "6002-64", "shape"),
        ("serial", "60022-6x", "shape"),
        ("code", "a/b", "shape"),
        ("code", "-a", "shape"),
        ("wall", "perhaps", "invalid_choice"),
        ("read", ["xx"], "invalid_choice"),
        ("name", "", "required"),
        ("note", "n" * 2001, "max_length"),
    ],
)
def test_bad_input_is_refused(field: str, typed: object, code: str) -> None:
    assert sent(**{field: typed}).has_error(field, code)


def test_own_error_words_of_a_field_win() -> None:
    class Born(PlainForm):
        born = DayField(error_messages={"invalid": "Not so."})
        at = HourField(error_messages={"invalid": "Nor so."})

    form = Born({"born": "x", "at": "x", "token": str(uuid4())})
    assert (form.errors["born"], form.errors["at"]) == (["Not so."], ["Nor so."])


def test_required_question_starts_without_an_answer_and_needs_one() -> None:
    class Reading(PlainForm):
        wall = YesNoField(required=True)

    assert Reading()["wall"].value() is None
    assert Reading({"token": str(uuid4())}).has_error("wall", "required")


def test_question_that_may_stay_open_starts_at_not_said() -> None:
    html = shown(Ring())
    assert 'value="not_said" id="id_wall_2" checked' in html


@pytest.mark.parametrize(
    "form", [Ring(), Grouped(), sent(name="", day="x"), sent(Grouped, name="")]
)
def test_html_of_the_pack_is_sound(form: PlainForm) -> None:
    assert faults(shown(form)) == []


def test_summary_takes_the_focus_and_links_to_each_bad_field() -> None:
    html = shown(sent(name="", day="x", read=["xx"]))
    assert 'role="alert" tabindex="-1" autofocus' in html
    for anchor in ("#id_name", "#id_day", "#id_read_0"):
        assert f'<a href="{anchor}">' in html
    assert html.count('aria-invalid="true"') == 4


def test_fields_that_may_stay_empty_say_so_but_questions_do_not() -> None:
    html = shown(Ring())
    assert html.count("(optional)") == 9
    assert "Wall <span" not in html


def test_parts_keep_their_order_and_lose_no_field() -> None:
    html = shown(Grouped())
    assert html.index("What is allowed") < html.index('id="id_wall_0"') < html.index('id="id_name"')
    assert all(f'name="{name}"' in html for name in Grouped().fields)
    assert '<fieldset class="group ticks"' in html


def test_help_and_errors_are_never_taken_as_html() -> None:
    class Heard(PlainForm):
        name = NameField(help_text="<b>as heard</b>")
        word = forms.ChoiceField(choices=[("a", "<i>A</i>")])

    html = shown(Heard({"word": "<script>", "token": str(uuid4())}))
    assert "<b>" not in html
    assert "<i>" not in html
    assert "<script>" not in html


def test_search_has_neither_token_nor_csrf_field() -> None:
    html = shown(Find())
    assert 'method="get"' in html
    assert 'type="hidden"' not in html
    assert 'class="find"' in html


def test_button_carries_its_word_and_its_look() -> None:
    class Stop(PlainForm):
        press = "Stop"
        look = "stopbtn"

    assert 'class="btn stopbtn"' in shown(Stop())
    assert ">Stop</button>" in shown(Stop())


@pytest.mark.parametrize(
    "field",
    [
        *(NameField(), NoteField(), CodeField(), PhoneField(), DayField(), HourField()),
        *(forms.IntegerField(), forms.DecimalField()),
    ],
    ids=lambda field: type(field).__name__,
)
@pytest.mark.parametrize("typed", ["x" * 99_999, "9" * 99_999, "1/" * 50_000, " " * 99_999 + "9"])
def test_what_is_far_too_long_is_refused_and_given_back_whole(field, typed):
    form = type("Typed", (PlainForm,), {"word": field})({"word": typed})
    assert not form.is_valid()
    assert "word" in form.errors
    assert form["word"].value() == typed
