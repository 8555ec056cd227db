"""The table of OWASP ASVS 5.0.0: whole, and every test and setting that it names is there."""

import ast
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from django.conf import settings

from tests.house.rooms import ROOT

TABLE = Path(__file__).with_name("asvs.md")
STATES = {"met", "in part", "not ours"}

# Numbers and levels of ASVS 5.0.0, from the standard's official JSON, as the design of the checks
# picked them (7.2): those that fit a site of this kind.
LEVELS = {
    1: """
        1.2.1 1.2.3 1.2.4 1.5.1 2.2.1 2.2.2 2.3.1 3.3.1 3.4.1 3.5.1 3.5.3 5.2.1 5.2.2 5.3.1 5.3.2
        6.2.1 6.2.4 6.2.5 6.2.7 6.2.8 6.4.2 7.2.3 7.2.4 7.4.1 7.4.2 8.2.1 8.2.2 8.3.1 11.3.1 11.3.2
        11.4.1 12.1.1 12.2.1 13.4.1 14.2.1 14.3.1 15.3.1
    """,
    2: """
        2.2.3 2.3.3 2.3.4 3.3.2 3.3.3 3.3.4 3.4.3 3.4.4 3.4.5 3.4.6 5.4.1 5.4.2 6.2.9 6.2.10 6.2.12
        6.3.3 6.5.1 6.5.2 6.5.4 6.5.5 7.3.1 7.3.2 7.4.3 7.5.1 7.5.2 8.1.2 8.2.3 11.4.2 11.5.1 13.4.2
        14.1.1 14.2.2 14.2.4 14.3.2 14.3.3 16.2.1 16.2.2 16.2.5 16.3.1 16.3.2 16.4.1 16.4.2 16.5.1
    """,
    3: "1.2.10 5.2.6 14.2.6 14.2.7 14.2.8",
}


@dataclass(frozen=True)
class Row:
    """One requirement; `by` names tests and settings, in words where need be."""

    number: str
    level: str
    asks: str
    state: str
    by: str

    @property
    def tests(self) -> list[str]:
        return re.findall(r"`(tests/[^`]+::[^`]+)`", self.by)

    @property
    def settings(self) -> list[str]:
        return re.findall(r"`settings\.(\w+)`", self.by)

    @property
    def words(self) -> str:
        """What `by` says beside the names."""
        return re.sub(r"`[^`]*`", "", self.by).strip(" .:;,")


def read(text: str) -> list[Row]:
    lines = [line for line in text.splitlines() if re.match(r"\| *\d", line)]
    return [Row(*(cell.strip() for cell in line.strip("|").split("|"))) for line in lines]


ROWS = read(TABLE.read_text(encoding="utf-8"))


@cache
def names_in(path: Path) -> frozenset[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return frozenset(n.name for n in ast.walk(tree) if isinstance(n, ast.FunctionDef))


def faults(row: Row) -> list[str]:
    """What a row lacks, or names that is not there."""
    found = [f"is no state: {row.state}"] if row.state not in STATES else []
    found += ["an empty cell"] if not all((row.asks, row.state, row.by)) else []
    for name in row.tests:
        path, _, test = name.partition("::")
        if not (ROOT / path).is_file() or test not in names_in(ROOT / path):
            found.append(f"no such test: {name}")
    found += [f"no such setting: {name}" for name in row.settings if not hasattr(settings, name)]
    if set(re.findall(r"`([^`]*)`", row.by)) - {
        *row.tests,
        *(f"settings.{name}" for name in row.settings),
        "__Host-",
    }:
        found.append("names what is neither a test nor a setting")
    if row.state != "not ours" and not (row.tests or row.settings):
        found.append("names nothing that meets it")
    if row.state == "in part" and "Missing: " not in row.by:
        found.append("does not say what is missing")
    if row.state == "not ours" and len(row.words.split()) < 8:
        found.append("does not say why it does not apply")
    return found


def test_table_holds_exactly_the_requirements_that_fit_each_once():
    wanted = {number: str(level) for level, said in LEVELS.items() for number in said.split()}
    assert len(wanted) == 85
    assert [row.number for row in ROWS] == sorted(
        wanted, key=lambda number: [int(part) for part in number.split(".")]
    )
    assert {row.number: row.level for row in ROWS} == wanted


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.number)
def test_row_names_what_meets_it_and_that_is_there(row: Row):
    assert faults(row) == []


@pytest.mark.parametrize(
    ("state", "by", "fault"),
    [
        ("met", "`tests/house/test_asvs.py::test_of_nothing`", "no such test"),
        ("met", "`tests/house/nowhere.py::test_of_nothing`", "no such test"),
        ("met", "`settings.SECURE_NOTHING`", "no such setting"),
        ("met", "we are careful", "names nothing"),
        ("met", "`relations/settings.py` `settings.DEBUG`", "neither a test nor a setting"),
        ("met", "", "an empty cell"),
        ("nearly", "`settings.DEBUG`", "is no state"),
        ("in part", "`settings.DEBUG`", "what is missing"),
        ("not ours", "never", "why it does not apply"),
    ],
)
def test_row_that_proves_nothing_is_found(state, by, fault):
    (row,) = read(f"| 1.2.1 | 1 | asks something | {state} | {by} |")
    assert any(fault in found for found in faults(row))


def test_those_who_build_it_are_led_to_the_table():
    assert "tests/house/asvs.md" in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
