"""A file of cases is read strictly, and a mismatch is printed and counted."""

import copy
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from . import casefile
from .fields import Fields, ShapeError

ROOT = Path(__file__).parent.parent.parent
CLEARING = ROOT / "tests" / "cases" / "clearing.json"
FIRST = json.loads(CLEARING.read_text(encoding="utf-8"))[0]


def test_command_needs_no_django_and_passes_all() -> None:
    block = "import sys; sys.modules['django'] = None; "
    run = "import runpy; runpy.run_module('tests.consent.casefile', run_name='__main__')"
    done = subprocess.run(
        [sys.executable, "-c", block + run, str(CLEARING)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stdout == "81 passed, 0 failed\n"
    assert (done.returncode, done.stderr) == (0, "")


def written(tmp_path: Path, cases: Any) -> list[str]:
    """The arguments for a file holding these cases."""
    path = tmp_path / "cases.json"
    path.write_text(json.dumps(cases), encoding="utf-8")
    return [str(path)]


def test_mismatch_is_printed_and_ends_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = copy.deepcopy(FIRST)
    wrong["people"][0]["hold"] = True
    assert casefile.main(written(tmp_path, [FIRST, wrong, 7])) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines == [
        "case 1: adult, filed form, wall yes",
        "  expected cleared [] look again 2027-04-18",
        "  given    not_cleared [a HOLD] look again 2027-04-18",
        "case in place 3: ",
        "  not weighed: case: an object was expected",
        "1 passed, 2 failed",
    ]


def test_condition_is_marked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wrong = copy.deepcopy(FIRST)
    wrong["planned_use"]["names"] = {}
    assert casefile.main(written(tmp_path, [wrong])) == 1
    assert "conditions [a ~NAMED-LESS]" in capsys.readouterr().out


def test_sitter_of_whom_nothing_is_given_fails_that_case(tmp_path: Path) -> None:
    wrong = copy.deepcopy(FIRST)
    wrong["people"] = []
    assert casefile.mismatch(wrong) == "not weighed: nobody has the code 'a'"


@pytest.mark.parametrize("arguments", [[], ["no-such-file.json"], ["a", "b"]])
def test_no_file_ends_with_2(arguments: list[str]) -> None:
    assert casefile.main(arguments) == 2


def test_file_that_is_no_list_ends_with_2(tmp_path: Path) -> None:
    assert casefile.main(written(tmp_path, {})) == 2


def broken(path: list[Any], value: Any) -> Any:
    """The first case with one thing in it changed."""
    case = copy.deepcopy(FIRST)
    inner = case
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return case


PERSON, FORM = ["people", 0], ["people", 0, "forms", 0]


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (["colour"], 1, "case: unknown ['colour']"),
        ([*PERSON, "faith"], "", "person: unknown ['faith']"),
        ([*PERSON, "hold"], 1, "person: hold is no bool"),
        ([*PERSON, "authority_holders"], True, "person: authority_holders is no int"),
        ([*PERSON, "risk"], "high", "person: risk does not know 'high'"),
        ([*PERSON, "taken_back"], {"everything": "2026-01-01"}, "does not know 'everything'"),
        ([*PERSON, "last_talk_on"], "1 May", "person: last_talk_on does not know '1 May'"),
        ([*FORM, "uses"], ["wall"], "form: uses does not know 'wall'"),
        ([*FORM, "sittings"], [1], "form: sittings does not know 1"),
        ([*FORM, "own_condition"], None, "form: own_condition is no str"),
        ([*FORM, "childs_answer"], "perhaps", "form: childs_answer does not know 'perhaps'"),
        (["planned_use", "countries"], "all", "planned_use: countries is no list"),
        (["expect", "result"], "yes", "expect: result does not know 'yes'"),
        (["expect", "stops"], [{"about": "a"}], "reason: code is missing"),
    ],
)  # fmt: skip
def test_odd_case_is_named_not_guessed(path: list[Any], value: Any, words: str) -> None:
    with pytest.raises(ShapeError) as error:
        casefile.weigh_case(broken(path, value))
    assert words in str(error.value)


def test_missing_key_is_named() -> None:
    case = copy.deepcopy(FIRST)
    del case["picture"]["hold"]
    with pytest.raises(ShapeError, match="picture: hold is missing"):
        casefile.weigh_case(case)


def test_birth_date_wins_over_the_year() -> None:
    found = {"born_on": "1990-05-01", "born_year": 1980}
    with Fields(found, "person") as fields:
        born = casefile.birth(fields)
    assert born is not None and born.earliest == born.latest
    assert born.earliest.year == 1990
