"""No page prints a number but in the figures that its reader asked for.

The walk over every page, by everybody who may, is that of test_pseudo.py; here is what it looks by.
"""

import re

import pytest
from django.template import Context, Template

from tests.house.figures import listening
from tests.house.rooms import ROOT, modules

TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))


def shown(text, **values):
    with listening() as heard:
        html = Template("{% load i18n words %}" + text).render(Context(values))
    return heard.printed(html)


@pytest.mark.parametrize(
    "planted",
    [
        "<p>{{ n }}</p>",
        "<p>{{ many|length }}</p>",
        "{% for one in many %}<b>{{ forloop.counter }}</b>{% endfor %}",
        "{% blocktranslate with x=n %}{{ x }} sheets{% endblocktranslate %}",
        "{% blocktranslate count x=n %}{{ x }} a{% plural %}{{ x }} b{% endblocktranslate %}",
        "{% blocktranslate %}{{ n }} sheets{% endblocktranslate %}",
        "<p>{{ half }}</p>",
    ],
)
def test_plain_number_in_text_is_found(planted):
    found = shown(planted, n=12, many=[1, 2], half=0.5)
    assert len(found) == 1
    assert ":1 " in found.pop()


@pytest.mark.parametrize(
    "sound",
    [
        "<p>{{ n|figures }}</p>",
        "<p>{{ many|length|figures }}</p>",
        '<p id="p-{{ n }}" data-n="{{ n }}">{{ yes }}</p><style>p { width: {{ n }}px }</style>',
        "{% blocktranslate count x=n|figures %}{{ x }} sheet{% plural %}{{ x }} sheets"
        "{% endblocktranslate %}",
        "<p>{{ half|decimal:1 }} {{ code|ltr }}</p>",
    ],
)
def test_number_in_figures_or_out_of_the_text_is_not(sound):
    assert shown(sound, n=12, many=[1, 2], half=0.5, yes=True, code=12) == set()


def test_every_plural_counts_in_figures():
    """Also where no sample of these tests goes: what a plural is chosen by is a number always."""
    asked = re.compile(r"\{%\s*blocktrans(?:late)?\b[^%]*?\bcount (\w+)=([^\s%]+)")
    bare = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in TEMPLATES
        for name, said in asked.findall(path.read_text("utf-8"))
        if not said.endswith("|figures")
    ]
    assert bare == []


# What is parted by commas for a machine, a console, or a hand that types it again.
JOINED = {
    "relations/privacy/middleware.py": "a header",
    "relations/privacy/management/commands/serve.py": "a console",
    "relations/consent/management/commands/blank_forms.py": "a console",
    "relations/consent/management/commands/file_scans.py": "a console",
    "relations/rights/management/commands/backup.py": "a console",
    "relations/rights/restoring.py": "SQL",
    "relations/rights/impact_rows.py": "names of fields, as they stand in the code",
    "relations/consent/team.py": "codes and tags, on a sheet that is filled in by hand",
    "relations/trips/forms.py": "a field in which it was typed so, and is typed again",
}


def test_no_module_makes_lists_for_readers_by_hand():
    by_hand = {str(one) for one in modules() if re.search(r'"[,،] "\.join\(', one.text)}
    assert by_hand == set(JOINED)


def test_no_template_makes_lists_hours_or_decimals_by_hand():
    by_hand = re.compile(
        r"\{% if not forloop\.last %\}, |\|join:\", |\|time:\"H|\|date:\"H|\|floatformat:\d"
    )
    assert [str(path) for path in TEMPLATES if by_hand.search(path.read_text("utf-8"))] == []


def test_no_template_prints_how_many_by_hand():
    plain = re.compile(r">\s*\{\{ [^}|]*(?:\|length|forloop\.counter) \}\}")
    assert [str(path) for path in TEMPLATES if plain.search(path.read_text("utf-8"))] == []
