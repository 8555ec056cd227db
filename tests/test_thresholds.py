"""The bars: nine in ten overall, every branch where rules are kept."""

import pytest

from tests.thresholds import below_the_bar


def report(overall=95.0, **files):
    return {
        "totals": {"percent_covered": overall},
        "files": {
            path: {
                "summary": {"percent_covered": percent},
                "missing_lines": [7],
                "missing_branches": [[3, 9]],
            }
            for path, percent in files.items()
        },
    }


def test_all_bars_held_gives_no_line():
    assert below_the_bar(report(**{"relations/uses/rules.py": 100.0})) == []


def test_overall_below_ninety_is_named():
    assert below_the_bar(report(89.96)) == ["overall: 90.0 %, the bar is 90 %"]


@pytest.mark.parametrize(
    "path",
    [
        "relations/consent/rules.py",
        "relations/prints/actions.py",
        "relations/people/access.py",
        "relations/languages/digits.py",
    ],
)
def test_missing_branch_where_rules_are_kept_is_named_with_its_place(path):
    assert below_the_bar(report(**{path: 99.0})) == [
        f"{path}: 99.0 %, the bar is 100 % (lines 7; branches 3 to 9)"
    ]


def test_view_may_fall_short_of_a_hundred():
    assert below_the_bar(report(**{"relations/people/views.py": 91.0})) == []
