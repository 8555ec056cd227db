"""What README.md and DEVELOPERS.md name is there: files, functions, commands, standards."""

import ast
import re

import pytest
from django.core.management import get_commands

from tests.house.rooms import PACKAGE, ROOT

GUIDES = {name: (ROOT / name).read_text("utf-8") for name in ("README.md", "DEVELOPERS.md")}
BOTH = "\n".join(GUIDES.values())
STOP_AT_LINES, HEAVIEST = 200, 120_000
# A path ends in one of these; what has a sign for something else in it names many.
ENDS = "py|md|json|csv|html|css|js|po|png|svg"
PATH = re.compile(rf"(?<![\w/.:-])(?:\.?[\w-]+/)*[\w-]+\.(?:{ENDS})\b")
FOLDER = re.compile(r"`((?:relations|tests|templates|fixtures|locale)/[\w/]*)`")
STANDARD = re.compile(
    r"RFC \d+|SP 800-\w+|ISO/IEC (?:TS )?\d+|ISO \d+|UAX \d+|BCP \d+|E\.164|PDF/[\w-]+"
    r"|DPV|IPTC|PLUS|XMP|CLDR|WCAG|ASVS"
)
# `rooms.py`, `name`: what a guide says stands in a file.
STANDS_IN = re.compile(r"`((?:\w+/)+\w+\.py)`, `(\w+)`")
WRITTEN_BY = {"django.po", "site.ext"}  # in a folder that stands for many; on the reader's machine


def faults(text: str) -> set[str]:
    """The paths in `text` that lead nowhere, from the top, from the package, or by name alone."""
    named = {path for path in PATH.findall(text) if path not in WRITTEN_BY}
    tops = (ROOT, PACKAGE, ROOT / "tests", ROOT / "fixtures")
    lost = {path for path in named if not any((top / path).exists() for top in tops)}
    by_name = {
        path
        for path in lost
        if "/" not in path and (any(PACKAGE.rglob(path)) or any((ROOT / "tests").rglob(path)))
    }
    folders = {path for path in FOLDER.findall(text) if not (ROOT / path).exists()}
    return lost - by_name | folders


def defined(path: str) -> set[str]:
    """What a module of the package defines at its top."""
    tree = ast.parse((PACKAGE / path).read_text(encoding="utf-8"))
    return {node.name for node in tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)}


def standards(text: str) -> set[str]:
    """The standards named in `text`, however many spaces a writer took."""
    return set(STANDARD.findall(re.sub(r"RFC ?(?=\d)", "RFC ", text)))


ROWS = [
    [cell.strip() for cell in line.strip("|").split("|")]
    for line in GUIDES["README.md"].partition("## Where each standard")[2].splitlines()
    if line.startswith("| ") and "`" in line and line.count("|") == 5
]


@pytest.mark.parametrize("name", GUIDES)
def test_every_path_of_a_guide_leads_somewhere(name):
    assert not faults(GUIDES[name])


def test_paths_that_lead_nowhere_are_found():
    said = (
        "`people/word.py`, `people/gone.py` and `rules.py`, `tests/nowhere/`, [a](.pictures/b.png)"
    )
    assert faults(said) == {"people/gone.py", "tests/nowhere/", ".pictures/b.png"}


def test_every_function_of_a_guide_stands_in_its_file():
    found = STANDS_IN.findall(" ".join(GUIDES["DEVELOPERS.md"].split()))
    assert len(found) > 10
    assert not [(path, what) for path, what in found if what not in defined(path)]


def test_every_command_of_a_guide_is_there():
    said = set(re.findall(r"manage\.py ([a-z_]+)", BOTH))
    assert {"demo", "test", "begin"} < said
    assert not said - {*get_commands(), "version"}


def test_every_setting_of_the_readme_is_read():
    read = set(re.findall(r"\"([A-Z_]+)\"", (PACKAGE / "settings.py").read_text(encoding="utf-8")))
    said = set(re.findall(r"RELATIONS_([A-Z_]+)", GUIDES["README.md"]))
    assert "HOME" in said
    assert not said - read


def test_every_picture_is_light_and_shown():
    pictures = list((ROOT / ".pictures").iterdir())
    assert len(pictures) > 6
    assert not [p.name for p in pictures if p.name not in GUIDES["README.md"]]
    assert not [p.name for p in pictures if p.stat().st_size > HEAVIEST]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_standard_stands_where_the_table_says(row):
    """Each is named in what the row names, and a standard that is named nowhere is not used."""
    standard, _, code, tested = row
    paths = re.findall(r"`([^`]+)`", code + tested)
    assert "`tests/" in tested
    there = standards("\n".join((ROOT / path).read_text(encoding="utf-8") for path in paths))
    assert standards(standard)
    assert not standards(standard) - there


def test_table_of_standards_is_found():
    assert len(ROWS) > 20


def test_developers_read_less_than_two_hundred_lines():
    assert GUIDES["DEVELOPERS.md"].count("\n") < STOP_AT_LINES
