"""What every test stands on: a throw-away home, a fixed day, an open keyring, no network."""

import gc
import os
import re
import shutil
import socket
import tempfile
from functools import cache
from itertools import cycle
from pathlib import Path

import django
import pytest
from django.core.management import call_command
from hypothesis import HealthCheck, settings

from relations import bootstrap
from tests.apart import Apart, home_apart
from tests.clone import Clone, clone
from tests.house.recorder import Recorder
from tests.house.rooms import ROOMS

ROOT = Path(__file__).resolve().parent.parent
HOME = tempfile.mkdtemp(prefix="relations-home-")
# Read by settings.py, so they are set before anything of Django is imported.
os.environ["RELATIONS_HOME"] = HOME
os.environ["RELATIONS_TODAY"] = "2026-11-23"
os.environ["DJANGO_SETTINGS_MODULE"] = "relations.settings"
# Playwright keeps an event loop running in the thread that the database is used from.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
# Here and not in a hook: a room's conftest.py imports models while it is read.
django.setup()
# Also where pytest is started by hand: what is looked at is what the catalogues say now.
if bootstrap.stale_translations():
    call_command("build_translations", verbosity=0)

# Nothing is timed in a test: what is slow for the machine's sake is not wrong.
settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")

MASTER_KEY = bytes(range(32))
PAIRS = 8
CHEAP = {"memory_cost": 64, "time_cost": 1}
USES_DATABASE = {"db", "transactional_db", "live_server", "client", "django_db_setup", "apart"}
RECORDER = pytest.StashKey[Recorder]()
# What these hold is the same on every database: what the site says of rows that it was answered,
# in the modules that make pages, forms and papers, and in the walks over everything said. Three
# walks of minutes press and look at what the journeys and the rooms' own tests do there, too.
SAYING_FOLDERS = {"house", "outside", "languages"}
SAYING_MODULES = re.compile(
    r"test_(\w+_)?(views|forms|words|pages|papers?|sheets?|printing|blanks|archive|packing|team)\.py"
    r"|test_(story_portrait|print_moves|doors)\.py"
)
IN_CI = os.environ.get("CI") == "true"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--database",
        choices=["only", "every", "none"],
        help="only: those about rows; every: all that use a database; none: the others",
    )
    parser.addoption(
        "--half", choices=["rooms", "site"], help="the rooms' own tests, or all the others"
    )
    parser.addoption("--rendered", help="a file that gets the name of each template rendered")


def pytest_configure(config: pytest.Config) -> None:
    config.stash[RECORDER] = Recorder()


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """What belongs to the other half is not even read."""
    is_test = collection_path.name.startswith("test_")
    return (is_test and not _of_this_half(config, collection_path)) or None


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Mark by folder what its folder already says; leave out what was not asked for."""
    for item in items:
        if item.path.parent.name == "browser":
            item.add_marker(pytest.mark.needs("chromium"))
        if item.path.parent.name == "bench":
            item.add_marker(pytest.mark.bench)
    asked = [(item, _asked_for(config, item)) for item in items]
    kept = [item for item, is_asked in asked if is_asked]
    config.hook.pytest_deselected(items=[item for item, is_asked in asked if not is_asked])
    # Last, since what the filled register holds stays until the session ends.
    items[:] = sorted(kept, key=lambda item: "rehearsal" in getattr(item, "fixturenames", ()))


def pytest_collection_finish() -> None:
    """What was collected stays to the end: the sweeper of garbage need not look at it again.

    Nor, so often, at what tests keep for each other: that took a tenth of a long run.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 50)


def _asked_for(config: pytest.Config, item: pytest.Item) -> bool:
    wanted = config.getoption("--database")
    # A copy of the project brings a home of its own: once, in the whole run, is enough.
    is_apart = "filled_clone" in getattr(item, "fixturenames", ())
    if wanted and (is_apart or item.get_closest_marker("once")):
        return False
    if wanted and _uses_database(item) != (wanted != "none"):
        return False
    if wanted == "only" and _only_says(item):
        return False
    said = config.getoption("markexpr")
    return bool(said) or not any(item.get_closest_marker(mark) for mark in ("long", "bench"))


