"""The words for what was mended, as templates ask for them."""

import pytest
from django.template import Context, Template

from tests import cast


def test_a_field_has_its_words_and_an_unknown_one_stays_itself() -> None:
    shown = Template("{% load today_words %}{{ 'call_name'|field }}, {{ 'x'|field }}")
    assert shown.render(Context()) == "What to call them, x"


@pytest.mark.django_db
def test_codes_lead_to_their_pages_whether_people_or_codes_are_given() -> None:
    bruno = cast.bruno()
    page = f'<a class="num" href="/person/{bruno.code}/">{bruno.code}</a>'
    shown = Template("{% load today_words %}{% for one in who|linked %}{{ one }}{% endfor %}")
    assert shown.render(Context({"who": [bruno]})) == shown.render(Context({"who": [bruno.code]}))
    assert shown.render(Context({"who": [bruno]})) == page
