"""Where files stand, what they are called and how long they may be."""

import ast
import re
import subprocess
from itertools import combinations
from pathlib import Path

import pytest
from django.template.backends.django import get_installed_libraries
from django.template.library import import_library

from tests.house.rooms import (
    EVERYWHERE,
    FOLDERS,
    HOUSE,
    OWN,
    PACKAGE,
    PARTED,
    ROOMS,
    ROOT,
    Module,
    functions,
    length,
    modules,
)

TOP = {
    *("README.md", "DEVELOPERS.md", "manage.py", "requirements.txt"),
    *("relations", "templates", "locale", "tests", "fixtures"),
    "var",  # homes; never in git
}
STOP_AT_LINES, STOP_AT_FUNCTION, STOP_AT_VIEW, STOP_AT_TEMPLATE = 300, 50, 25, 150
LOADS, FILTERS = re.compile(r"{% load ([^%]*?) %}"), re.compile(r"\|(\w+)")
MODULES = list(modules())
BEHAVING = [
    module for module in MODULES if module.room and module.path.stem not in {"__init__", "urls"}
]


def test_top_level_holds_only_what_the_owner_fixed():
    visible = {path.name for path in ROOT.iterdir() if not path.name.startswith((".", "__"))}
    assert visible - {"coverage.json"} <= TOP


def test_every_folder_of_the_package_is_a_room_with_a_storey():
    folders = {path.name for path in PACKAGE.iterdir() if path.is_dir()}
    assert folders - {"static", "__pycache__"} == set(ROOMS)


@pytest.mark.parametrize("module", MODULES, ids=str)
def test_module_has_a_name_the_house_knows(module: Module):
    parts = module.path.relative_to(PACKAGE).parts
    if module.room is None:
        assert module.path.stem in HOUSE
    elif len(parts) == 2:
        stem = module.path.stem
        assert stem in EVERYWHERE | OWN[module.room] or stem.endswith(PARTED)
    else:
        assert set(parts[1:-1]) <= FOLDERS


@pytest.mark.parametrize("module", MODULES, ids=str)
def test_module_opens_with_a_sentence_and_stops_in_time(module: Module):
    if module.tree.body:
        said = ast.get_docstring(module.tree) or ""
        assert said.split("\n\n")[0].rstrip().endswith("."), "open with one sentence"
    lines = module.text.count("\n")
    assert lines <= STOP_AT_LINES
    stop = STOP_AT_VIEW if module.path.stem.endswith("views") else STOP_AT_FUNCTION
    for function in functions(module.tree):
        assert length(function) <= stop, f"{function.name} is {length(function)} lines"


@pytest.mark.parametrize(
    "module",
    [m for m in MODULES if m.path.stem in {"rules", "actions", "access", "graph"}],
    ids=str,
)
def test_public_function_of_a_rule_or_an_action_says_what_it_does(module: Module):
    for function in module.tree.body:
        if isinstance(function, ast.FunctionDef) and not function.name.startswith("_"):
            assert ast.get_docstring(function), f"{function.name} has no docstring"


@pytest.mark.parametrize("module", list(modules("*views")), ids=str)
def test_view_reaches_rows_through_a_door_only(module: Module):
    managers = {"objects", "_default_manager", "_base_manager"}
    reached = [
        n for n in ast.walk(module.tree) if isinstance(n, ast.Attribute) and n.attr in managers
    ]
    assert not reached, f"line {reached[0].lineno}: ask access, queries or an action instead"


@pytest.mark.parametrize("module", BEHAVING, ids=str)
def test_module_has_its_test_in_the_mirrored_place(module: Module):
    """What was parted by subject (`known_views`) may be tested with the whole (`test_views`)."""
    room, stem = module.room or "", module.path.stem
    folders = set(module.path.relative_to(PACKAGE / room).parts[:-1])
    names = {stem, stem.rsplit("_", 1)[-1], *folders - {"management", "commands", "templatetags"}}
    there = [name for name in names if (ROOT / "tests" / room / f"test_{name}.py").exists()]
    assert there, f"write tests/{room}/test_{stem}.py"


def mirrored(room: str, path: Path) -> bool:
    """Whether a test stands beside a module of its name, or a tool of the tests themselves.

    `test_<module>_by_chance.py` holds the invented inputs for a module with many worked cases.
    """
    name = path.stem.removeprefix("test_").removesuffix("_by_chance")
    shapes = (f"{name}.py", f"*_{name}.py", f"{name}/__init__.py")
    there = [path for shape in shapes for path in (PACKAGE / room).rglob(shape)]
    return bool(there) or (path.parent / f"{name}.py").exists()


def test_every_test_of_a_room_mirrors_a_module():
    tests = [(room, path) for room in ROOMS for path in (ROOT / "tests" / room).glob("test_*.py")]
    assert not [f"{room}/{path.name}" for room, path in tests if not mirrored(room, path)]


def test_templates_stop_in_time():
    long = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "templates").rglob("*.html")
        if len(path.read_text().splitlines()) > STOP_AT_TEMPLATE
    }
    assert not long


def taken_twice(template: str) -> set[str]:
    """The filters that a template uses and that two of the libraries it loads have."""
    found = get_installed_libraries()
    loaded = {name for names in LOADS.findall(template) for name in names.split()}
    held = [set(import_library(found[name]).filters) for name in sorted(loaded)]
    twice = {name for one, other in combinations(held, 2) for name in one & other}
    return twice & set(FILTERS.findall(template))


def test_no_template_takes_a_filter_from_two_libraries():
    """The last one loaded would win, whatever order a later hand loads them in."""
    paths = (ROOT / "templates").rglob("*.html")
    found = {str(path.relative_to(ROOT)): taken_twice(path.read_text()) for path in paths}
    assert not {path: names for path, names in found.items() if names}


def test_rule_against_a_filter_of_two_libraries_sees_one():
    assert taken_twice("{% load meeting_words rights_words %}{{ call|outcome }}") == {"outcome"}
    assert taken_twice("{% load meeting_words %}{{ call|outcome }}") == set()


def test_rule_against_long_functions_sees_an_inner_one():
    tree = ast.parse("def outer():\n    def inner():\n" + "        x = 1\n" * 60)
    assert [length(function) > STOP_AT_FUNCTION for function in functions(tree)] == [True, True]


def test_no_path_of_one_machine_stands_in_the_project():
    known = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if known.returncode:
        pytest.skip("not a git work tree, so what belongs to the project is not known")
    paths = [ROOT / name for name in known.stdout.splitlines() if (ROOT / name).is_file()]
    homes = ["/" + folder + "/" for folder in ("work", "root", "home")]
    found = [
        f"{path.relative_to(ROOT)}: {home}"
        for path in paths
        for home in homes
        if home.encode() in path.read_bytes() and path.stat().st_size < 2**20
    ]
    assert not found
