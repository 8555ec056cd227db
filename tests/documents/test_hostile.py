"""What somebody types is printed as letters, what is planted stops the paper; nothing is opened.

Snippets and what the engine does with them unguarded: paper.md 6 (19 of 26 touched something).
"""

import re
import subprocess
import sys
from dataclasses import replace
from functools import cache

import pytest
from django.template import Context, Template

from relations.consent import paper
from relations.documents.columns import MarkupError
from relations.documents.render import MissingLetters, OutsideAddress, RenderFault, render
from tests.consent.test_paper import column, form, said, with_label, with_text
from tests.documents.hostile import FILE, NEAR, ROOT, SNIPPETS

TEMPLATES = sorted(
    path for path in (ROOT / "templates").rglob("*.html") if "paper" in path.relative_to(ROOT).parts
)
SHEET = (
    '<html lang="en"><title>{{ serial }}</title><body>'
    "{% for name in names %}<h1>{{ name }}</h1><p>{{ name }}</p>"
    '<p><span role="img" aria-label="{{ name }}">x</span></p>{% endfor %}</body></html>'
)


def sheet(*names: str) -> str:
    """A page with names and notes, set as the papers set them."""
    return Template(SHEET).render(Context({"serial": "70042-74", "names": names}))


@cache
def whole_form() -> str:
    return paper.html(form("fr", "ar"))


def test_there_are_twenty_six_ways_and_each_asks_for_something():
    assert len(SNIPPETS) == len(set(SNIPPETS.values())) == 26


@pytest.mark.needs("pdftotext")
def test_names_and_notes_that_look_like_markup_are_printed_as_letters():
    css = "* { overflow-wrap: anywhere; font-size: 9pt }"
    content = render(sheet(*SNIPPETS.values()), lang="en", title="70042-74", css=css)
    found = re.sub(r"\s", "", said(content))
    for what, snippet in SNIPPETS.items():
        assert found.count(re.sub(r"\s", "", snippet)) >= 2, what


@pytest.mark.needs("pdftotext")
@pytest.mark.parametrize("what", ["picture from a file", "attachment of the page", "frame"])
def test_number_on_the_real_form_is_printed_as_letters(what):
    content = paper.pdf(form("fr", "en", stop_number=SNIPPETS[what]))
    assert re.sub(r"\s", "", SNIPPETS[what]) in re.sub(r"\s", "", said(content))


@pytest.mark.parametrize("snippet", SNIPPETS.values(), ids=SNIPPETS)
def test_snippet_in_what_is_filled_in_never_becomes_markup(snippet):
    page = paper.html(form(stop_number=snippet, version=snippet))
    assert snippet not in page


@pytest.mark.parametrize("snippet", SNIPPETS.values(), ids=SNIPPETS)
def test_snippet_planted_in_a_template_stops_the_paper(snippet):
    for page in (whole_form(), sheet("Asha")):
        planted = page.replace("</body>", f"{snippet}</body>")
        with pytest.raises(OutsideAddress):
            render(planted, lang="fr", title="70042-74", css=paper.style())


@pytest.mark.parametrize("snippet", SNIPPETS.values(), ids=SNIPPETS)
def test_snippet_in_a_wording_stops_the_paper(snippet):
    held = column("fr")
    for plant in (
        lambda: with_text(held, snippet),
        lambda: with_label(held, "caution", snippet),
        lambda: replace(held, heading=snippet),
        lambda: replace(held, clauses=(held.clauses[0]._replace(heading=snippet),)),
    ):
        with pytest.raises(MarkupError):
            plant()


@pytest.mark.parametrize(
    "css",
    [
        f'@import "{NEAR}";',
        f"p {{ background: url({FILE}) }}",
        f'@font-face {{ font-family: x; src: url("{FILE}") }} p {{ font-family: x }}',
        f'@color-profile --x {{ src: url("{FILE}") }}',
    ],
)
def test_address_in_a_style_sheet_stops_the_paper(css):
    with pytest.raises(OutsideAddress):
        render(sheet("Asha"), lang="en", title="x", css=css)


IN_A_PROCESS = """
import django
django.setup()
from relations.consent import paper
from relations.documents import outside
from relations.documents.render import RenderFault, render
from tests.consent.test_paper import form
from tests.documents.hostile import SNIPPETS, watched
from tests.documents.test_hostile import sheet

for warm in (sheet("Asha"), paper.html(form("fr", "ar"))):
    render(warm, lang="fr", title="x", css=paper.style())
touched = watched()
render(sheet(*SNIPPETS.values()), lang="en", title="x")
render(paper.html(form("fr", "ar", stop_number=SNIPPETS["frame"])), lang="fr", title="x")
looked_at = outside.asked
for look in (looked_at, lambda elements: []):
    outside.asked = look
    for snippet in SNIPPETS.values():
        try:
            render(sheet("Asha").replace("</body>", snippet), lang="en", title="x")
        except RenderFault:
            continue
        assert look is not looked_at, snippet
assert not touched, touched
open("/etc/hostname").close()
assert touched == ["open /etc/hostname"], "the hook sees nothing"
"""


def test_no_file_and_no_line_is_touched_with_and_without_the_first_look():
    """The fetcher alone holds too: whatever the first look misses is refused where it is asked."""
    ran = subprocess.run(
        [sys.executable, "-c", IN_A_PROCESS],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr


def test_engine_left_to_itself_would_open_the_file():
    """Without this the tests above could pass on an engine that opens nothing anyway."""
    code = """
from relations.documents.fonts import use_own_fonts
use_own_fonts()
import weasyprint
from tests.documents.hostile import SNIPPETS, watched
weasyprint.HTML(string="<p>x</p>").write_pdf()
touched = watched()
weasyprint.HTML(string=SNIPPETS["attachment of the page"]).write_pdf()
assert "open /etc/hostname" in touched, touched
"""
    ran = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", code],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_template_of_a_paper_lets_words_in_unescaped(path):
    source = path.read_text(encoding="utf-8")
    assert not re.search(r"\|\s*(safe|safeseq|unescape)\b|autoescape\s+off|<script|<link", source)


def test_templates_of_papers_were_found():
    assert {path.name for path in TEMPLATES} >= {"form.html", "serial.html"}


@pytest.mark.parametrize("place", ["the form", "a sheet"])
def test_tamil_name_stops_the_paper_and_its_letters_are_named(place):
    name = "தமிழ்"
    page = sheet(name) if place == "a sheet" else paper.html(form(stop_number=name))
    with pytest.raises(MissingLetters) as refused:
        render(page, lang="fr", title="70042-74", css=paper.style())
    assert {letter[-1] for letter in refused.value.letters} == set(name)
    assert all(re.match(r"U\+0B[0-9A-F]{2} ", letter) for letter in refused.value.letters)
    assert isinstance(refused.value, RenderFault)
