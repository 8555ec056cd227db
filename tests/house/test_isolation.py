"""No template prints a person's words but through the one filter: `iso`, or `ltr` for codes."""

import re
from pathlib import Path

import pytest
from django.template.base import Lexer, TokenType

from tests.house.isolating import OURS, WORDS, bare_prints, loose
from tests.house.test_sealed import SEALED, open_words

ROOT = Path(__file__).resolve().parent.parent.parent
TEMPLATES = {
    str(path.relative_to(ROOT / "templates")): path.read_text("utf-8")
    for path in sorted((ROOT / "templates").rglob("*.html"))
}
# Fields that hold words and are on no page as such: sealed wholes, codes, keys, digests, our own
# or a wording's words (which say their language), and what is shown by name or in a sentence.
OTHERWISE = """
    privacy.User.password privacy.User.languages privacy.User.language privacy.CodeDevice.secret
    privacy.OutboxKey.private privacy.OutboxKey.public privacy.OutboxEntry.said privacy.Mending.old
    privacy.Mending.kind meetings.TravellingSet.secret consent.Reading.answers
    consent.KeptCopy.record people.Speaker.way people.RangUs.perhaps
"""


@pytest.mark.parametrize("name", TEMPLATES)
def test_no_template_prints_words_without_the_filter(name):
    assert list(bare_prints(TEMPLATES[name])) == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_nothing_is_left_to_the_browser_to_guess(name):
    """A bare `<bdi>` does not hold in a PDF, and `dir="auto"` looks past what is isolated in it.

    Source: languages.md 3 (WeasyPrint); HTML, "auto-directionality", which skips `bdi` and
    elements that have a `dir`.
    """
    sentences = re.sub(
        r"{% blocktrans.*?{% endblocktrans\w* %}", "", TEMPLATES[name], flags=re.DOTALL
    )
    assert not re.findall(r'dir="?auto|<bdi(?![^>]* dir=)[^>]*>', sentences)


def test_every_sealed_word_is_known_to_the_reader_of_templates():
    names = {field for field in SEALED if field not in OTHERWISE.split()}
    unknown = {field for field in names if field.rsplit(".", 1)[1] not in WORDS}
    # Numbers and days have filters of their own, which set them apart.
    assert unknown == {
        *("people.PhoneLine.number", "people.PhoneLine.extension"),
        *("people.Participant.born_earliest", "people.Participant.born_latest"),
    }
    assert set(OTHERWISE.split()) <= SEALED | open_words()


def test_whatever_is_let_through_is_still_printed_somewhere():
    printed = {
        said
        for text in TEMPLATES.values()
        for token in Lexer(text).tokenize()
        if token.token_type in (TokenType.VAR, TokenType.BLOCK)
        for said in (token.contents, *re.findall(r"=(\S+)", token.contents))
    }
    assert [ours for ours in OURS if not any(re.fullmatch(ours, said) for said in printed)] == []


@pytest.mark.parametrize(
    ("template", "found"),
    [
        ("<p>{{ person.call_name }}</p>", ["person.call_name"]),
        ('<p>{{ person.call_name|default:"–" }}</p>', ['person.call_name|default:"–"']),
        ("<p>{{ person.call_name|iso }}</p>", []),
        ('<p>{{ person.call_name|iso|default:"–" }}</p>', []),
        ("<bdi>{{ person.call_name }}</bdi>", ["person.call_name"]),
        ("<p>{{ row.file_name|ltr }}</p>", []),
        ('<img alt="{{ picture.alt_text }}">', []),
        ("{% with other=one.place_of.holder %}<p>{{ other }}</p>{% endwith %}", ["other"]),
        ("{% with other=one.holder|iso %}<p>{{ other }}</p>{% endwith %}", []),
        (
            "{% blocktranslate with a=one.called b=n %}<b>{{ a }}</b>{% endblocktranslate %}",
            ["a=one.called"],
        ),
        ("{% blocktranslate with a=one.called|iso %}{{ a }}{% endblocktranslate %}", []),
        ("{% blocktranslate %}It is {{ who }}.{% endblocktranslate %}", ["who"]),
        ("{% whom code as who %}{{ who }}", []),
        ("{{ form.name.label }}", []),
    ],
)
def test_the_reader_of_templates_finds_what_is_bare(template, found):
    assert list(bare_prints(template)) == found


@pytest.mark.parametrize(
    ("page", "found"),
    [
        ("<p>Ring Zqx now</p>", ["Ring Zqx now"]),
        ("<p>Ring <bdi>Zqx</bdi> now</p>", ["Zqx"]),
        ('<p>Ring <bdi dir="auto">Zqx</bdi> now</p>', ["Zqx"]),
        ('<p>Ring <bdi dir="ltr" class="words"><b>Zqx</b></bdi> now</p>', []),
        ('<p dir="rtl">Ring Zqx</p>', ["Ring Zqx"]),
        ("<p>Ring \u2068Zqx\u2069 now</p>", []),
        ("<p>Ring \u2068other\u2069 Zqx</p>", ["Ring \u2068other\u2069 Zqx"]),
        ("<option>Zqx</option>", []),
        ("<option>Zqx (07)</option>", ["Zqx (07)"]),
        ('<bdi dir="ltr">a</bdi> <p>Zqx<br>b</p>', ["Zqx"]),
        ('<input value="Zqx"><title>Zqx</title>', []),
    ],
)
def test_the_reader_of_pages_finds_what_is_loose(page, found):
    assert loose(page, ["Zqx"]) == found
