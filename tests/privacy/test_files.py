"""Sealed files: whole or not at all, never overwritten, and no change to them goes unseen."""

import errno
import fcntl
import io
import os
import subprocess
import sys
import uuid

import pytest
from django.core.files.base import ContentFile

from relations.privacy import files
from relations.privacy.crypt import SealBroken
from relations.privacy.files import (
    CHUNK,
    PART,
    SealedStorage,
    light_copies,
    open_chunks,
    scans,
    seal_chunks,
)
from relations.privacy.home import home

KEY, NAME = bytes(32), str(uuid.UUID(int=1))
PIECE = CHUNK + 16


def sealed(data, name=NAME):
    return b"".join(seal_chunks([data], KEY, name))


def opened(token, name=NAME):
    return b"".join(open_chunks(io.BytesIO(token), KEY, name))


@pytest.fixture
def storage(tmp_path):
    return SealedStorage(tmp_path / "scans")


@pytest.mark.parametrize("size", [0, 1, 65535, 65536, 65537, 131072, 200_000])
def test_a_file_of_any_size_comes_back_as_it_was(storage, size):
    data = os.urandom(size)
    key = storage.save(ContentFile(data))
    assert storage.open(key).read() == data
    assert storage.size(key) == size


@pytest.mark.parametrize("pieces", [[b""], [b"a" * CHUNK, b"b"], [b"a"] * 10, [b"a" * 300_000]])
def test_how_a_file_came_in_pieces_does_not_matter(pieces):
    token = b"".join(seal_chunks(pieces, KEY, NAME))
    assert opened(token) == b"".join(pieces)


@pytest.mark.parametrize("cut", [1, 16, 17, PIECE, PIECE + 1, 2 * PIECE])
def test_a_file_cut_at_its_end_does_not_open(cut):
    token = sealed(b"x" * (2 * CHUNK + 100))
    with pytest.raises(SealBroken):
        opened(token[:-cut])


def test_a_file_cut_at_the_edge_of_a_chunk_does_not_open():
    token = sealed(b"x" * (2 * CHUNK + 100))
    for chunks in (0, 1, 2):
        with pytest.raises(SealBroken):
            opened(token[: 40 + chunks * PIECE])


def test_a_file_with_chunks_swapped_or_left_out_does_not_open():
    token = sealed(os.urandom(3 * CHUNK))
    head, one, two, three = (
        token[:40],
        *(token[40 + i * PIECE : 40 + (i + 1) * PIECE] for i in range(3)),
    )
    assert opened(head + one + two + three)
    for order in (head + two + one + three, head + two + three, head + one + three):
        with pytest.raises(SealBroken):
            opened(order)


def test_a_file_with_something_added_does_not_open():
    token = sealed(b"x" * 100)
    for more in (b"y", token[40:], bytes(PIECE)):
        with pytest.raises(SealBroken):
            opened(token + more)


@pytest.mark.parametrize("byte", [0, 4, 6, 7, 8, 39, 40, 100])
def test_a_file_with_one_bit_turned_does_not_open(byte):
    token = bytearray(sealed(b"x" * 200))
    token[byte] ^= 1
    with pytest.raises(SealBroken):
        opened(bytes(token))


def test_a_file_under_another_name_does_not_open(storage):
    key = storage.save(b"words")
    other = str(uuid.uuid4())
    storage.path_of(key).rename(storage.path_of(other))
    with pytest.raises(SealBroken):
        storage.open(other)


def test_an_empty_file_or_one_of_another_kind_does_not_open():
    for token in (b"", b"%PDF-1.7", b"x" * 1000):
        with pytest.raises(SealBroken):
            opened(token)


def test_two_files_with_the_same_content_share_nothing():
    assert sealed(b"x" * 64)[8:40] != sealed(b"x" * 64)[8:40]
    assert sealed(b"x" * 64)[40:] != sealed(b"x" * 64)[40:]


