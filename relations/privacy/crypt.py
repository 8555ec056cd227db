"""The few cryptographic steps everything sealed goes through: one function each, no state."""

from dataclasses import dataclass

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import padding, rsa
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id
from cryptography.hazmat.primitives.kdf.hkdf import HKDF, HKDFExpand

PAIR_BITS = 3072
# RFC 8017, section 7.1, as a browser's RSA-OAEP with SHA-256 has it.
OAEP = padding.OAEP(padding.MGF1(hashes.SHA256()), hashes.SHA256(), None)


class SealBroken(Exception):  # noqa: N818 - read as a sentence where it is raised
    """What was sealed does not open: changed, cut, moved from its place, or under another key."""


@dataclass(frozen=True)
class Cost:
    """What one try at a slot costs: memory in KiB, passes, lanes (RFC 9106)."""

    memory: int
    passes: int
    lanes: int


def wrap(key: bytes, nonce: bytes, plain: bytes, bound: bytes) -> bytes:
    """AES-GCM (NIST SP 800-38D): ciphertext and 16-byte tag; opens only with the same `bound`."""
    return AESGCM(key).encrypt(nonce, plain, bound)


def unwrap(key: bytes, nonce: bytes, sealed: bytes, bound: bytes) -> bytes:
    """Open what `wrap` closed. Raise SealBroken when one bit of it, or of `bound`, differs."""
    try:
        return AESGCM(key).decrypt(nonce, sealed, bound)
    except (InvalidTag, ValueError) as error:
        raise SealBroken("what was sealed does not open") from error


def stretch(
    said: bytes,
    salt: bytes,
    cost: Cost,
    *,
    secret: bytes | None = None,
    bound: bytes | None = None,
) -> bytes:
    """32 bytes by Argon2id (RFC 9106); `secret` and `bound`, its K and X, are not used by us."""
    return Argon2id(
        salt=salt,
        length=32,
        iterations=cost.passes,
        lanes=cost.lanes,
        memory_cost=cost.memory,
        secret=secret,
        ad=bound,
    ).derive(said)


def expand(key: bytes, info: bytes, length: int = 32) -> bytes:
    """HKDF-Expand with SHA-256 (RFC 5869 section 2.3): `key` is already random."""
    return HKDFExpand(hashes.SHA256(), length, info).derive(key)


def derive(key: bytes, salt: bytes, info: bytes, length: int = 32) -> bytes:
    """HKDF with SHA-256, extract and expand (RFC 5869)."""
    return HKDF(hashes.SHA256(), length, salt, info).derive(key)


def new_pair() -> tuple[bytes, bytes]:
    """A new RSA pair: the private key (PKCS #8, DER), and the public one (SubjectPublicKeyInfo)."""
    pair = rsa.generate_private_key(65537, PAIR_BITS)
    private = pair.private_bytes(
        serialization.Encoding.DER,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    public = pair.public_key().public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )
    return private, public


def wrap_with(public: bytes, plain: bytes) -> bytes:
    """Seal at most 318 bytes to the public half of a pair, as a telephone does."""
    key = serialization.load_der_public_key(public)
    if not isinstance(key, rsa.RSAPublicKey):
        raise TypeError("entries are sealed to RSA keys")
    return key.encrypt(plain, OAEP)


def unwrap_with(private: bytes, wrapped: bytes) -> bytes:
    """Open what was sealed to the public half of a pair. Raise SealBroken for anything else."""
    key = serialization.load_der_private_key(private, None)
    try:
        if not isinstance(key, rsa.RSAPrivateKey):
            raise TypeError("entries are sealed to RSA keys")
        return key.decrypt(wrapped, OAEP)
    except (TypeError, ValueError) as error:
        raise SealBroken("what was sealed does not open") from error
