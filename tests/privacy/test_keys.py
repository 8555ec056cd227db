"""The keyring: locked it gives nothing, a wrong passphrase opens nothing and costs time."""

import threading

import pytest

from relations.privacy import keys, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import Keyring, Locked, TakenSecret, TooSoon, WrongSecret

MASTER = bytes(range(32))
PASSPHRASE, CODE = "six words that nobody guesses", "0000-1111-2222-3333-4444-5555-6666"


@pytest.fixture
def path(tmp_path, monkeypatch):
    cheap = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))
    monkeypatch.setattr(slots, "COSTS", cheap)
    kept = slots.new_key_file("real", {"passphrase": PASSPHRASE, "recovery": CODE}, MASTER)
    slots.write_key_file(tmp_path / "keys.json", kept)
    return tmp_path / "keys.json"


@pytest.fixture
def ring(path):
    return Keyring(lambda: path)


@pytest.fixture
def clock(monkeypatch):
    """Seconds on the keyring's clock, moved by the test."""
    moment = [1000.0]
    monkeypatch.setattr(keys.time, "monotonic", lambda: moment[0])
    return moment


def test_a_new_keyring_is_locked_and_gives_no_key(ring):
    assert ring.locked
    with pytest.raises(Locked):
        ring.subkey("field")


@pytest.mark.parametrize(("said", "name"), [(PASSPHRASE, "passphrase"), (CODE, "recovery")])
def test_each_slot_opens_the_same_master_key(ring, said, name):
    assert ring.unlock(said) == name
    held = Keyring(lambda: None)
    held.hold(MASTER)
    assert ring.subkey("field") == held.subkey("field")


def test_a_wrong_passphrase_opens_nothing(ring):
    with pytest.raises(WrongSecret):
        ring.unlock("something else altogether")
    assert ring.locked
    with pytest.raises(Locked):
        ring.subkey("database")


def test_after_each_failure_the_wait_doubles_up_to_half_a_minute(ring, clock):
    waits = []
    for _ in range(9):
        with pytest.raises(WrongSecret):
            ring.unlock("wrong")
        with pytest.raises(TooSoon) as soon:
            ring.unlock(PASSPHRASE)
        waits.append(soon.value.seconds)
        clock[0] += soon.value.seconds
    assert waits == [0.5, 1, 2, 4, 8, 16, 30, 30, 30]


def test_the_right_passphrase_ends_the_waiting(ring, clock):
    with pytest.raises(WrongSecret):
        ring.unlock("wrong")
    clock[0] += 1
    ring.unlock(PASSPHRASE)
    ring.lock()
    assert ring.unlock(PASSPHRASE) == "passphrase"


def test_subkeys_differ_by_purpose_and_stay_the_same(ring):
    ring.hold(MASTER)
    made = {purpose: ring.subkey(purpose) for purpose in keys.PURPOSES}
    assert len(set(made.values())) == len(keys.PURPOSES) == 6
    assert all(len(key) == 32 for key in made.values())
    assert {purpose: ring.subkey(purpose) for purpose in made} == made
    assert MASTER not in made.values()


def test_a_purpose_nobody_agreed_on_is_refused(ring):
    ring.hold(MASTER)
    with pytest.raises(ValueError, match="purpose"):
        ring.subkey("feild")


def test_a_short_master_key_is_refused(ring):
    with pytest.raises(ValueError, match="32 bytes"):
        ring.hold(b"short")
    assert ring.locked


def test_locking_forgets_the_key_and_moves_the_generation_on(ring):
    ring.hold(MASTER)
    ring.subkey("field")
    generation, held = ring.generation, ring._master
    ring.lock()
    assert bytes(held) == bytes(32)
    assert ring.locked
    assert ring.generation == generation + 1
    with pytest.raises(Locked):
        ring.subkey("field")
    ring.lock()
    assert ring.locked


