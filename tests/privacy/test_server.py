"""The real server: nothing that goes through it lies in clear on the disk, however large."""

import http.client
import os
import re
import subprocess
import sys
import threading
import time
from pathlib import Path
from stat import S_ISREG

import pytest
from waitress.task import ThreadedTaskDispatcher

from relations.privacy import idle, server

MARK = b"said in trust "
MIB = 1024 * 1024
# A site of two pages, served as ours is: one takes a body, one gives out a large answer.
SITE = """
import sys, django
from django.conf import settings
django.setup()
from django.http import HttpResponse
from django.urls import path
from relations.privacy import server
from relations.privacy.keys import keyring

def take(request):
    scan = request.FILES["scan"]
    return HttpResponse(str(getattr(scan, "is_too_large", False)) + " " + str(scan.size))

def give(request):
    return HttpResponse(b"said in trust " * (30 * 1024 * 1024 // 14))

class Addresses:
    urlpatterns = [path("take/", take), path("give/", give)]

sys.modules["addresses"] = Addresses
settings.ROOT_URLCONF = "addresses"
settings.MIDDLEWARE = ["relations.privacy.middleware.HeadersMiddleware"]
keyring.hold(bytes(range(32)))
server.serve("127.0.0.1", int(sys.argv[1]))
"""


@pytest.fixture
def site(tmp_path):
    port = _free_port()
    (tmp_path / "tmp").mkdir()
    process = subprocess.Popen(
        [sys.executable, "-c", SITE, str(port)],
        env={**os.environ, "TMPDIR": str(tmp_path / "tmp"), "RELATIONS_HOME": str(tmp_path)},
        stderr=subprocess.DEVNULL,
    )
    try:
        _wait(port)
        yield process, port
    finally:
        process.terminate()
        process.wait(10)


def _free_port():
    import socket

    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def _wait(port):
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            ask(port, "GET", "/nowhere")
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError("the server did not start")


def ask(port, method, path, body=None, headers=None):
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    line.request(method, path, body, headers or {})
    answer = line.getresponse()
    content = answer.read()
    line.close()
    return answer.status, content


