"""The table of figures that `manage.py bench` prints at its end."""

from collections.abc import Callable

import pytest

FIGURES = pytest.StashKey[list[tuple[str, str, str]]]()


def pytest_configure(config: pytest.Config) -> None:
    config.stash[FIGURES] = []


@pytest.fixture
def figure(request: pytest.FixtureRequest) -> Callable[..., None]:
    """`figure(what, value, bar="<= 8")` or, for a time, `figure(what, value, guide="20,000")`."""

    def note(what: str, value: float, *, unit: str = "", bar: str = "", guide: str = "") -> None:
        held = f"bar {bar}" if bar else f"guide {guide}" if guide else ""
        number = f"{value:,.0f}" if value >= 100 or value == int(value) else f"{value:.2f}"
        request.config.stash.setdefault(FIGURES, []).append((what, f"{number} {unit}", held))

    return note


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    figures = terminalreporter.config.stash.get(FIGURES, [])
    if figures:
        terminalreporter.section("figures")
        width = max(len(what) for what, _, _ in figures)
        for what, value, held in figures:
            terminalreporter.write_line(f"{what:<{width}}  {value:>16}  {held}")