def _of_this_half(config: pytest.Config, path: Path) -> bool:
    half = config.getoption("half")
    return not half or (path.parent.name in ROOMS) == (half == "rooms")


def _uses_database(item: pytest.Item) -> bool:
    fixtures = USES_DATABASE.intersection(getattr(item, "fixturenames", ()))
    return bool(fixtures or item.get_closest_marker("django_db"))


def _only_says(item: pytest.Item) -> bool:
    """Whether what it holds is what the site says, which no other database makes differ."""
    if item.get_closest_marker("every_database"):
        return False
    is_walk = item.path.parent.name in SAYING_FOLDERS
    return is_walk or bool(SAYING_MODULES.fullmatch(item.path.name))


def pytest_runtest_setup(item: pytest.Item) -> None:
    for tool in (tool for mark in item.iter_markers("needs") for tool in mark.args):
        if not bootstrap.find(tool):
            pytest.skip(f"cannot run: {tool} is missing (Debian: {bootstrap.TOOLS[tool]})")


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """A whole run fails on a template nobody looked at, and in CI on a test that could not run."""
    shutil.rmtree(HOME, ignore_errors=True)
    faults = _could_not_run(session.config) if IN_CI else []
    if file := session.config.getoption("rendered"):
        with open(file, "a", encoding="utf-8") as heard:
            heard.writelines(f"{name}\n" for name in session.config.stash[RECORDER].rendered)
    if _is_whole(session.config):
        faults += session.config.stash[RECORDER].never_rendered(ROOT / "templates")
    if faults and exitstatus == 0:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    config = terminalreporter.config
    for heading, lines in {
        "could not run for want of a program": _could_not_run(config),
        "templates no test rendered": config.stash[RECORDER].never_rendered(ROOT / "templates")
        if _is_whole(config)
        else [],
    }.items():
        if lines:
            terminalreporter.section(heading, red=True)
            terminalreporter.write_line("\n".join(lines))


def _could_not_run(config: pytest.Config) -> list[str]:
    reporter = config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter else []
    reasons = [(report.nodeid, str(report.longrepr)) for report in skipped]
    return [f"{test}: {reason}" for test, reason in reasons if "cannot run: " in reason]


def _is_whole(config: pytest.Config) -> bool:
    """True when nothing was left out on the command line, so that what is absent is absent."""
    narrowed = ("file_or_dir", "keyword", "markexpr", "database", "half", "maxfail", "collectonly")
    return not any(config.getoption(name) for name in narrowed)


@pytest.fixture(scope="session", autouse=True)
def no_network() -> object:
    """Only this machine answers; a test that asks for more says so by failing."""
    connect = socket.socket.connect

    def near(self: socket.socket, address: object) -> None:
        host = address[0] if isinstance(address, tuple) else "localhost"
        if host not in {"127.0.0.1", "::1", "localhost"}:
            raise OSError(f"Tests reach no network, and this one asked for {host}.")
        connect(self, address)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", near)
        yield


@pytest.fixture(scope="session", autouse=True)
def cheap_hashes(request: pytest.FixtureRequest) -> object:
    """Passwords and paper codes by the site's own Argon2id, with less memory; the whole cost of it.

    What is measured is measured as it is; a test marked `costly` has the whole cost, too.
    """
    from relations.privacy.hashers import SiteArgon2

    with pytest.MonkeyPatch.context() as patch:
        whole = {name: getattr(SiteArgon2, name) for name in CHEAP}
        if not all(item.get_closest_marker("bench") for item in request.session.items):
            for name, cost in CHEAP.items():
                patch.setattr(SiteArgon2, name, cost)
        yield whole


@pytest.fixture(scope="session", autouse=True)
def few_pairs(request: pytest.FixtureRequest) -> object:
    """Of the pairs of keys for the outbox eight are made, a tenth of a second each."""
    from relations.privacy import crypt, outbox

    made = cycle([cache(crypt.new_pair) for _ in range(PAIRS)])
    with pytest.MonkeyPatch.context() as patch:
        if not all(item.get_closest_marker("bench") for item in request.session.items):
            patch.setattr(outbox, "new_pair", lambda: next(made)())
        yield


