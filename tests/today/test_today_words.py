"""The words for what was mended, as templates ask for them."""

from django.template import Context, Template


def test_a_field_has_its_words_and_an_unknown_one_stays_itself() -> None:
    shown = Template("{% load today_words %}{{ 'call_name'|field }}, {{ 'x'|field }}")
    assert shown.render(Context()) == "What to call them, x"
