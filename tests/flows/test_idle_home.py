"""A real home, served as it is for real, that nobody uses: it locks itself and is opened again.

The whole command in a process of its own, opened by a credential file; only the minutes are fewer.
"""

import http.client
import os
import re
import socket
import subprocess
import sys
import time
from contextlib import closing
from http.cookies import SimpleCookie
from pathlib import Path
from urllib.parse import urlencode

import pytest

from relations.privacy import opening, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import keyring
from tests.clone import ROOT

PASSPHRASE = "six words that nobody guesses"
SERVED = """
import sys
import django
django.setup()
from django.conf import settings
from django.core.management import call_command
settings.RELATIONS_IDLE_MINUTES = 0.05
call_command("serve", port=int(sys.argv[1]))
"""

pytestmark = pytest.mark.unlocked


def environment(folder):
    home = {"RELATIONS_HOME": str(folder / "home"), "CREDENTIALS_DIRECTORY": str(folder)}
    return os.environ | home


@pytest.fixture
def master(tmp_path, settings, monkeypatch):
    """The master key of a real home, which no process holds yet."""
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    settings.RELATIONS_HOME = tmp_path / "home"
    mask = os.umask(0o077)
    opening.make_home("real", {"passphrase": PASSPHRASE, "recovery": "0" * 28})
    kept = slots.read_key_file(tmp_path / "home" / "keys.json")
    (tmp_path / "passphrase").write_text(PASSPHRASE)
    os.umask(mask)
    made = [sys.executable, "manage.py", "update"]  # its tables
    subprocess.run(made, cwd=ROOT, env=environment(tmp_path), check=True, capture_output=True)
    yield slots.open_slot(kept["slots"][0], PASSPHRASE, "real")
    keyring.hold(bytes(range(32)))


@pytest.fixture
def watcher(master, tmp_path):
    """The port of the home that is served, and the process that watches over its server."""
    with closing(socket.socket()) as listener:
        listener.bind(("127.0.0.1", 0))
        port = listener.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "-c", SERVED, str(port)],
        cwd=ROOT,
        env=environment(tmp_path),
        stdout=subprocess.DEVNULL,
    )
    try:
        yield port, process.pid
    finally:
        process.terminate()
        process.wait(10)


def ask(port, method="GET", said=None, cookie=""):
    """The answer of the sign-in page's address, and what it says."""
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=10)) as line:
        kind = {"Content-Type": "application/x-www-form-urlencoded"} if said else {}
        line.request(method, "/in/", urlencode(said or {}), {"Cookie": cookie, **kind})
        answer = line.getresponse()
        return answer, answer.read().decode()


def wait_for(port, status):
    """What is said with this status, once it is answered at all."""
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            answer, page = ask(port)
        except OSError:
            pass
        else:
            if answer.status == status:
                return answer, page
        time.sleep(0.2)
    raise AssertionError(f"no answer {status}")


def server_of(watcher, after=None):
    """The process that serves, once it is another than `after`: that one locks, then ends."""
    until = time.monotonic() + 30
    while time.monotonic() < until:
        found = Path(f"/proc/{watcher}/task/{watcher}/children").read_text().split()
        if found and int(found[0]) != after:
            return int(found[0])
        time.sleep(0.1)
    raise AssertionError("no other server was begun")


def holds(process, key):
    """Whether the key lies anywhere in what a process has in memory."""
    maps = Path(f"/proc/{process}/maps").read_text()
    with Path(f"/proc/{process}/mem").open("rb", buffering=0) as memory:
        for start, end in re.findall(r"^(\w+)-(\w+) rw", maps, re.MULTILINE):
            memory.seek(int(start, 16))
            try:
                if key in memory.read(int(end, 16) - int(start, 16)):
                    return True
            except OSError:  # a region that cannot be read, such as the kernel's own
                continue
    return False


def test_home_nobody_uses_loses_its_key_with_its_process_and_opens_again(watcher, master):
    port, watching = watcher
    _, page = wait_for(port, 200)
    assert 'name="username"' in page
    opened = server_of(watching)
    assert (holds(opened, master), holds(watching, master)) == (True, False)

    locked = server_of(watching, after=opened)
    answer, page = wait_for(port, 503)
    with pytest.raises(ProcessLookupError):
        os.kill(opened, 0)
    assert (holds(locked, master), holds(watching, master)) == (False, False)

    cookie = SimpleCookie(answer.getheader("Set-Cookie"))["csrftoken"]
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)
    assert token
    said = {"csrfmiddlewaretoken": token[1], "passphrase": PASSPHRASE}
    answer, _ = ask(port, "POST", said, f"csrftoken={cookie.value}")
    assert (answer.status, answer.getheader("Location")) == (302, "/in/")
    assert ask(port)[0].status == 200