@pytest.fixture(autouse=True)
def whole_cost(request: pytest.FixtureRequest, cheap_hashes: dict[str, int]) -> object:
    """The hasher as the site has it, for a test of what a hash is or costs."""
    from relations.privacy.hashers import SiteArgon2

    with pytest.MonkeyPatch.context() as patch:
        if request.node.get_closest_marker("costly"):
            for name, cost in cheap_hashes.items():
                patch.setattr(SiteArgon2, name, cost)
        yield


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings: None) -> object:
    """The tables that tests stand on are made in one go, as those of a new home are.

    tests/privacy/test_tables.py holds that they are what all changes make, one by one.
    """
    from django.core import management

    from relations.privacy import tables

    migrate = management.call_command

    def make_first(*words: str, **said: object) -> object:
        patch.undo()  # whoever asks for it from here on gets Django's own
        if words == ("migrate",):
            tables.make()
        return migrate(*words, **said)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(management, "call_command", make_first)
        yield


@pytest.fixture(autouse=True)
def open_keyring(request: pytest.FixtureRequest) -> object:
    """The home is open, under a master key that any reader of this file knows."""
    from relations.privacy.keys import keyring

    if request.node.get_closest_marker("unlocked"):
        yield
        return
    if keyring.locked:
        keyring.hold(MASTER_KEY)
    yield


@pytest.fixture(scope="session")
def filled_once(django_db_setup: None, django_db_blocker: object) -> object:
    """The whole story of the rehearsal, entered once; every test that needs it stands inside.

    Nothing is ever committed, so that each test's own transaction is a savepoint in this one.
    """
    from django.db import transaction

    from relations.privacy.keys import keyring
    from relations.today.management import rehearsal

    if keyring.locked:
        keyring.hold(MASTER_KEY)
    whole = transaction.atomic()
    with django_db_blocker.unblock():
        whole.__enter__()
        presses = rehearsal.fill()
    yield presses
    with django_db_blocker.unblock():
        transaction.set_rollback(True)
        whole.__exit__(None, None, None)


@pytest.fixture
def rehearsal(filled_once: int, db: None) -> int:
    """The filled rehearsal, as left by its presses; how many there were."""
    return filled_once


@pytest.fixture(scope="session")
def filled_clone(tmp_path_factory: pytest.TempPathFactory) -> Clone:
    """A copy of the project whose `demo` has run once, on the embedded database."""
    copy = clone(tmp_path_factory.mktemp("clone") / "relations")
    first = copy.run("demo", "--no-serve")
    assert first.returncode == 0, first.stderr
    assert "presses entered" in first.stdout
    return copy


@pytest.fixture(scope="session")
def apart(django_db_setup: None, tmp_path_factory: pytest.TempPathFactory) -> Apart:
    """A home on the disk for processes of their own, with its tables made once."""
    return home_apart(tmp_path_factory.mktemp("apart"))


@pytest.fixture(scope="module", autouse=True)
def papers_once(request: pytest.FixtureRequest) -> object:
    """Where papers are not what is tested, a page is laid out once, and that is not measured."""
    if request.path.parent.name in {"documents", "bench"} or request.path.parent == ROOT / "tests":
        yield
        return
    from tests.laying import each_page_once

    with each_page_once():
        yield


@pytest.fixture(scope="module", autouse=True)
def rows_aside(request: pytest.FixtureRequest) -> object:
    """Where Django's layer of rows calls nothing of the room's, coverage does not look into it."""
    if request.path.parent.name == "privacy" or request.path.parent == ROOT / "tests":
        yield
        return
    from tests.measuring import rows_unmeasured

    with rows_unmeasured():
        yield


@pytest.fixture(autouse=True)
def nothing_said_aloud(request: pytest.FixtureRequest) -> object:
    """No name or number of a person in any address, title or log line, whatever is tested."""
    recorder = request.config.stash[RECORDER]
    with recorder.listening():
        yield
    assert not recorder.faults, "\n".join(recorder.faults)
