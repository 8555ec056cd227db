"""Several processes that answer at one address, each with the key, and one that watches over them.

The passphrase is asked once. The process that opened the home parts into the workers, which so
have the key in their memory and nowhere else: not in an argument, the environment or a file. A home
that starts locked is answered by one worker alone; once it is opened there, what was typed goes to
the watching process through a socket that only these processes hold, and the others are made.

They end together. A worker that fails, or that finds the home unused, ends all of them and the
watching process alike, so that no key stays in a process that nobody looks after; what started the
site starts it again, by the credential or locked.
"""

import os
import select
import signal
import socket
import threading
from contextlib import suppress
from typing import Any, NoReturn

from django.db import connections

from .keys import keyring
from .opening import let_in

MOST = 32
FAILED = 1
ENDINGS = (signal.SIGTERM, signal.SIGINT)

# In a worker: the end of the socket by which it speaks to the process that watches.
_to_watcher: socket.socket | None = None


class _Ended(Exception):  # noqa: N818 - no fault
    """Somebody asked the watching process to end; with what it ends."""


def listen(host: str, port: int) -> socket.socket:
    """The one socket at which every worker takes in who comes."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    return socket.create_server((host, port), family=family, backlog=1024)


def opened(secret: str) -> None:
    """Tell the watching process, where there is one, by what the home was opened just now."""
    if _to_watcher is not None:
        _to_watcher.send(secret.encode())


def part(count: int) -> None:
    """Part into `count` workers, in each of which this returns; the watching process never does.

    It ends with what the first worker to end ended with, such as IDLE_EXIT, or FAILED where that
    was 0; with 0 where it was interrupted itself.
    """
    _Watch(count).part()


class _Watch:
    """The process that watches: its workers by handle, and the two ends of the way to it."""

    def __init__(self, count: int) -> None:
        self.count = count
        self.running: dict[int, int] = {}
        self.ours, self.theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        self.before: dict[signal.Signals, Any] = {}

    def part(self) -> None:
        watcher = os.getpid()
        self.before = {number: signal.signal(number, _asked_to_end) for number in ENDINGS}
        try:
            while True:
                if self._made_workers():
                    return
                ready, _, _ = select.select([self.ours.fileno(), *self.running], [], [])
                ended = [self.running.pop(handle) for handle in self.running.keys() & set(ready)]
                if ended:
                    code = os.waitstatus_to_exitcode(os.waitpid(ended[0], 0)[1]) or FAILED
                    raise _Ended(code)
                keyring.unlock(self.ours.recv(self._longest()).decode())
                let_in()
        except _Ended as asked:
            raise SystemExit(asked.args[0]) from None
        finally:
            if os.getpid() == watcher:
                self._end()

    def _longest(self) -> int:
        return self.ours.getsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF)

    def _made_workers(self) -> bool:
        """Make as many as are wanted, one while the home is locked; True in each that was made."""
        # A connection is one process's own: two that speak on it at once would mix their rows.
        connections.close_all()
        while len(self.running) < (1 if keyring.locked else self.count):
            # Asked to end between parting and standing alone, a worker would end the others.
            signal.pthread_sigmask(signal.SIG_BLOCK, ENDINGS)
            made = os.fork()
            if not made:
                self._stand_alone()
            signal.pthread_sigmask(signal.SIG_UNBLOCK, ENDINGS)
            if not made:
                return True
            self.running[os.pidfd_open(made)] = made
        return False

    def _stand_alone(self) -> None:
        """Be a worker: a process that ends when nobody watches over it any more."""
        global _to_watcher
        for number, handler in self.before.items():
            signal.signal(number, handler)
        self.ours.close()
        for handle in self.running:
            os.close(handle)
        _to_watcher = self.theirs
        threading.Thread(target=_follow, args=[self.theirs], name="follow", daemon=True).start()

    def _end(self) -> None:
        """End the workers that still run; who asks once more changes nothing."""
        for number in ENDINGS:
            signal.signal(number, signal.SIG_IGN)
        for process in self.running.values():
            with suppress(ProcessLookupError):
                os.kill(process, signal.SIGTERM)
        for process in self.running.values():
            os.waitpid(process, 0)


def _asked_to_end(number: int, _: object) -> NoReturn:
    raise _Ended(0 if number == signal.SIGINT else -number)


def _follow(watcher: socket.socket) -> None:
    """Nothing is ever sent to a worker: what it waits for ends when the watching process does."""
    watcher.recv(1)
    os.kill(os.getpid(), signal.SIGKILL)
