"""What a page says is whole sentences: no word of ours is set before or after a value by itself.

Every language puts its words in another order; a sentence with a placeholder can be said in each.
Left are heads and labels, which stand before their value in every language: they begin with a
capital letter or end with a colon. Words that only a screen reader hears are kept to the same.
"""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))

OURS = r"""\{% translate ("[^"]*"|'[^']*')(?: context "[^"]*")? %\}"""
VALUE = r"(?:\{\{|\{% (?:include|whom|for)\b)"
BEFORE = re.compile(rf"{OURS}[ ]*(?:</?(?:span|b|bdi|a)\b[^>]*>)*[ ]+(?:<[a-z][^>]*>)*{VALUE}")
AFTER = re.compile(rf"(?:\}}\}}|\{{% endfor %\}})(?:</(?:span|b|bdi|a)>)*[ ]+{OURS}")


def glued(template: str) -> list[str]:
    """Words of ours beside a value that are neither a head nor a whole sentence."""
    before = [word[1:-1] for word in BEFORE.findall(template)]
    after = [word[1:-1] for word in AFTER.findall(template)]
    return [word for word in before if not (word[:1].isupper() or word.endswith(":"))] + [
        word for word in after if not re.match(r"[A-Z(]", word)
    ]


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_word_is_glued_to_a_value(path: Path) -> None:
    assert glued(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "planted",
    [
        '{% translate "until" %} {{ last|day }}',
        '{% translate "until" %} <b class="num">{{ last|day }}</b>',
        '<span>{% translate "until" context "a day" %}</span> {{ last|day }}',
        '{{ last|day }} {% translate "until" %}',
        '<bdi>{{ last }}</bdi> {% translate "until" %}',
        '{% translate "until" %} {% for one in days %}{{ one }}{% endfor %}',
        '{% for one in days %}{{ one }}{% endfor %} {% translate "until" %}',
    ],
)
def test_glued_word_is_found(planted: str) -> None:
    assert glued(planted) == ["until"]


@pytest.mark.parametrize(
    "whole",
    [
        '{% translate "Form" %} {{ code }}',
        '{% translate "said:" %} {{ words }}',
        '{{ sentence }} {% translate "Ask them." %}',
        '{% translate "own" %}</b></p><p>{{ code }}',
    ],
)
def test_head_or_whole_sentence_passes(whole: str) -> None:
    assert glued(whole) == []