def multipart(size):
    scan = (MARK * (size // len(MARK) + 1))[:size]
    body = (
        b'--edge\r\nContent-Disposition: form-data; name="scan"; filename="a.pdf"\r\n'
        b"Content-Type: application/pdf\r\n\r\n" + scan + b"\r\n--edge--\r\n"
    )
    return body, {"Content-Type": "multipart/form-data; boundary=edge"}


class Watch(threading.Thread):
    """Looks at every file the server holds open, again and again, for words in clear."""

    def __init__(self, process, words=(MARK,)):
        super().__init__()
        self.words = words
        self.folder = Path(f"/proc/{process.pid}/fd")
        self.ended, self.looks, self.found = threading.Event(), 0, []

    def run(self):
        while not self.ended.wait(0.01):
            self.looks += 1
            seen = set()
            for handle in self.folder.iterdir():
                try:
                    about = handle.stat()
                    # Each of its threads holds the register open: one reading of it is enough.
                    if not S_ISREG(about.st_mode) or (about.st_dev, about.st_ino) in seen:
                        continue
                    seen.add((about.st_dev, about.st_ino))
                    content = handle.read_bytes()
                    if any(word in content for word in self.words):
                        self.found.append(os.readlink(handle))
                except OSError:
                    continue

    def __enter__(self):
        self.start()
        return self

    def __exit__(self, *_):
        self.ended.set()
        self.join()


def test_a_large_upload_and_a_large_answer_never_touch_the_disk(site, tmp_path):
    process, port = site
    body, headers = multipart(20 * MIB)
    with Watch(process) as watch:
        assert ask(port, "POST", "/take/", body, headers) == (200, b"False %d" % (20 * MIB))
        status, answer = ask(port, "GET", "/give/")
        assert (status, len(answer) > 29 * MIB) == (200, True)
    assert watch.looks > 5
    assert watch.found == []
    assert list((tmp_path / "tmp").iterdir()) == []


def test_an_upload_a_little_too_large_reaches_its_form(site):
    body, headers = multipart(26 * MIB)
    assert ask(site[1], "POST", "/take/", body, headers) == (200, b"True %d" % (26 * MIB))


def test_the_watch_sees_a_file_in_clear(tmp_path):
    words = (tmp_path / "clear").open("wb+")
    words.write(MARK)
    words.flush()

    class This:
        pid = os.getpid()

    with Watch(This) as watch:
        time.sleep(0.1)
    words.close()
    assert str(tmp_path / "clear") in watch.found


def test_the_server_says_nothing_of_itself(site):
    line = http.client.HTTPConnection("127.0.0.1", site[1], timeout=10)
    line.request("GET", "/nowhere")
    answer = line.getresponse()
    answer.read()
    assert answer.getheader("Server") is None
    line.close()


def test_a_crash_of_the_server_writes_no_core(site):
    limits = Path(f"/proc/{site[0].pid}/limits").read_text()
    assert re.search(r"Max core file size +0 +0 ", limits)


def test_that_somebody_waits_for_a_thread_is_no_warning(caplog):
    queue = ThreadedTaskDispatcher()
    queue.add_task("a page")  # and no thread is there to take it
    assert not caplog.records
    queue.queue_logger.error("a fault of its own")
    assert len(caplog.records) == 1


def test_nothing_spills_up_to_the_largest_body_and_answer(settings):
    options = server.options()
    assert options["inbuf_overflow"] > options["max_request_body_size"] > settings.UPLOAD_BYTES
    assert options["outbuf_overflow"] > settings.UPLOAD_BYTES
    assert (options["threads"], options["channel_timeout"]) == (4, 300)
    assert "trusted_proxy" not in options


def test_behind_a_proxy_with_tls_its_word_is_taken(settings):
    settings.SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    options = server.options()
    assert options["trusted_proxy"] == "127.0.0.1"
    assert options["trusted_proxy_headers"] == {"x-forwarded-proto", "x-forwarded-for"}


def test_serving_sweeps_and_closes_behind_itself(monkeypatch, tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    for folder in ("scans", "pictures"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / ".part-1").write_bytes(b"sealed")
    told = []

    class Fake:
        def run(self):
            told.append("run")
            raise KeyboardInterrupt

        def close(self):
            told.append("close")

    monkeypatch.setattr(server, "create_server", lambda app, **options: Fake())
    with pytest.raises(KeyboardInterrupt):
        server.serve()
    assert told == ["run", "close"]
    assert not list(tmp_path.rglob(".part-*"))


# The watcher and its server; each server tells of itself and ends as it was told to.
WATCHED = """
import os, sys, time
from pathlib import Path
from stat import S_ISREG
import django
django.setup()
from relations.privacy import server
from relations.privacy.keys import keyring
told, endings = Path(sys.argv[1]), sys.argv[2].split()
locked = server.watch_over(locked=False)
turn = len(told.read_text().split()) if told.exists() else 0
with told.open("a") as file:
    file.write(f"{os.getppid()}:{locked} ")
if endings[turn] == "wait":
    time.sleep(60)
sys.exit(int(endings[turn]))
"""


@pytest.fixture
def watched(tmp_path):
    def start(*endings):
        return subprocess.Popen(
            [sys.executable, "-c", WATCHED, str(tmp_path / "told"), " ".join(endings)],
            env={**os.environ, "RELATIONS_HOME": str(tmp_path)},
        )

    return start


def test_a_server_that_ended_idle_is_started_again_locked(watched, tmp_path):
    watcher = watched(str(idle.IDLE_EXIT), str(idle.IDLE_EXIT), "3")
    assert watcher.wait(30) == 3
    told = (tmp_path / "told").read_text().split()
    assert told == [f"{watcher.pid}:False", f"{watcher.pid}:True", f"{watcher.pid}:True"]


def test_who_ends_the_watcher_ends_the_server(watched, tmp_path):
    watcher = watched("wait")
    until = time.monotonic() + 30
    while not (tmp_path / "told").exists() and time.monotonic() < until:
        time.sleep(0.05)
    watcher.terminate()
    assert watcher.wait(10) != 0
    with pytest.raises(ProcessLookupError):
        os.kill(watcher.pid, 0)


IDLE_SITE = SITE.replace("int(sys.argv[1]))", "int(sys.argv[1]), idle_minutes=0.02)")


def test_a_home_nobody_uses_ends_its_process(tmp_path, monkeypatch):
    script = IDLE_SITE.replace(
        "keyring.hold(",
        "import functools; from relations.privacy.idle import Idle; "
        "Idle.watch = functools.partialmethod(Idle.watch, every=0.1); keyring.hold(",
    )
    process = subprocess.Popen(
        [sys.executable, "-c", script, str(_free_port())],
        env={**os.environ, "RELATIONS_HOME": str(tmp_path)},
        stderr=subprocess.DEVNULL,
    )
    assert process.wait(30) == idle.IDLE_EXIT
