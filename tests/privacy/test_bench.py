"""The measuring command runs tests/bench and nothing else, and a missed bar fails it."""

import ast
import itertools
import json
import os
import re
import subprocess
import sys
from xml.etree import ElementTree

import pytest
from django.core.management import CommandError, call_command

from tests.bench import figures, plot, promised
from tests.bench.figures import Figure
from tests.house.rooms import ROOT
from tests.outside.test_contrast import contrast
from tests.runner import PytestRunner

BENCH, SVG = ROOT / "tests" / "bench", "{http://www.w3.org/2000/svg}"
LIGHT, _, DARK = plot.STYLE.partition("@media")
SAMPLE = """
import pytest

pytestmark = pytest.mark.bench

def test_one(figure):
    figure("a page", 3, bar="<= 2")
    figure("a second", 0.25, unit="s", guide="1")

@pytest.mark.whole
def test_two(figure):
    figure("what takes long", 3)
"""


@pytest.fixture
def measured(monkeypatch):
    """What the runner was asked for; it answers with `failures`."""
    asked = {"failures": 0}

    def run(runner, paths):
        asked.update(options=runner.options, paths=paths)
        return asked["failures"]

    monkeypatch.setattr(PytestRunner, "run_tests", run)
    return asked


def test_only_measurements_run(measured):
    call_command("bench")
    assert measured["paths"] == ["tests/bench"]
    assert measured["options"] == ["-mbench", "--promised"]


def test_one_measurement_may_be_asked_for_by_name(measured):
    call_command("bench", names="weighing")
    assert measured["options"] == ["-mbench", "-kweighing"]


def test_quick_run_and_a_file_of_figures_may_be_asked_for(measured, tmp_path):
    call_command("bench", "--quick", "--json", str(tmp_path / "said.json"))
    assert measured["options"][1:] == [
        *("--quick", "--promised", f"--figures={tmp_path / 'said.json'}"),
    ]
    with pytest.raises(CommandError, match="no folder"):
        call_command("bench", "--json", str(tmp_path / "nowhere" / "said.json"))


def test_missed_bar_fails_the_command(measured):
    measured["failures"] = 1
    with pytest.raises(CommandError, match="missed its bar"):
        call_command("bench")


@pytest.mark.parametrize(
    ("bar", "value", "is_met"),
    [
        *(("<= 8", 8, True), ("<= 30,000", 30_001, False), (">= 0.9", 0.9, True), ("0", 0, True)),
        *(("> 1.25", 1.25, False), ("3 to 5", 3, True), ("0.8 to 1.25", 1.26, False)),
        *(("0", 1, False), ("", 7, None)),
    ],
)
def test_bar_is_read(bar, value, is_met):
    assert Figure("a page", value, bar=bar).is_met is is_met


def test_bar_that_cannot_be_read_is_an_error():
    with pytest.raises(ValueError, match="at most 7"):
        _ = Figure("a page", 7, bar="at most 7").is_met


def test_table_is_readable_and_says_what_was_missed():
    found = [Figure("a page", 3, bar="<= 2"), Figure("of a day", 1234.5, "ms", guide="2,000")]
    assert figures.table(found) == [
        "a page                 3  MISSED: bar <= 2",
        "of a day        1,234 ms  guide 2,000",
    ]


def test_json_says_every_figure_and_nothing_that_names_the_machine(tmp_path):
    path = tmp_path / "said.json"
    figures.write(path, [Figure("a page", 3, bar="<= 2"), Figure("b", 1.5, "s")], is_quick=True)
    said = json.loads(path.read_text("utf-8"))
    assert said["figures"] == [
        {"name": "a page", "value": 3, "unit": "", "bar": "<= 2", "guide": "", "met": False},
        {"name": "b", "value": 1.5, "unit": "s", "bar": "", "guide": "", "met": None},
    ]
    assert set(said["machine"]) == {
        *("python", "system", "processor", "processors", "memory_gb"),
    }
    assert os.uname().nodename not in path.read_text("utf-8")
    assert str(ROOT) not in path.read_text("utf-8")


