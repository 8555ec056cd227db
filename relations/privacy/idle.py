"""How long nobody has used the open home, and the end of the process when that is too long."""

import _thread
import signal
import threading
import time
from mmap import mmap

from .keys import keyring

# What the process ends with, so that whoever watches over it starts it again, locked.
IDLE_EXIT = 75


class Idle:
    """Counts from the last answer to somebody signed in; a stranger's asking counts for nothing.

    Several workers count together: the moment stands in memory that a process shares with those
    it parts into, and their clock is the machine's own.
    """

    def __init__(self) -> None:
        self._shared = memoryview(mmap(-1, 8)).cast("d")
        self.touch()
        self.is_over = False

    def touch(self) -> None:
        """Somebody who may has used the home just now, or opened it."""
        self._shared[0] = time.monotonic()

    def is_longer_than(self, minutes: float) -> bool:
        """Whether the home stands open and nobody has used it for that long."""
        return not keyring.locked and time.monotonic() - self._shared[0] >= minutes * 60

    def watch(self, minutes: float, every: float = 5.0) -> None:
        """Interrupt the main thread once the home was open and idle for `minutes`.

        The key is let go at once, so that nothing is answered meanwhile; copies of it in freed
        memory are gone only with the process (storage: Python cannot wipe them). ValueError when
        it is not called by the main thread and interrupts are ignored.
        """
        if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
            # A server that a shell began in its background ignores interrupts, and would not end.
            signal.signal(signal.SIGINT, signal.default_int_handler)
        self.touch()

        def look() -> None:
            while not self.is_longer_than(minutes):
                time.sleep(every)
            self.is_over = True
            keyring.lock()
            _thread.interrupt_main()

        threading.Thread(target=look, name="idle", daemon=True).start()


idle = Idle()
