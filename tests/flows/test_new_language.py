"""A language of the screens comes in by the steps of DEVELOPERS.md, each taken as it is said there.

The language is made up: it runs from right to left, Django knows neither its words nor its way,
and all its letters are wide. Its tag is one that CLDR knows, since days and lists are CLDR's.
"""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from babel.messages.pofile import write_po

from tests.clone import ROOT, Clone, clone
from tests.house import pseudo
from tests.house.speaking import source

TAG, ITSELF = "ps", "ＰＳ"
COLUMN = "Made up"
KNOWN = re.compile(r"^LANGUAGES = \[(.*)\]$", re.MULTILINE)
BIDI = f'LANGUAGES_BIDI = ["he", "ar", "ar-dz", "ckb", "fa", "ug", "ur", "{TAG}"]'
HEAD = b"# Words of the site in a made-up language, to be read by a native speaker.\n"

LOOKED = (
    f"tests/house/test_every_language.py::test_every_page_is_in_the_language_and_says_so[{TAG}]",
    f"tests/house/test_catalogues.py::test_every_language_of_the_screens_is_whole[{TAG}]",
    f"tests/house/test_catalogues.py::test_every_catalogue_is_sound[{TAG}]",
    "tests/house/test_catalogues.py::test_glossary_has_one_word_in_each_language_for_each_term",
)


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Clone:
    """The project as it is before anybody thought of the language."""
    return clone(tmp_path_factory.mktemp("spoken") / "relations")


def guide() -> str:
    """The steps, on one line."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    return " ".join(text.partition("- **A language of the screens**")[2].split())


def step(number: int, *words: str) -> None:
    """The guide has this step, and it names these."""
    said = guide().partition(f" {number}. ")[2].partition(f" {number + 1}. ")[0]
    assert all(f"`{word}`" in said for word in words), said


def change(path: Path, what: re.Pattern[str], into: str) -> None:
    text, times = what.subn(into, path.read_text("utf-8"), count=1)
    assert times == 1, path
    path.write_text(text, "utf-8")


@pytest.mark.once
def test_a_language_comes_in_by_the_steps_of_the_guide(copy: Clone) -> None:
    step(1, "LANGUAGES", "settings.py", "LANGUAGES_BIDI")
    change(
        copy.root / "relations/settings.py",
        KNOWN,
        rf'LANGUAGES = [\1, ("{TAG}", "{ITSELF}")]\n{BIDI}',
    )
    asked = copy.run("check")
    assert asked.returncode == 1
    assert f"(languages.E001) The language {TAG} has no catalogue." in asked.stderr

    step(2, "locale/GLOSSARY.md", "tests/house/test_catalogues.py")
    glossary = copy.root / "locale/GLOSSARY.md"
    lines = glossary.read_text("utf-8").splitlines()
    glossary.write_text("\n".join(map(with_column, lines)), "utf-8")
    tests = copy.root / "tests/house/test_catalogues.py"
    change(tests, re.compile('"Nepali", "meaning"'), f'"Nepali", "{COLUMN}", "meaning"')

    step(3, "locale/<tag>/LC_MESSAGES/django.po", "Plural-Forms", "manage.py build_translations")
    po = copy.root / "locale" / TAG / "LC_MESSAGES/django.po"
    po.parent.mkdir(parents=True)
    write(po, plurals=1)
    refused = copy.run("build_translations")
    assert refused.returncode == 1
    assert f"{TAG} has defects" in refused.stderr
    assert "plural_forms: " in refused.stderr
    assert not po.with_suffix(".mo").exists()
    write(po, plurals=2)
    assert copy.run("check").returncode == 0
    assert po.with_suffix(".mo").exists()

    step(4, "static/site.css")
    assert f":lang({TAG})" in (copy.root / "relations/static/site.css").read_text()

    step(5, "manage.py test tests/house tests/languages tests/browser/test_every_language.py")
    tested = run_tests(copy)
    assert tested.returncode == 0, tested.stdout[-2_000:]
    assert f"{len(LOOKED)} passed" in tested.stdout


def with_column(line: str) -> str:
    """A row of the table of terms with a cell more, before the last."""
    if not line.startswith("|"):
        return line
    cells = line.strip("|").split("|")
    new = COLUMN if "English" in cells[0] else "---" if set(cells[0]) == {"-"} else "Ｗ"
    return "|".join(["", *cells[:4], new, *cells[4:], ""])


def write(po: Path, plurals: int) -> None:
    """The whole catalogue, with so many of its two plural forms."""
    made = pseudo.catalogue(source(), TAG)
    for message in made:
        if not isinstance(message.id, str):
            message.string = (*message.string[:plurals], *[""] * (2 - plurals))
    with po.open("wb") as file:
        file.write(HEAD)
        made.header_comment = "#"
        write_po(file, made, width=0)


def run_tests(copy: Clone) -> subprocess.CompletedProcess[str]:
    """Those of the tests named by the guide that look at the new language, in the copy."""
    (copy.root / ".pytest.ini").write_text((ROOT / ".pytest.ini").read_text())
    asked = [sys.executable, "-m", "pytest", "-q", "-c", ".pytest.ini", *LOOKED]
    return subprocess.run(
        asked,
        cwd=copy.root,
        env=copy.environment(),
        capture_output=True,
        text=True,
        check=False,
    )
