"""What was printed is kept to the byte, and anything else is said to be damaged."""

import hashlib

import pytest

from relations.documents import keeping
from relations.documents.models import Sheet
from relations.privacy.files import scans
from tests.rows import AT, make

pytestmark = pytest.mark.django_db
PRINTED = b"%PDF-1.7 what was printed"


def kept() -> Sheet:
    name, digest = keeping.keep(PRINTED)
    return make(Sheet, kept=name, digest=digest, printed_at=AT)


def test_bytes_come_back_as_they_were_printed_and_lie_sealed():
    sheet = kept()
    assert sheet.digest == hashlib.sha256(PRINTED).hexdigest()
    assert keeping.content(sheet) == PRINTED
    assert b"what was printed" not in scans().path_of(sheet.kept).read_bytes()


def test_paper_from_before_has_no_bytes():
    assert keeping.content(make(Sheet, kept="")) is None


def test_flipped_bit_missing_file_and_another_papers_bytes_are_damage():
    sheet = kept()
    path = scans().path_of(sheet.kept)
    sealed = path.read_bytes()
    path.write_bytes(sealed[:-1] + bytes([sealed[-1] ^ 1]))
    with pytest.raises(keeping.NotAsKeptError):
        keeping.content(sheet)
    path.unlink()
    with pytest.raises(keeping.NotAsKeptError):
        keeping.content(sheet)
    sheet.kept, _ = keeping.keep(b"another paper")
    with pytest.raises(keeping.NotAsKeptError):
        keeping.content(sheet)


def test_files_go_where_their_rows_cannot_stand():
    before, names = scans().names(), []
    with pytest.raises(RuntimeError), keeping.all_or_none(names):
        names += [keeping.keep(PRINTED)[0], "00000000-0000-4000-8000-000000000000"]
        raise RuntimeError
    assert scans().names() == before
    with keeping.all_or_none(names):
        names.append(keeping.keep(PRINTED)[0])
    assert len(scans().names()) == len(before) + 1
