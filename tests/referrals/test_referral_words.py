"""The words for codes, as templates ask for them."""

from django.template import Context, Template


def said(words):
    return Template("{% load referral_words %}" + words).render(Context())


def test_codes_have_words():
    assert said("{{ 'first'|kind_of_link }}") == "told us first"
    assert said("{{ 'speaker'|still }}") == "One of them speaks for the other."
    assert said("{{ 'has_not_sat'|asked }}") == "Named by somebody who has not sat"
    assert said("{{ 'sealed'|settles }}").startswith("Nobody can vouch for them")
