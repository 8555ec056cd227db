"""The filters of the templates give words and stamps, and nothing for what they do not know."""

import pytest
from django.template import Context, Template

from relations.consent.templatetags import consent_words as tags


def render(source, **context):
    return Template("{% load consent_words %}" + source).render(Context(context)).strip()


@pytest.mark.parametrize(
    ("filter_", "code", "words"),
    [
        (tags.use, "web", "Web"),
        (tags.use_letter, "print_sale", "V"),
        (tags.way, "spoken", "spoken, on record"),
        (tags.name_form, "first", "first name only"),
        (tags.place_word, "city", "city"),
        (tags.wish, "go on", "go on"),
        (tags.authority, "court", "by a court"),
        (tags.refusal, "mistyped", tags.REFUSALS["mistyped"]),
    ],
)
def test_code_is_said_in_words(filter_, code, words):
    assert str(filter_(code)) == str(words)
    assert str(filter_("nothing_known")) in ("", "nothing_known")


def test_countries_are_named():
    assert tags.countries(["FR", "PE"]) == "France and Peru"
    assert tags.countries(None) == ""


def test_stamp_carries_mark_and_word():
    assert "m-ok" in render("{% paper_stamp 'standing' %}")
    assert "st no" in render("{% paper_stamp 'missing' %}")
    assert render("{% paper_stamp 'spoilt' %}") == '<span class="st">spoilt</span>'
    assert "waits for a reader" in render("{% clause_stamp 'translated' %}")
