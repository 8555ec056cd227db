"""A travelling set on the disk: whom it holds, on which days it opens, and how it comes home.

A register filled with the invented people makes the set of its next trip; the set is then looked at
as somebody would who has the folder, and its master key on top of that.
"""

import base64
import json
import shutil
from datetime import date, timedelta
from pathlib import Path

import pytest
from django.utils import timezone

from tests.clone import Clone
from tests.flows.test_erased_home import inside
from tests.traces import traces

PASSPHRASE, PASSWORD = "four boats and no harbour", "a lamp, a wall, a stair"
TODAY = timezone.localdate()
LAST = TODAY + timedelta(days=3)

# The trip is moved to the days around now: a set goes by the clock of the computer.
MOVE = f"""
import django
django.setup()
from relations.privacy.opening import open_home
open_home()
from relations.meetings.models import Trip
Trip.objects.filter(code="T7").update(first_day="{TODAY}", last_day="{LAST}")
"""
# Everything by which those on the trip and those outside it are known to the register.
VALUES = """
import json, django
django.setup()
from relations.privacy.opening import open_home
open_home()
from relations.meetings.models import Trip
from relations.people.models import Name, Participant
from relations.privacy.models import User
from relations.trips.travelling import on_the_trip
from tests.traces import values_of
made_for = User.objects.filter(role="assistant").first()
there = set(on_the_trip(Trip.objects.get(code="T7"), made_for).people)
outside = [one for one in Participant.objects.all() if one not in there]
known = {value for one in there for value in values_of(one)}
names = {text.encode() for one in outside for text in [one.call_name, *(
    name.text for name in one.names.all())] if len(text.encode()) > 4}
print(json.dumps({
    "there": sorted(one.code for one in there),
    "called": [one.call_name.encode().hex() for one in there if len(one.call_name) > 4],
    "numbers": [line.number.encode().hex() for one in there for line in one.lines.all()
                if line.number and not line.ended_on and not line.through_id],
    # A day of now may be anybody's; a day of birth is not.
    "others": [value.hex() for one in outside for value in values_of(one) - known
               if not value.startswith(b"202")],
    "names": [name.hex() for name in names - known],
    "told": [str(row.pk) for one in there for row in one.introductions.all()],
}))
"""
# The set opened by its own passphrase on a day, as a person at the machine does.
OPEN = """
import os, sys, io, datetime, django
django.setup()
from django.utils import timezone
real = timezone.now()
day = datetime.date.fromisoformat(os.environ["TEST_DAY"])
at = real + (day - timezone.localdate(real))* 1
timezone.now = lambda: at
sys.stdin = io.StringIO((os.environ["TEST_TYPED"] + "\\n") * 3)
from django.core.management.base import CommandError
from relations.privacy.opening import open_home
try:
    open_home()
except CommandError as error:
    print(error)
else:
    from relations.privacy.keys import keyring
    print("open", keyring.subkey("database").hex())
"""
# Every column of every table, with what is sealed in it opened.
COLUMNS = (
    OPEN
    + """
    import base64, json
    from tests.traces import opened
    print(json.dumps({name: base64.b64encode(said).decode() for name, said in opened().items()}))
"""
)
# What a telephone in the set sends, and what was sent without a script.
WRITE = (
    OPEN
    + """
    import json
    from django.test import Client
    from relations.people.models import Participant
    from relations.privacy.models import OutboxEntry, User
    from relations.privacy.home import home
    from tests import phone
    assert "RELATIONS_TODAY" not in os.environ
    client = Client(SERVER_NAME="localhost")
    who = {"username": User.objects.get().username, "password": os.environ["TEST_PASSWORD"]}
    assert client.post("/in/", who).status_code == 302
    code = os.environ["TEST_CODE"]
    ring = {"kind": "ring", "code": code, "outcome": "no_answer", "day": str(day),
            "hour": "00:01", "asked_on": "", "asked_hour": ""}
    stop = {"kind": "stop", "code": code, "what": "use:web", "day": str(day)}
    body = phone.body(ring, timezone.now())
    states = [client.post("/outbox/send/", body, "application/json").status_code for _ in "12"]
    token = "11111111-2222-4333-8444-555555555555"
    states += [client.post("/outbox/write/", {**stop, "token": token}).status_code for _ in "12"]
    states.append(client.post(f"/people/{code}/never-ring/").status_code)
    print(states, OutboxEntry.objects.count())
    page = client.get("/outbox/").content.decode()
    print("until" in page, all(entry.state == "unread" for entry in OutboxEntry.objects.all()))
"""
)
# Every page without a parameter, and those of the trip and of everybody on it.
WALK = (
    OPEN
    + """
    from django.test import Client
    from django.urls import NoReverseMatch, reverse
    from relations.people.models import Participant
    from relations.meetings.models import Meeting
    from relations.privacy.models import User
    from tests.house.pages import pages
    client = Client(SERVER_NAME="localhost", raise_request_exception=False)
    who = {"username": User.objects.get().username, "password": os.environ["TEST_PASSWORD"]}
    assert client.post("/in/", who).status_code == 302
    addresses = []
    for page in pages():
        try:
            addresses.append(reverse(page.name))
        except NoReverseMatch:
            pass
    addresses += [f"/trips/T7/{part}" for part in ("", "days/", "pack/", "balance/", "plan/")]
    for person in Participant.objects.all():
        addresses += [f"/person/{person.code}/", f"/people/{person.code}/"]
    addresses += [reverse("meetings:detail", args=[one.pk]) for one in Meeting.objects.all()]
    found = {address: client.get(address) for address in addresses}
    print(len(found), [one for one, said in found.items() if said.status_code >= 500])
    html = [one for one in found.values() if "html" in one.headers.get("Content-Type", "")]
    shown = [one.content.decode() for one in html if one.status_code == 200]
    pages = [one for one in shown if 'id="main"' in one and "Hide" in one]
    print(len(pages) > 20, all("Travelling set of T7, until" in one for one in pages))
"""
)
COUNT = """
import json, django
django.setup()
from relations.privacy.opening import open_home
open_home()
from relations.consent.models import TakenBack
from relations.meetings.models import Call, TravellingSet
from relations.privacy.models import OutboxEntry
row = TravellingSet.objects.latest("made_at")
print(json.dumps({
    "entries": sorted(OutboxEntry.objects.values_list("state", flat=True)),
    "taken_back": TakenBack.objects.count(),
    "home": row.came_home_at is not None, "secret": row.secret, "ended": row.ended_how,
}))
"""


