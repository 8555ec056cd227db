"""The words for codes, as templates ask for them."""

import re
from datetime import date

from django.template import Context, Template

from relations.referrals.graph import ARTIST, WITHHELD
from relations.referrals.questions import Hearing


def said(words):
    return Template("{% load referral_words %}" + words).render(Context())


def test_codes_have_words():
    assert said("{{ 'first'|kind_of_link }}") == "told us first"
    assert said("{{ 'speaker'|still }}") == "One of them speaks for the other."
    assert said("{{ 'has_not_sat'|asked }}") == "Named by somebody who has not sat"
    assert said("{{ 'sealed'|settles }}").startswith("Nobody can vouch for them")


def test_who_told_us_of_whom_is_one_sentence_for_each_way():
    def told(source):
        one = Hearing("k", "12", source, date(2024, 3, 4), date(2024, 3, 4))
        context = Context({"one": one})
        shown = Template("{% load referral_words %}{{ one|told_of }}").render(context)
        assert '<a class="num" href="/people/12' in shown
        return re.sub("<[^>]*>", "", shown)

    assert told("01") == "01 told us of 12"
    assert told(WITHHELD) == "Somebody withheld told us of 12"
    assert told(ARTIST) == "12, our own start"
