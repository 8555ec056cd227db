"""The options of `manage.py bench`, and the table of figures that it prints at its end."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.bench import figures, promised, timing
from tests.bench.figures import Figure

FIGURES = pytest.StashKey[list[Figure]]()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--quick", action="store_true", help="leave out what is marked whole")
    parser.addoption("--promised", action="store_true", help="fail where a promise has no figure")
    parser.addoption("--figures", type=Path, help="a file that gets every figure as JSON")


def pytest_configure(config: pytest.Config) -> None:
    config.stash[FIGURES] = []
    config.addinivalue_line("markers", "whole: takes long; left out by `manage.py bench --quick`")
    if _is_quick(config):
        timing.use_fewer_rounds()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if _is_quick(config):
        left = [item for item in items if item.get_closest_marker("whole")]
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if item not in left]


def _is_quick(config: pytest.Config) -> bool:
    return bool(config.getoption("quick", False))


@pytest.fixture
def is_quick(request: pytest.FixtureRequest) -> bool:
    """Whether only what is done quickly is asked for."""
    return _is_quick(request.config)


@pytest.fixture
def figure(request: pytest.FixtureRequest) -> Callable[..., None]:
    """`figure(name, value, bar="<= 8")` or, for a time, `figure(name, value, guide="20,000")`."""

    def note(
        name: str, value: float, *, unit: str = "", bar: object = "", guide: object = ""
    ) -> None:
        found = Figure(name, float(value), unit, str(bar), str(guide))
        request.config.stash.setdefault(FIGURES, []).append(found)

    return note


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """A run of all measurements fails where one that was promised is not among them."""
    config = session.config
    found = config.stash.get(FIGURES, [])
    if path := config.getoption("figures", None):
        figures.write(path, found, is_quick=_is_quick(config))
    if exitstatus == 0 and _missing(config):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def _missing(config: pytest.Config) -> list[str]:
    if not config.getoption("promised", False):
        return []
    found = config.stash.get(FIGURES, [])
    return promised.missing([one.name for one in found], is_quick=_is_quick(config))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    config = terminalreporter.config
    found = config.stash.get(FIGURES, [])
    if found:
        terminalreporter.section("figures")
        terminalreporter.write_line("\n".join(figures.table(found)))
    if missing := _missing(config):
        terminalreporter.section("promised and not measured", red=True)
        terminalreporter.write_line("\n".join(missing))
