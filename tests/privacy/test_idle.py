"""A home that stands open and unused: the key goes at once, and then the process."""

import os
import signal
import threading
import time

import pytest

from relations.privacy import idle as module
from relations.privacy.idle import Idle
from relations.privacy.keys import keyring

MASTER = bytes(range(32))


@pytest.fixture
def clock(monkeypatch):
    moment = [1000.0]
    monkeypatch.setattr(module.time, "monotonic", lambda: moment[0])
    return moment


def test_half_an_hour_is_counted_from_the_last_use(clock):
    idle = Idle()
    clock[0] += 29 * 60
    assert not idle.is_longer_than(30)
    idle.touch()
    clock[0] += 30 * 60 - 0.1
    assert not idle.is_longer_than(30)
    clock[0] += 0.1
    assert idle.is_longer_than(30)


def test_a_process_that_was_parted_counts_the_same_moment():
    idle = Idle()
    idle._shared[0] = 0.0
    worker = os.fork()
    if not worker:
        idle.touch()
        os._exit(0)
    os.waitpid(worker, 0)
    assert time.monotonic() - idle._shared[0] < 60


@pytest.mark.unlocked
def test_a_locked_home_is_never_idle(clock):
    idle = Idle()
    keyring.lock()
    clock[0] += 10**6
    assert not idle.is_longer_than(30)
    keyring.hold(MASTER)


@pytest.mark.unlocked
def test_too_long_unused_the_key_goes_and_the_main_thread_is_told(monkeypatch):
    told = threading.Event()
    monkeypatch.setattr(module._thread, "interrupt_main", told.set)
    keyring.hold(MASTER)
    idle = Idle()
    idle.watch(0.001, every=0.01)
    assert told.wait(5)
    assert (keyring.locked, idle.is_over) == (True, True)
    keyring.hold(MASTER)


@pytest.mark.unlocked
def test_a_server_begun_where_interrupts_are_ignored_is_told_too():
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    keyring.hold(MASTER)
    try:
        Idle().watch(0.001, every=0.01)
        with pytest.raises(KeyboardInterrupt):
            time.sleep(5)
    finally:
        signal.signal(signal.SIGINT, before)
        keyring.hold(MASTER)


@pytest.mark.unlocked
def test_while_it_is_used_it_stays_open(monkeypatch):
    told = threading.Event()
    monkeypatch.setattr(module._thread, "interrupt_main", told.set)
    keyring.hold(MASTER)
    idle = Idle()
    idle.watch(0.02, every=0.01)  # 1.2 s
    for _ in range(15):
        idle.touch()
        time.sleep(0.1)
        assert not told.is_set()
    assert told.wait(5)
    keyring.hold(MASTER)
