"""The trade's own words on screens and in names, none of selling, policing or machines."""

import ast
import re

import pytest

from tests.house.rooms import ROOT, modules

# Words that file people, sell to them or hunt them. `proxy` and `capture` are barred from screens
# only: a server may stand behind a proxy.
AVOIDED = {
    *("lead", "leads", "prospect", "prospects", "client", "clients", "target", "targets"),
    *("subject", "subjects", "case", "cases", "beneficiary", "beneficiaries", "opt-in", "opt-out"),
    *("convert", "converts", "converted", "conversion", "capture", "captured", "asset", "assets"),
    *("kanban", "pipeline", "stage", "stages", "funnel", "revoked", "proxy", "declined"),
}
IN_NAMES = AVOIDED - {"proxy", "capture", "captured"}
# Names that Django itself gives to what is written over here.
IMPOSED = {"relations/privacy/cipher/base.py": {"client", "convert"}}
TRANSLATED = {"_", "gettext", "gettext_lazy", "ngettext", "ngettext_lazy", "pgettext", "npgettext"}
ALLOWED_PHRASES = re.compile(r"\b(in (any|no|that|this)? ?case|take the lead)\b", re.IGNORECASE)


def screen_words(template: str) -> str:
    """What a person could read of a template: text, translated words, labels and class names."""
    plain = re.sub(r"{#.*?#}|{% comment %}.*?{% endcomment %}", " ", template, flags=re.DOTALL)
    plain = re.sub(r"<(script|style)\b.*?</\1>", " ", plain, flags=re.DOTALL)
    said = re.findall(r"{%\s*(?:translate|trans)\s+[\"'](.*?)[\"']", plain)
    plain = re.sub(r"{%.*?%}|{{.*?}}", " ", plain, flags=re.DOTALL)
    said += re.findall(r"\b(?:title|alt|placeholder|aria-label|value|class)=\"(.*?)\"", plain)
    return " ".join([*said, re.sub(r"<[^>]*>", " ", plain, flags=re.DOTALL)])


def avoided_in(text: str) -> set[str]:
    """The avoided words that stand in `text` as whole words."""
    words = re.findall(r"[a-z]+(?:-[a-z]+)*", ALLOWED_PHRASES.sub(" ", text).lower())
    return AVOIDED.intersection(words)


def names_in(tree: ast.AST) -> set[str]:
    """The names a module gives: classes, functions, arguments, variables and fields."""
    given = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            given.add(node.name)
        elif isinstance(node, ast.arg):
            given.add(node.arg)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            given.add(node.id)
    return given


TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_template_speaks_the_words_of_the_trade(path):
    assert not avoided_in(screen_words(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("module", list(modules()), ids=str)
def test_module_speaks_the_words_of_the_trade(module):
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in TRANSLATED:
            for said in (a.value for a in node.args if isinstance(a, ast.Constant)):
                assert not avoided_in(str(said)), f"line {node.lineno}: {said}"
    parts = {part for name in names_in(module.tree) for part in re.split(r"_|(?=[A-Z])", name)}
    barred = IN_NAMES - IMPOSED.get(str(module), set())
    assert not barred.intersection(part.lower() for part in parts)


def test_style_sheet_names_no_class_after_an_avoided_word():
    sheet = (ROOT / "relations" / "static" / "site.css").read_text(encoding="utf-8")
    assert not AVOIDED.intersection(re.findall(r"\.([a-z][a-z-]*)", sheet))


def test_an_avoided_word_is_found_wherever_it_could_be_read():
    page = '{# a case #}<p class="lead">{% translate "Our clients" %}{{ target }} new stage</p>'
    assert avoided_in(screen_words(page)) == {"lead", "clients", "stage"}
    assert avoided_in("In any case, ask.") == set()
