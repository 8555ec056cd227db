"""The words for the codes of the eight answers, as templates ask for them."""

import pytest
from django.template import Context, Template
from django.utils import translation

from relations.referrals.threads import Rule


def said(words: str, **known: object) -> str:
    return str(Template("{% load web_words %}" + words).render(Context(known)))


@pytest.mark.parametrize("rule", Rule)
def test_every_rule_has_its_words_and_a_short_form(rule):
    assert said("{{ rule|rule }}", rule=rule) != said("{{ rule|rule_short }}", rule=rule) != ""
    assert said("{{ 'nothing'|rule }}{{ 'nothing'|rule_short }}") == ""


def test_a_group_is_called_by_its_neutral_name():
    names = {"aulne": "Aulne"}
    assert said("{{ 'aulne'|group:names }}", names=names) == "Aulne"
    assert said("{{ ''|group:names }}", names=names) == "not known"


def test_shares_and_numbers_are_read_as_a_person_says_them():
    assert said("{{ share|hundredth }}", share=0.384) == "38"
    assert said("{{ number|tenth }}", number=13.06) == "13.1"
    with translation.override("fr"):
        assert said("{{ number|tenth }}", number=13.06) == "13,1"


def test_somebody_is_a_code_with_a_way_to_their_page_and_whoever_is_outside_has_none():
    outside = {"X1"}
    assert 'href="/people/07/"' in said("{% whom '07' outside %}", outside=outside)
    assert said("{% whom 'X1' outside %}", outside=outside) == '<span class="num">X1</span>'
    assert said("{% whom '?' outside %}", outside=outside) == "somebody withheld"
    assert said("{% whom '' outside %}", outside=outside) == "the artist"
    assert "<b>" not in said("{% whom code outside %}", code="<b>", outside={"<b>"})
