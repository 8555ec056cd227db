"""Every changed bit, cut or added byte of a backup is found, and told with its place."""

import random
from datetime import UTC, date, datetime, time, timedelta, timezone
from decimal import Decimal
from uuid import UUID

import pytest

from relations.privacy.crypt import SealBroken
from relations.privacy.files import seal_chunks
from relations.privacy.month_keys import MonthKey
from relations.rights import archive
from relations.rights.archive import Damaged, Manifest, NotABackup, Rows, SealedFile

KEY = MonthKey(7, "2026-11", bytes(range(32)))
ROW = UUID(int=37)
# One of each kind that a column of the site may hold.
VALUES = [
    *(None, True, False, 0, -5, 2**62, 0.1, "", "Zéphirine دلال", b"", b"\x01\x00sealed", ROW),
    *(date(2026, 11, 23), time(9, 30, 5), Decimal("12.50"), [], ["fr", ["a"]], {"a": {"b": None}}),
    datetime(2026, 11, 23, 9, 0, 0, 123456, tzinfo=UTC),
]
COLUMNS = [str(number) for number in range(len(VALUES))]
LARGE = random.Random(37).randbytes(700_000)
FILES = {"scans": {"a": LARGE, "b": b""}, "pictures": {"c": b"small"}}


def manifest(rows=1201, **other):
    tables = {
        "people.participant": {"columns": COLUMNS, "rows": rows},
        "people.name": {"columns": ["id"], "rows": 0},
    }
    told = {
        "made_at": "2026-11-25T16:00:00+00:00",
        "migrations": [["people", "0001_initial"]],
        "tables": tables,
        "log": [4, "ab" * 32],
        "ledger": [0, ""],
        "key_id": 1,
        "master": "",
    }
    return Manifest(**(told | other))


def files():
    for folder, inside in FILES.items():
        for name, data in inside.items():
            pieces = [data[at : at + archive.PIECE] for at in range(0, len(data), archive.PIECE)]
            yield SealedFile(folder, name, len(data), pieces)


def all_parts():
    yield manifest()
    for count in (500, 500, 201):
        yield Rows("people.participant", [VALUES] * count)
    yield from files()


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "one.backup"
    path.write_bytes(b"".join(archive.written(all_parts(), KEY)))
    return path


def test_what_was_written_is_what_is_read(path):
    first, *rest = archive.contents(path, KEY)
    assert first == manifest()
    assert first.moment == datetime(2026, 11, 25, 16, tzinfo=UTC)
    assert first.counts == {"people.participant": 1201, "people.name": 0}
    assert archive.number_of(path) == 7
    assert archive.verify(path, KEY) == (manifest(), 3)
    rows = [row for part in rest if isinstance(part, Rows) for row in part.rows]
    assert rows == [VALUES] * 1201
    assert [type(value) for value in rows[0]] == [type(value) for value in VALUES]
    came = {}
    for part in archive.contents(path, KEY):
        if isinstance(part, SealedFile):
            came.setdefault(part.folder, {})[part.name] = b"".join(part.pieces)
    assert came == FILES


def test_a_moment_is_kept_whatever_zone_it_was_in():
    there = datetime(2026, 11, 23, 10, tzinfo=timezone(timedelta(hours=1)))
    assert archive._read(archive._said(there)) == datetime(2026, 11, 23, 9, tzinfo=UTC)


def test_what_no_column_holds_is_refused():
    with pytest.raises(TypeError, match="object"):
        archive._said(object())


def test_every_flipped_bit_is_found(path):
    whole, chance = path.read_bytes(), random.Random(41)
    edges = [0, 3, 4, 5, 7, 8, 39, 40, 41, len(whole) - 17, len(whole) - 1]
    for at in [*edges, *(chance.randrange(len(whole)) for _ in range(60))]:
        changed = bytearray(whole)
        changed[at] ^= 1 << chance.randrange(8)
        path.write_bytes(changed)
        with pytest.raises((Damaged, NotABackup)):
            archive.verify(path, KEY)