def test_the_disk_holds_no_clear_byte_and_only_the_owner_may_read(storage):
    key = storage.save(b"said in trust" * 10_000)
    path = storage.path_of(key)
    assert b"trust" not in path.read_bytes()
    assert path.stat().st_mode & 0o777 == 0o600
    assert [file.name for file in storage.folder.iterdir()] == [key]


def test_names_are_random_and_a_name_from_outside_is_not_used(storage):
    first, second = storage.save("awa.jpg", ContentFile(b"x")), storage.save(b"x")
    assert first != second
    assert {uuid.UUID(first).version, uuid.UUID(second).version} == {4}


def test_a_plain_open_file_is_taken_too(storage):
    assert storage.open(storage.save(io.BytesIO(b"words"))).read() == b"words"


@pytest.mark.parametrize("key", ["../keys.json", "/etc/passwd", "", "awa.jpg"])
def test_a_key_that_is_none_leads_nowhere(storage, key):
    for ask in (storage.open, storage.exists, storage.delete, storage.size):
        with pytest.raises(FileNotFoundError):
            ask(key)


def test_a_file_is_only_read(storage):
    key = storage.save(b"x")
    with pytest.raises(ValueError, match="only read"):
        storage.open(key, "wb")


def test_a_file_that_is_deleted_is_gone(storage):
    key = storage.save(b"x")
    assert storage.exists(key)
    storage.delete(key)
    assert not storage.exists(key)


def test_a_name_that_exists_is_never_overwritten(storage):
    key = storage.save(b"first")
    with pytest.raises(FileExistsError):
        storage._save(key, ContentFile(b"second"))
    assert storage.open(key).read() == b"first"
    assert [file.name for file in storage.folder.iterdir()] == [key]


@pytest.fixture
def no_links(monkeypatch):
    def refuse(*args):
        raise OSError(errno.EPERM, "no hard links here")

    monkeypatch.setattr(files.os, "link", refuse)


def test_a_disk_without_hard_links_keeps_files_too(storage, no_links):
    key = storage.save(b"first")
    assert storage.open(key).read() == b"first"
    with pytest.raises(FileExistsError):
        storage._save(key, ContentFile(b"second"))
    assert [file.name for file in storage.folder.iterdir()] == [key]


def test_another_fault_of_the_disk_is_not_hidden(storage, monkeypatch):
    def full(*args):
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(files.os, "link", full)
    with pytest.raises(OSError, match="full"):
        storage.save(b"x")
    assert list(storage.folder.iterdir()) == []


KILLED = """
import os, signal, sys
from pathlib import Path
from relations.privacy import files, keys
keys.keyring.hold(bytes(range(32)))
def publish(part, final):
    os.kill(os.getpid(), signal.SIGKILL)
files.publish = publish
files.SealedStorage(Path(sys.argv[1])).save(b"said in trust" * 50_000)
"""


def test_a_save_that_was_killed_leaves_a_sealed_part_which_is_swept(storage):
    done = subprocess.run([sys.executable, "-c", KILLED, storage.folder], check=False)
    assert done.returncode == -9
    (part,) = storage.folder.iterdir()
    assert part.name.startswith(PART)
    assert part.stat().st_size > 600_000
    assert b"trust" not in part.read_bytes()
    assert storage.sweep() == 1
    assert list(storage.folder.iterdir()) == []


def test_a_sweep_leaves_whole_files_and_parts_being_written(storage):
    key = storage.save(b"x")
    part = storage.folder / f"{PART}{uuid.uuid4()}"
    with part.open("wb") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        assert storage.sweep() == 0
    assert part.exists()
    assert storage.sweep() == 1
    assert storage.open(key).read() == b"x"


def test_a_sweep_of_a_folder_that_is_not_there_finds_nothing(storage):
    assert storage.sweep() == 0


def test_scans_and_light_copies_lie_in_the_home():
    assert scans().folder == home().scans == SealedStorage().folder
    assert light_copies().folder == home().pictures