def names() -> list[str]:
    """What the measurements call their figures, {} for what varies."""
    found = []
    for path in BENCH.glob("test_*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "figure":
                found.append(node.args[0])
            if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == "name":
                found.append(node.value)
    return [_template(node) for node in found if isinstance(node, ast.Constant | ast.JoinedStr)]


def _template(node) -> str:
    parts = node.values if isinstance(node, ast.JoinedStr) else [node]
    return "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in parts)


def test_every_promise_has_its_measurement():
    there = names()
    assert len(there) > 80
    assert promised.unknown(there) == []


def test_promise_without_a_measurement_is_found(monkeypatch):
    lost = promised.Promise("in no time", "nowhere", "a walk to the moon")
    monkeypatch.setattr(promised, "PROMISED", (*promised.PROMISED, lost))
    assert promised.unknown(names()) == ["a walk to the moon"]
    found = [one.figure for one in promised.PROMISED if one is not lost]
    assert promised.missing(found, is_quick=False) == ["a walk to the moon (nowhere: in no time)"]
    assert promised.missing([], is_quick=True) != promised.missing([], is_quick=False)


def test_every_list_of_the_issues_is_among_the_promises():
    said = " ".join(one.where for one in promised.PROMISED)
    for where in (
        *(f"issue {number}" for number in (2, 3, 4, 5, 6, 7, 11)),
        *("issues 2 and 10", "storage.md 10", "paper.md 5", "introductions.md 5", "screens.md 4"),
    ):
        assert where in said, where


def test_missed_promise_and_missed_bar_are_said_at_the_end(tmp_path):
    """The hooks themselves, in a run of one invented measurement."""
    sample, told = tmp_path / "test_sample.py", tmp_path / "said.json"
    sample.write_text(SAMPLE, encoding="utf-8")
    plugins = ["-p", "tests.bench.conftest", "-p", "no:cacheprovider", "-p", "no:django"]
    asked = ["-q", "-c", str(ROOT / ".pytest.ini"), "-mbench", "--quick", "--promised"]
    ran = subprocess.run(
        [sys.executable, "-m", "pytest", *plugins, *asked, f"--figures={told}", str(sample)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert ran.returncode == 1, "one figure of all that were promised is not enough"
    assert "MISSED: bar <= 2" in ran.stdout
    assert "queries to weigh 33 (issue 2" in ran.stdout
    assert "1 passed, 1 deselected" in ran.stdout
    said = json.loads(told.read_text("utf-8"))
    assert (said["quick"], [one["met"] for one in said["figures"]]) == (True, [False, None])


INVENTED = {
    "figures": [
        {"name": f"{work} at {people:,} people", "value": value}
        for work, values in {"today": (90, 95, 120), "backup": (250, 2_400, 90_000)}.items()
        for people, value in zip((300, 3_000, 100_000), values, strict=True)
    ]
    + [{"name": "backup among 3,000 people, growth beside theirs", "value": 0.96}]
}


def test_plot_draws_each_cost_beside_that_of_the_smallest_register():
    costs = plot.costs_of(INVENTED)
    assert costs["today"] == pytest.approx({300: 1, 3_000: 95 / 90, 100_000: 120 / 90})
    drawn = plot.draw(costs)
    tree = ElementTree.fromstring(drawn)
    assert len(drawn.encode()) < 15_000
    title, said = (tree.find(f"{SVG}{name}") for name in ("title", "desc"))
    assert tree.get("aria-labelledby").split() == [title.get("id"), said.get("id")]
    assert title.text == "How costs grow from 300 to 100,000 people"
    assert "The assistant’s day: 1.3 times at 100,000 people." in said.text
    assert "A backup: 360 times at 100,000 people." in said.text
    lines = tree.findall(f"{SVG}polyline")
    rise = [[float(point.split(",")[1]) for point in line.get("points").split()] for line in lines]
    assert [len(line) for line in rise] == [3, 3]
    assert rise[0][0] - rise[0][-1] < 20 < 200 < rise[1][0] - rise[1][-1]
    assert "prefers-color-scheme:dark" in drawn


def test_names_beside_the_lines_never_lie_on_one_another():
    alike = {work: {300: 1.0, 3_000: 1.02} for work in plot.SHOWN}
    tree = ElementTree.fromstring(plot.draw(alike))
    ends = [text for text in tree.findall(f"{SVG}text") if text.text in plot.SHOWN.values()]
    rows = sorted(float(text.get("y")) for text in ends)
    assert len(rows) == len(plot.SHOWN)
    assert all(later - earlier >= 17 for earlier, later in itertools.pairwise(rows))
    assert 0 < rows[0] < rows[-1] < plot.HEIGHT


def test_plot_of_nothing_says_what_to_run(tmp_path, capsys):
    with pytest.raises(ValueError, match="--json FILE"):
        plot.draw(plot.costs_of({"figures": []}))
    path = tmp_path / "said.json"
    path.write_text(json.dumps(INVENTED), "utf-8")
    plot.main([str(path)])
    assert capsys.readouterr().out.startswith("<svg ")


def test_drawing_of_the_readme_is_one_of_this_plot():
    drawn = (ROOT / ".pictures" / "growth.svg").read_text("utf-8")
    tree = ElementTree.fromstring(drawn)
    assert tree.find(f"{SVG}title").text == "How costs grow from 300 to 100,000 people"
    assert f"<style>{plot.STYLE}</style>" in drawn
    assert len(tree.findall(f"{SVG}polyline")) == len(plot.SHOWN)


@pytest.mark.parametrize("colours", [LIGHT, DARK])
def test_every_line_stands_out_from_its_ground(colours):
    """At least 3 to 1 for what is drawn, 4.5 for what is read (WCAG 2.2, 1.4.11 and 1.4.3)."""
    found = dict(re.findall(r"\.(\w)\{(?:fill|stroke):(#[0-9a-f]{6})", colours))
    for sign in "abcdefhin":
        assert contrast(found[sign], found["p"]) >= 3, sign
    for sign in "ts":
        assert contrast(found[sign], found["p"]) >= 4.5, sign
