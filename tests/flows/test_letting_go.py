"""The monthly list of the demo: 37 is named on 2026-12-12, confirmed, and left nowhere."""

import json
import shutil
from pathlib import Path

import pytest

from tests.clone import Clone
from tests.flows.test_erased_home import LOOK, OPEN, inside
from tests.traces import traces

DAY_BEFORE, DAY = "2026-12-11", "2026-12-12"
# When every yes of 07 has long ended, and six forms prove nothing any more.
YEARS_LATER = "2036-12-12"


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
    assert f"{DAY} said_no 37 Said no 30 days ago" in on_it
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


# Before: nothing is owed to 07 any more, whose numbers are then looked for; and what is sealed of
# the forms that are due, with their files. Keys of rows stand in the ledger and are not sought.
PARTS = """
import json, django
django.setup()
from relations.privacy.opening import open_home
open_home()
from django.utils import timezone
from relations.consent.models import Form
from relations.people.models import PhoneLine
from relations.prints.endings import end_promise
from relations.prints.models import Promise
from relations.privacy.home import home, today
from relations.privacy.keys import keyring
from relations.privacy.models import User
from relations.rights.due import proposals
from tests.traces import WRITINGS, tokens
artist = User.objects.get(username="ines")
for row in Promise.objects.filter(person__code="07", kept_on=None, ended_how=""):
    end_promise(promise=row, how="let_off", why="", on=row.promised_on, by=artist,
                at=timezone.now())
lines = list(PhoneLine.objects.filter(person__code="07"))
numbers = {one for line in lines for one in tokens(line)}
numbers |= {line.number.encode(writing) for line in lines for writing in WRITINGS}
numbers |= {one for line in lines for one in (bytes(line.mark), bytes(line.mark).hex().encode())}
due = [one.key for one in proposals(today()) if one.clock == "forms"]
forms, files = set(), set()
for form in Form.objects.filter(pk__in=due):
    forms |= tokens(form) | {one for row in form.readings.all() for one in tokens(row)}
    files |= {form.sheet.kept, *form.sheet.scans.values_list("file", flat=True)}
lie = {path.name: path for path in home().scans.rglob("*") if path.is_file()}
print(json.dumps({
    "key": keyring.subkey("database").hex(),
    "numbers": [one.hex() for one in numbers],
    "forms": [one.hex() for one in forms],
    "files": [one for key in files for one in (key, lie[key].read_bytes().hex())],
    "due": len(due),
}))
"""
STILL = """
import django
django.setup()
from relations.privacy.opening import open_home
open_home()
from relations.consent.models import Form
from relations.people.models import Participant, PhoneLine
print(Form.objects.filter(state="destroyed").count(),
      Participant.objects.get(code="07").call_name != "",
      PhoneLine.objects.filter(person__code="07").count(),
      PhoneLine.objects.exclude(person__code="07").exists())
"""


def test_what_goes_of_somebody_who_stays_is_left_nowhere_either(filled_clone, tmp_path):
    """Numbers of 07, and six forms with their scans: in pages of the register and in files."""
    home = tmp_path / "home"
    shutil.copytree(filled_clone.rehearsal, home)
    later = {"RELATIONS_HOME": str(home), "RELATIONS_TODAY": YEARS_LATER}
    told = json.loads(filled_clone.read(PARTS, **later))
    key = bytes.fromhex(told["key"])
    numbers, forms = ({bytes.fromhex(one) for one in told[name]} for name in ("numbers", "forms"))
    files = {bytes.fromhex(one) if len(one) > 40 else one.encode() for one in told["files"]}
    assert told["due"] == 6 and len(files) >= 2 * 6
    before = inside(home, key)
    assert all("register" in traces(sought, before) for sought in (numbers, forms, files))
    assert len([name for name in traces(files, before) if name.startswith("scans/")]) >= 6
    done = filled_clone.run("let_go", "--confirm", **later)
    # 27 is owed something, and a hold lies on 35: their lines wait, and it says so.
    assert "could not go yet" in done.stderr and "ways 07" not in done.stderr
    for sought in (numbers, forms, files):
        assert traces(sought, inside(home, key)) == []
    assert filled_clone.read(STILL, **later) == "6 True 0 True\n"
