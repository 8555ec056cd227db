"""The one sealed file: opened by its passphrase alone, and refused when anything of it differs."""

import io
import json

import pytest

from relations.privacy import slots
from relations.privacy.crypt import Cost
from relations.privacy.slots import make_slot
from relations.rights import taking_out_file
from relations.rights.taking_out_file import Damaged, NotARegister, WrongPassphrase, opened, seal
from relations.rights.taking_out_rows import FORMAT

WORDS = "four boats and no harbour"
DOCUMENT = [b'{"format":"', FORMAT.encode(), b'","tables":{}', b"}"]


@pytest.fixture(autouse=True)
def cheap(monkeypatch):
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))


def open_(made, words=WORDS):
    return opened(io.BytesIO(made), words)


def parts(made):
    first, slot, body = made.split(b"\n", 2)
    return first + b"\n", slot + b"\n", body


def test_it_opens_by_its_passphrase_and_nothing_of_it_is_read_without():
    made = seal(DOCUMENT, WORDS)
    assert open_(made) == b"".join(DOCUMENT)
    assert FORMAT.encode() not in made
    assert WORDS.encode() not in made
    assert open_(made, WORDS.replace("o", "\uff4f")) == b"".join(DOCUMENT)  # typed in wide letters
    with pytest.raises(WrongPassphrase):
        open_(made, "four boats and one harbour")


def test_two_of_one_register_have_nothing_in_common_and_no_part_fits_the_other():
    one, other = parts(seal(DOCUMENT, WORDS)), parts(seal(DOCUMENT, WORDS))
    assert one[1:] != other[1:]
    with pytest.raises(Damaged):
        open_(b"".join([*one[:2], other[2]]))


@pytest.mark.parametrize("length", [-1, -17, -200])
def test_a_file_that_was_cut_says_so(length):
    made = seal([*DOCUMENT[:-1], b',"x":"', bytes(200).hex().encode(), b'"}'], WORDS)
    with pytest.raises(Damaged):
        open_(made[:length])


def test_one_bit_anywhere_is_found():
    """In the slot another passphrase is what it looks like; which of the two cannot be told."""
    made = seal(DOCUMENT, WORDS)
    for at in range(0, len(made), 3):
        other = bytearray(made)
        other[at] ^= 1
        with pytest.raises((NotARegister, Damaged, WrongPassphrase)):
            open_(bytes(other))
    with pytest.raises(Damaged):
        open_(made + b"x")


@pytest.mark.parametrize("made", [b"", b"RELF", b"RELATIONS REGISTER 2\n", b"%PDF-1.7\n"])
def test_a_foreign_file_is_named_as_one(made):
    with pytest.raises(NotARegister):
        open_(made)


def with_slot(**said):
    first, slot, body = parts(seal(DOCUMENT, WORDS))
    return b"".join([first, json.dumps({**json.loads(slot), **said}).encode(), b"\n", body])


@pytest.mark.parametrize(
    "said",
    [
        {"memory": 2**31},
        {"passes": 0},
        {"lanes": "2"},
        {"kdf": "none"},
        {"name": "recovery"},
    ],
)
def test_a_slot_that_asks_for_what_no_machine_pays_is_not_tried(said, monkeypatch):
    monkeypatch.setattr(taking_out_file, "open_slot", lambda *_: pytest.fail("it was tried"))
    with pytest.raises(Damaged):
        open_(with_slot(**said))
    first, _slot, body = parts(seal(DOCUMENT, WORDS))
    with pytest.raises(Damaged):
        open_(first + b"[]\n" + body)


def test_the_slot_of_a_home_opens_no_register():
    first, _slot, body = parts(seal(DOCUMENT, WORDS))
    slot = json.dumps(make_slot("passphrase", WORDS, bytes(32), "real")).encode()
    with pytest.raises(WrongPassphrase):
        open_(b"".join([first, slot, b"\n", body]))


def test_what_is_whole_and_of_another_version_or_not_ended_is_no_register():
    with pytest.raises(NotARegister):
        open_(seal([b'{"format":"another"}'], WORDS))


def test_what_was_not_compressed_to_its_end_is_damaged(monkeypatch):
    monkeypatch.setattr(taking_out_file, "_compressed", lambda document: [b"x\x9c"])
    made = seal(DOCUMENT, WORDS)
    with pytest.raises(Damaged):
        open_(made)