def test_the_keys_of_a_rehearsal_open_themselves(tmp_path):
    path = tmp_path / "keys.json"
    slots.write_key_file(path, slots.new_key_file("rehearsal", {"open": "in it"}, MASTER))
    ring = Keyring(lambda: path)
    ring.unlock_rehearsal()
    assert not ring.locked


def test_a_real_home_never_opens_itself(ring, path):
    with pytest.raises(WrongSecret):
        ring.unlock_rehearsal()
    kept = slots.read_key_file(path)
    kept["slots"].append(slots.make_slot("open", "in it", MASTER, "rehearsal"))
    slots.write_key_file(path, kept)
    with pytest.raises(WrongSecret):
        ring.unlock_rehearsal()
    with pytest.raises(WrongSecret):
        ring.unlock("in it")
    assert ring.locked


def test_two_who_try_at_once_wait_for_each_other(ring, monkeypatch):
    inside, most = [], []
    opened = keys.open_slot

    def slow(*args):
        inside.append(1)
        most.append(len(inside))
        try:
            return opened(*args)
        finally:
            inside.pop()

    monkeypatch.setattr(keys, "open_slot", slow)
    threads = [threading.Thread(target=ring.unlock, args=(PASSPHRASE,)) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [1, 1, 1, 1]


KEEPERS = "a key under the third stone"


def test_a_keeper_opens_the_same_home_without_the_artist(ring):
    ring.unlock(PASSPHRASE)
    field = ring.subkey("field")
    ring.rewrap("keeper", KEEPERS)
    ring.lock()
    assert ring.unlock(KEEPERS) == "keeper"
    assert ring.subkey("field") == field


def test_a_new_passphrase_opens_and_the_old_one_does_not(ring, path, clock):
    old = path.read_text()
    ring.unlock(CODE)
    ring.rewrap("passphrase", "other words that nobody guesses")
    ring.lock()
    with pytest.raises(WrongSecret):
        ring.unlock(PASSPHRASE)
    clock[0] += 60
    assert ring.unlock("other words that nobody guesses") == "passphrase"
    ring.lock()
    # An old copy of the file still opens: what only a rekey ends.
    path.write_text(old)
    assert ring.unlock(PASSPHRASE) == "passphrase"


def test_a_secret_of_another_slot_is_not_taken_and_ones_own_may_stay(ring, path):
    ring.unlock(PASSPHRASE)
    before = path.read_text()
    with pytest.raises(TakenSecret):
        ring.rewrap("keeper", PASSPHRASE)
    assert path.read_text() == before
    ring.rewrap("passphrase", PASSPHRASE)
    ring.lock()
    assert ring.unlock(PASSPHRASE) == "passphrase"


def test_a_locked_keyring_wraps_nothing(ring, path):
    before = path.read_text()
    with pytest.raises(Locked):
        ring.rewrap("keeper", KEEPERS)
    assert path.read_text() == before


def test_without_a_rekey_there_is_no_former_key(ring):
    ring.unlock(PASSPHRASE)
    assert not ring.is_halfway
    with pytest.raises(Locked):
        ring.former_subkey("field")


def test_a_locked_keyring_is_not_rekeyed_nor_one_twice_at_once(ring, path):
    before, new = path.read_text(), {"passphrase": KEEPERS, "recovery": CODE}
    with pytest.raises(Locked):
        ring.begin_rekey(new, 0)
    with pytest.raises(Locked):
        ring.end_rekey()
    assert path.read_text() == before
    ring.unlock(PASSPHRASE)
    ring.begin_rekey(new, 0)
    with pytest.raises(Locked):
        ring.begin_rekey(new, 0)
    assert (ring.key_id, ring.is_halfway) == (2, True)
    ring.end_rekey()
    assert (ring.key_id, ring.is_halfway) == (2, False)
    ring.rewrap("passphrase", PASSPHRASE)
    ring.lock()
    assert ring.unlock(PASSPHRASE) == "passphrase"
    assert ring.key_id == 2