@pytest.mark.parametrize(
    ("at", "told"),
    [
        (41, "changed near byte 40 of .* its first part: or it is of another home"),
        (300_000, r"changed near byte 262248 of \d+, in the rows of people.participant\."),
        (-200_000, r"changed near byte \d+ of \d+, in the file a of scans\."),
        (-20, r"Its end is missing or was changed: it stops, or breaks, between byte \d+ and"),
    ],
)
def test_where_it_was_changed_is_told(path, at, told):
    changed = bytearray(path.read_bytes())
    changed[at] ^= 1
    path.write_bytes(changed)
    with pytest.raises(Damaged, match=told):
        archive.verify(path, KEY)


@pytest.mark.parametrize("cut", [1, 16, 17, 5_000, 65_552, 65_553, 400_000])
def test_a_cut_tail_is_told_as_one(path, cut):
    path.write_bytes(path.read_bytes()[:-cut])
    with pytest.raises(Damaged, match=r"^Its end is missing or was changed"):
        archive.verify(path, KEY)


def test_nothing_may_follow(path):
    path.write_bytes(path.read_bytes() + b"\0")
    with pytest.raises(Damaged):
        archive.verify(path, KEY)


@pytest.mark.parametrize("content", [b"", b"RELF", b"x" * 4000])
def test_another_file_is_no_backup(path, content):
    path.write_bytes(content)
    with pytest.raises(NotABackup):
        archive.number_of(path)


def test_under_another_key_nothing_opens(path):
    with pytest.raises(Damaged, match="another home"):
        archive.verify(path, MonthKey(7, "2026-11", bytes(32)))
    with pytest.raises(Damaged, match="another home"):
        archive.verify(path, MonthKey(8, "2026-11", KEY.key))


def sealed(records):
    return b"".join(seal_chunks(records, KEY.key, archive.NAME, key_id=KEY.number))


END = archive._record(b"E", b'{"rows":0,"files":0}')
FILE = archive._record(b"F", b'{"folder":"scans","name":"a","size":1}')
FIRST = archive._record(b"M", archive._json(manifest(rows=0).__dict__))


@pytest.mark.parametrize(
    ("records", "told"),
    [
        ([FIRST], "too early"),
        ([FIRST, END[:-4]], "too early"),
        ([FIRST, END, END], "after its end"),
        ([FIRST, END, b"x" * 100_000], "after its end"),
        ([FIRST, archive._record(b"E", b'{"rows":1,"files":0}')], "not hold as much"),
        ([FIRST, archive._record(b"X", b'{"rows":0,"files":0}')], "not hold as much"),
        ([FIRST, FILE, archive._record(b"S", bytes(32)), END], "file a of scans"),
        ([FIRST, FILE, archive._record(b"D", b"x"), END], "file a of scans"),
    ],
)
def test_what_was_written_wrongly_is_found_though_it_is_sealed(path, records, told):
    """As by a site with a fault: chunks alone would not show it."""
    path.write_bytes(sealed(records))
    with pytest.raises(Damaged, match=told):
        archive.verify(path, KEY)


def test_fewer_rows_than_it_says_are_found(path):
    path.write_bytes(b"".join(archive.written([manifest(rows=5)], KEY)))
    with pytest.raises(Damaged, match="not hold as much"):
        archive.verify(path, KEY)


@pytest.mark.parametrize("format", [0, 2])
def test_of_another_format_is_said_before_anything_is_taken_from_it(path, format):
    path.write_bytes(b"".join(archive.written([manifest(rows=0, format=format)], KEY)))
    with pytest.raises(NotABackup, match="another version"):
        archive.verify(path, KEY)


def test_a_sealed_file_of_the_home_is_no_backup(path):
    path.write_bytes(sealed([b"a scan of a paper"]))
    with pytest.raises((NotABackup, Damaged, SealBroken)):
        archive.verify(path, KEY)