@pytest.fixture(scope="module")
def register(filled_clone: Clone, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register of its own, whose next trip is now."""
    home = tmp_path_factory.mktemp("travelling") / "register"
    shutil.copytree(filled_clone.rehearsal, home)
    filled_clone.read(MOVE, RELATIONS_HOME=str(home))
    return home


def travel(copy: Clone, register: Path, folder: Path, *more: str) -> str:
    typed = "".join(f"{one}\n" for one in (PASSPHRASE, PASSPHRASE, PASSWORD, PASSWORD))
    done = copy.run("travel", "T7", str(folder), *more, typed=typed, RELATIONS_HOME=str(register))
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def made(filled_clone: Clone, register: Path) -> Path:
    """The set, as it was made; each test takes a copy."""
    folder = register.with_name("set")
    assert f"Its last day is {LAST}" in travel(filled_clone, register, folder)
    return folder


def copied(folder: Path, to: Path) -> Path:
    return Path(shutil.copytree(folder, to / "set"))


def opened(copy: Clone, folder: Path, day: date, *, script: str = OPEN, **more: str) -> str:
    said = {"TEST_DAY": day.isoformat(), "TEST_TYPED": PASSPHRASE, "TEST_PASSWORD": PASSWORD}
    said |= more
    return copy.read(script, RELATIONS_HOME=str(folder), **said)


def hexed(values: list[str]) -> set[bytes]:
    return {bytes.fromhex(one) for one in values}


def test_it_holds_nothing_of_anybody_outside_the_trip(filled_clone, register, made, tmp_path):
    """Its files with the register's pages opened, and every column with what is sealed opened."""
    told = json.loads(filled_clone.read(VALUES, RELATIONS_HOME=str(register)))
    assert {"12", "19", "04"} <= set(told["there"])
    assert len(told["others"]) > 200
    folder = copied(made, tmp_path)
    key, columns = opened(filled_clone, folder, TODAY, script=COLUMNS).split(maxsplit=2)[1:]
    there = {name: base64.b64decode(said) for name, said in json.loads(columns).items()}
    lies = {**inside(folder, bytes.fromhex(key)), **there}
    assert traces(hexed(told["others"]) | hexed(told["names"]), lies) == []
    assert traces([one.encode() for one in told["told"]], lies) == []
    # The same look finds everybody who is on it.
    assert told["numbers"]
    for one in (*told["called"], *told["numbers"]):
        assert traces([bytes.fromhex(one)], there)


def test_every_page_of_it_opens_and_says_what_it_is(filled_clone, made, tmp_path):
    folder = copied(made, tmp_path)
    _, walked, said = opened(filled_clone, folder, TODAY, script=WALK).splitlines()
    count, broken = walked.split(maxsplit=1)
    assert int(count) > 60
    assert broken == "[]"
    assert said == "True True"


def test_it_opens_on_its_last_day_and_from_the_day_after_never_again(filled_clone, made, tmp_path):
    folder = copied(made, tmp_path)
    assert opened(filled_clone, folder, LAST).startswith("open ")
    over = opened(filled_clone, folder, LAST + timedelta(days=1))
    assert over == "The home stays locked: this travelling set is over, and opens no more.\n"
    kept = json.loads((folder / "keys.json").read_text())
    assert [slot["name"] for slot in kept["slots"]] == ["home"]
    # The clock put back does not revive it.
    assert "passphrase was wrong" in opened(filled_clone, folder, TODAY)


def test_clock_behind_its_last_entry_opens_nothing_and_ends_nothing(filled_clone, made, tmp_path):
    folder = copied(made, tmp_path)
    assert opened(filled_clone, folder, LAST, script=WRITE, TEST_CODE="12").startswith("open ")
    behind = opened(filled_clone, folder, TODAY)
    assert "clock of this computer is behind the last entry of the set" in behind
    assert opened(filled_clone, folder, LAST).startswith("open ")


def at_home(home: Path) -> dict[str, str]:
    """The register in its own process; its lists stand on the day of now."""
    return {"RELATIONS_HOME": str(home), "RELATIONS_TODAY": TODAY.isoformat()}


def count(copy: Clone, home: Path) -> dict:
    return json.loads(copy.read(COUNT, **at_home(home)))


def come_home(copy: Clone, home: Path, folder: Path) -> str:
    done = copy.run("come_home", str(folder), **at_home(home))
    assert done.returncode == 0, done.stderr
    return done.stdout


KILLED = """
import os, django
django.setup()
from pathlib import Path
from relations.privacy.opening import open_home
open_home()
from relations.meetings import travelling
from relations.privacy import sets
from relations.today import coming_home, outbox
take, taken = outbox.take_in, []
def one_more(**said):
    if len(taken) == int(os.environ["TEST_AFTER"]):
        os._exit(9)
    taken.append(said)
    return take(**said)
outbox.take_in = one_more
if os.environ["TEST_AFTER"] == "noted":
    sets.wipe = lambda root: os._exit(9)
    outbox.take_in = take
coming_home.bring(Path(os.environ["TEST_SET"]))
"""


def killed(copy: Clone, home: Path, folder: Path, after: str) -> None:
    with pytest.raises(AssertionError):
        copy.read(KILLED, TEST_SET=str(folder), TEST_AFTER=after, **at_home(home))


def test_what_was_written_in_it_arrives_exactly_once_however_often_it_is_killed(
    filled_clone, register, made, tmp_path
):
    home, folder = tmp_path / "home", copied(made, tmp_path)
    shutil.copytree(register, home)
    before = count(filled_clone, home)
    told = opened(filled_clone, folder, TODAY, script=WRITE, TEST_CODE="12").splitlines()
    # Each was sent twice; a press that is none of the outbox's writes nothing.
    assert told[1:] == ["[201, 200, 302, 302, 403] 2", "True True"]
    # It is over by the time it comes home: only the register opens it then.
    assert "is over" in opened(filled_clone, folder, LAST + timedelta(days=1))
    kept = copied(folder, tmp_path / "again")
    for after in ("1", "noted"):
        killed(filled_clone, home, folder, after)
    assert "Entries in the set" in come_home(filled_clone, home, folder)
    after = count(filled_clone, home)
    assert sorted([*before["entries"], "done", "done"]) == after["entries"]
    assert after["taken_back"] == before["taken_back"] + 1
    assert (after["home"], after["secret"]) == (True, "")
    assert not folder.exists()
    # A copy of it that turns up later brings nothing twice, and is wiped too.
    come_home(filled_clone, home, kept)
    assert count(filled_clone, home) == after
    assert not kept.exists()


ALARM = """
import django
django.setup()
from relations.privacy.opening import open_home
open_home()
from django.utils import timezone
from relations.privacy.models import User
from relations.rights.actions import raise_alarm
raise_alarm(what="bag", by=User.objects.get(role="artist"), at=timezone.now())
"""


def test_what_comes_out_of_a_set_that_an_alarm_ended_waits_but_a_stop_acts(
    filled_clone, register, made, tmp_path
):
    home, folder = tmp_path / "home", copied(made, tmp_path)
    shutil.copytree(register, home)
    before = count(filled_clone, home)
    opened(filled_clone, folder, TODAY, script=WRITE, TEST_CODE="12")
    filled_clone.read(ALARM, **at_home(home))
    assert "nothing in it\nwas acted on but a stop" in come_home(filled_clone, home, folder)
    after = count(filled_clone, home)
    assert sorted([*before["entries"], "asked", "asked"]) == after["entries"]
    assert after["taken_back"] == before["taken_back"] + 1
    assert after["ended"] == "alarm"


def test_another_home_brings_none_of_it(filled_clone, made, tmp_path):
    folder = copied(made, tmp_path)
    done = filled_clone.run("come_home", str(folder), RELATIONS_HOME=str(filled_clone.rehearsal))
    assert done.returncode == 1
    assert "made by another register" in done.stderr
    assert folder.exists()
