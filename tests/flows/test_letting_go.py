"""The monthly list of the demo: 37 is named on 2026-12-12, confirmed, and left nowhere."""

import json
import shutil
from pathlib import Path

import pytest

from tests.clone import Clone
from tests.flows.test_erased_home import LOOK, OPEN, inside
from tests.traces import traces

DAY_BEFORE, DAY = "2026-12-11", "2026-12-12"


def listed(copy: Clone, home: Path, day: str, *more: str) -> list[str]:
    """What the command says on a day, line by line, with the spaces of its columns made one."""
    done = copy.run("let_go", *more, RELATIONS_HOME=str(home), RELATIONS_TODAY=day)
    assert done.returncode == 0, done.stderr
    return [" ".join(line.split()) for line in done.stdout.splitlines()]


@pytest.fixture(scope="module")
def let_go(filled_clone: Clone, tmp_path_factory: pytest.TempPathFactory):
    """A home in which all that was due on the day went, and a backup from the day before."""
    home = tmp_path_factory.mktemp("letting-go") / "home"
    folder = home.with_name("disk")
    shutil.copytree(filled_clone.rehearsal, home)
    folder.mkdir()
    made = filled_clone.run("backup", str(folder), RELATIONS_HOME=str(home))
    assert made.returncode == 0, made.stderr
    told = json.loads(filled_clone.read(LOOK, RELATIONS_HOME=str(home)))
    key, values = bytes.fromhex(told["key"]), {bytes.fromhex(one) for one in told["values"]}
    assert "register" in traces(values, inside(home, key))
    before, on_it = (listed(filled_clone, home, day) for day in (DAY_BEFORE, DAY))
    said = listed(filled_clone, home, DAY, "--confirm")
    return home, folder, (key, values), (before, on_it, said)


def test_37_is_named_on_the_day_and_not_before(let_go):
    *_, (before, on_it, _said) = let_go
    assert f"{DAY} said_no 37" in on_it
    assert not [line for line in before if "said_no" in line]
    assert set(before) - set(on_it) == {before[-1]}  # how many there are


def test_confirmed_nothing_of_37_is_left_in_the_home(filled_clone, let_go):
    home, _, (key, values), (_, on_it, said) = let_go
    amount = len(on_it) - 1
    assert said[-1].startswith(f"{amount} of {amount} let go.")
    assert traces(values, inside(home, key)) == []
    # One person, two links and a recording stand in the ledger; search finds nobody.
    assert filled_clone.read(OPEN, RELATIONS_HOME=str(home)) == "0 None 4 4\n"
    assert listed(filled_clone, home, DAY) == ["No clock has run out."]


def test_backup_that_is_restored_forgets_37_and_all_else_that_the_ledger_names(
    filled_clone, let_go, tmp_path
):
    home, folder, (key, values), _ = let_go
    restored = tmp_path / "restored"
    (backup,) = folder.glob("*.backup")
    done = filled_clone.run(
        "restore", str(backup), "--ledger", str(home / "ledger"), RELATIONS_HOME=str(restored)
    )
    assert done.returncode == 0, done.stderr
    assert traces(values, inside(restored, key)) == []
    assert filled_clone.read(OPEN, RELATIONS_HOME=str(restored)) == "0 None 4 4\n"
    # Of rings the register alone knows: they are proposed again at once, and nothing else is.
    clocks = {line.split()[1] for line in listed(filled_clone, restored, DAY)[:-1]}
    assert clocks == {"ring_notes"}
