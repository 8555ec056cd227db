"""What the site's work costs in a register of so many people: `python -m tests.bench.growth 3000`.

One process fills a home of its own on the disk, another opens it and measures; both are of the
register that the site itself would keep: in SQLCipher or on the PostgreSQL server whose address is
given, every sealed field sealed, every scan a sealed file. What is read from the database for each
work is then read once more, by its bare statements and nothing made of the rows: the raw SQL that
the work stands beside.
"""

import gc
import json
import os
import re
import secrets
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from tests.postgres import new_database

ROOT = Path(__file__).resolve().parent.parent.parent
# Not measured by coverage: another process's tracer would be timed.
OURS = ("COVERAGE_", "COV_", "PYTEST_")
TIMES = {"search": 5, "wall": 9, "today": 9, "number": 25, "backup": 2}
SERVER = "RELATIONS_DATABASE_URL"
# Seconds, from which on a work is done once and no more.
LONG = 5.0
Work = Callable[[], object]


def grown(people: int, folder: Path) -> dict:
    """Fill a home in `folder` and measure it; give `people`, `fill` (seconds) and `costs`.

    `costs`: by the name of the work `seconds`, `raw` (of its bare statements), `statements` and
    `peak` (MB above what the process held before); besides `site` (MB that the process held when
    it had answered pages) and `bytes` of the backup.
    """
    said: dict = {"people": people}
    address = _address()
    for step in ("fill", "measure"):
        command = [sys.executable, "-m", "tests.bench.growth", step, str(people)]
        done = subprocess.run(
            command, cwd=ROOT, env=_environment(folder, address), capture_output=True, text=True,
            check=False,
        )  # fmt: skip
        if done.returncode:
            raise RuntimeError(done.stderr)
        said |= json.loads(done.stdout)
    return said


def _address() -> str:
    """A new database of the server that is given; empty for the embedded one."""
    server = os.environ.get(SERVER, "")
    return new_database(server, f"grown_{secrets.token_hex(4)}") if server else ""


def _environment(folder: Path, address: str) -> dict[str, str]:
    plain = {key: said for key, said in os.environ.items() if not key.startswith(OURS)}
    ours = {
        "RELATIONS_HOME": str(folder / "home"),
        SERVER: address,
        "RELATIONS_TODAY": "2026-11-23",
        "DJANGO_SETTINGS_MODULE": "relations.settings",
        "PYTHONDONTWRITEBYTECODE": "1",
    }
    return plain | ours


def fill(people: int) -> dict[str, float]:
    """Make the home and its register."""
    from django.db import connection

    from relations.privacy import opening, tables
    from tests.bench import register

    start = time.perf_counter()
    # Nothing of it outlives the measurement, so that nothing need survive a power cut.
    os.fsync = lambda _handle: None
    opening.make_home("rehearsal", {"open": "rehearsal"})
    tables.make_all()
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA synchronous = OFF")
    register.enter(people)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return {"fill": time.perf_counter() - start}


def measure(people: int) -> dict:
    """Do each work a few times in the open home."""
    from relations.privacy.opening import open_home
    from tests.bench.works import works

    open_home()
    costs = {}
    with tempfile.TemporaryDirectory() as shelf:
        found = works(people, Path(shelf))
        found["today"]()  # what a process that has just begun imports is no cost of a day
        for name, work in found.items():
            costs[name] = _cost(work, TIMES.get(name, 3))
            print(people, name, costs[name], file=sys.stderr, flush=True)  # noqa: T201
        size = max(path.stat().st_size for path in Path(shelf).glob("*.backup"))
    return {"costs": costs, "site": memory("VmRSS"), "bytes": size}


def _cost(work: Work, times: int) -> dict[str, float]:
    """The least of a few runs after one to warm up; of a long one, that of its only run."""
    asked: list[tuple[str, object]] = []
    before, _ = memory("VmRSS"), _forget_peak()
    taken = [seconds(lambda: asked.extend(_asked(work)))]
    if taken[0] < LONG:
        before, _ = memory("VmRSS"), _forget_peak()
        taken = [seconds(work) for _ in range(times)]
    peak = memory("VmHWM") - before
    raw = min(seconds(lambda: _read(asked)) for _ in taken)
    return {
        "seconds": min(taken),
        "raw": raw,
        "statements": len(asked),
        "peak": max(peak, 0.0),
    }


def _forget_peak() -> None:
    """From here on VmHWM is the most that is held from here on, where the system grants it."""
    with suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5")


def _asked(work: Work) -> list[tuple[str, object]]:
    """The statements of a work that read, with their values."""
    from django.db import connection

    asked: list[tuple[str, object]] = []

    def hear(execute: Callable, sql: str, params: object, *rest: object) -> object:
        if str(sql).lstrip("( ").startswith("SELECT"):
            asked.append((sql, params))
        return execute(sql, params, *rest)

    with connection.execute_wrapper(hear):
        work()
    return asked


def _read(asked: list[tuple[str, object]]) -> None:
    from django.db import connection

    with connection.cursor() as cursor:
        for sql, params in asked:
            cursor.execute(sql, params)
            while cursor.fetchmany(2_000):
                pass


def seconds(work: Work) -> float:
    """Of this process where the register is in it; on the wall where a server works too."""
    clock = time.perf_counter if os.environ.get(SERVER) else time.process_time
    gc.collect()
    gc.disable()  # as in every measurement here: when it runs is not the work's doing
    try:
        start = clock()
        work()
        return max(clock() - start, 1e-6)
    finally:
        gc.enable()


def memory(what: str) -> float:
    """MB: `VmRSS`, what the process holds now, or `VmHWM`, the most it held."""
    found = re.search(rf"{what}:\s+(\d+) kB", Path("/proc/self/status").read_text())
    return int(found[1]) / 1024 if found else 0.0


def main(arguments: list[str]) -> None:
    """`fill N` and `measure N` in the home of the environment; `N` alone in one of its own."""
    if len(arguments) == 1:
        with tempfile.TemporaryDirectory() as folder:
            print(json.dumps(grown(int(arguments[0]), Path(folder)), indent=1))  # noqa: T201
        return
    import django

    django.setup()
    step, people = arguments
    print(json.dumps({"fill": fill, "measure": measure}[step](int(people))))  # noqa: T201


if __name__ == "__main__":
    main(sys.argv[1:])
