"""The pair that telephones seal to: opened here alone, made once, and carried through a rekey."""

import base64
import subprocess
import uuid

import pytest
from cryptography.hazmat.primitives import serialization

from relations.privacy import outbox
from relations.privacy.crypt import SealBroken
from relations.privacy.models import OutboxKey
from tests import phone

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("00000000-0000-4000-8000-00000000000a")
SAID = {"kind": "stop", "code": "12"}


@pytest.fixture(autouse=True)
def pair():
    outbox.stand()


def test_what_a_telephone_sealed_opens_here():
    assert outbox.unseal(phone.seal(SAID, KEY), KEY) == SAID


def test_what_the_site_seals_without_a_script_opens_as_a_telephones_does():
    sealed = outbox.seal(SAID, KEY)
    assert outbox.unseal(sealed, KEY) == SAID
    assert set(sealed) == set(phone.seal(SAID, KEY))
    with pytest.raises(SealBroken):
        outbox.unseal(sealed, uuid.uuid4())


def test_home_that_has_the_public_half_alone_seals_and_cannot_open_it_again():
    """As in a travelling set."""
    row = OutboxKey.objects.get()
    row.private = ""
    row.save()
    outbox.stand()
    assert OutboxKey.objects.count() == 1
    with pytest.raises(SealBroken):
        outbox.unseal(outbox.seal(SAID, KEY), KEY)


def test_there_is_one_pair_however_often_a_home_is_opened():
    outbox.stand()
    outbox.first_pair()  # by a server that looked a moment too early
    assert OutboxKey.objects.count() == 1


def test_pair_is_rsa_of_3072_bits_and_its_private_half_is_sealed():
    row = OutboxKey.objects.get()
    public = serialization.load_der_public_key(bytes(row.public))
    assert public.key_size == 3072
    stored = OutboxKey.objects.filter(pk=row.pk).values_list("private", flat=True).get()
    assert base64.b64decode(row.private)[:8] not in bytes(stored)


def test_newest_pair_is_given_out_and_an_older_one_still_opens():
    older = phone.seal(SAID, KEY)
    renewed = outbox.renew()
    assert outbox.newest()[0] == renewed.pk
    assert outbox.unseal(older, KEY) == outbox.unseal(phone.seal(SAID, KEY), KEY) == SAID


def test_without_a_pair_nothing_is_given_out():
    OutboxKey.objects.all().delete()
    assert outbox.newest() is None


@pytest.mark.parametrize(
    "wrong",
    [
        {"to": "nobody"},
        {"to": str(KEY)},
        {"wrapped": "AAAA"},
        {"nonce": "no base64!"},
        {"closed": phone.text(bytes(40))},
        {"closed": phone.text(bytes(outbox.LONGEST + 1))},
        {"closed": None},
    ],
)
def test_what_was_changed_or_is_for_another_key_does_not_open(wrong):
    with pytest.raises(SealBroken):
        outbox.unseal({**phone.seal(SAID, KEY), **wrong}, KEY)


def test_entry_cannot_be_sent_again_under_another_key():
    with pytest.raises(SealBroken):
        outbox.unseal(phone.seal(SAID, KEY), uuid.uuid4())


def test_entry_that_is_no_form_does_not_open():
    with pytest.raises(SealBroken):
        outbox.unseal(phone.seal(["stop"], KEY), KEY)


def test_key_of_another_kind_opens_nothing(tmp_path):
    """A row that was put there by hand: a key of an elliptic curve, made by openssl."""
    made = subprocess.run(
        ["openssl", "genpkey", "-algorithm", "EC", "-pkeyopt", "ec_paramgen_curve:P-256",
         "-outform", "DER"],
        capture_output=True, check=True,
    )  # fmt: skip
    sealed = phone.seal(SAID, KEY)
    row = OutboxKey.objects.get()
    row.private = phone.text(made.stdout)
    row.save()
    with pytest.raises(SealBroken):
        outbox.unseal(sealed, KEY)


def test_part_is_missing():
    sealed = phone.seal(SAID, KEY)
    del sealed["nonce"]
    with pytest.raises(SealBroken):
        outbox.unseal(sealed, KEY)
