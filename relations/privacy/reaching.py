"""How the PostgreSQL server of a register is reached: one URL, read as its own library reads it."""

import ipaddress
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from psycopg import ProgrammingError
from psycopg.conninfo import conninfo_to_dict

SHAPE = "postgresql://user@server/name"
# What Django is told by a name of its own; all else of the URL goes to the driver as it stands.
PLACES = {"dbname": "NAME", "user": "USER", "password": "PASSWORD", "host": "HOST", "port": "PORT"}
# PostgreSQL 15, chapter 34.19.1: how far the line is sealed and whom the server proves to be.
SSL_MODES = ("disable", "allow", "prefer", "require", "verify-ca", "verify-full")
# A service file or an own list of settings could undo what is said here and in the settings.
NOT_HERE = ("options", "service", "replication")
WHOLE_NUMBERS = ("connect_timeout", "keepalives_idle", "keepalives_interval", "keepalives_count")


class Unreachable(ValueError):  # noqa: N818 - a slip of who set it, answered calmly
    """The URL cannot be meant; in words."""


def read(address: str, environ: Mapping[str, str]) -> dict[str, Any]:
    """The URL of a register as Django wants it: NAME, USER, PASSWORD, HOST, PORT and OPTIONS.

    `environ` holds the PG… variables, which the driver reads too. Raise Unreachable, in words and
    without the password, for what is no such URL, and where the server is on another machine and
    does not prove by its certificate that it is the one that is named (sslmode=verify-full): who
    sits on the line would else read every row and answer in its place.
    """
    if not address.startswith(("postgresql://", "postgres://")):
        raise Unreachable(f"it must look like {SHAPE}")
    try:
        said = {name: str(value) for name, value in conninfo_to_dict(address).items()}
    except ProgrammingError as error:
        raise Unreachable(_without_password(str(error))) from error
    if not said.get("dbname"):
        raise Unreachable(f"it must look like {SHAPE}, with the name of a database")
    _refuse_options(said, environ)
    hosts = f"{said.get('host') or environ.get('PGHOST', '')},{said.get('hostaddr', '')}"
    if not all(is_here(host) for host in hosts.split(",")) and said.get("sslmode") != "verify-full":
        raise Unreachable(
            "the server is on another machine: add ?sslmode=verify-full&sslrootcert=FILE, so that "
            "it proves who it is"
        )
    return {
        **{django: said.get(name, "") for name, django in PLACES.items()},
        "OPTIONS": {name: value for name, value in said.items() if name not in PLACES},
    }


def _refuse_options(said: Mapping[str, str], environ: Mapping[str, str]) -> None:
    for name in NOT_HERE:
        if name in said:
            raise Unreachable(f"{name} cannot be set in it")
    for name in ("PGSERVICE", "PGHOSTADDR", "PGOPTIONS"):
        if environ.get(name):
            raise Unreachable(f"{name} is set and would change where it leads: unset it")
    if said.get("sslmode", "prefer") not in SSL_MODES:
        raise Unreachable(f"sslmode must be one of {', '.join(SSL_MODES)}")
    papers = said.get("sslrootcert", "system")
    if papers != "system" and not Path(papers).is_file():
        raise Unreachable(f"sslrootcert names no file: {papers}")
    for name in WHOLE_NUMBERS:
        if name in said and not (said[name].isascii() and said[name].isdecimal()):
            raise Unreachable(f"{name} must be a whole number")


def is_here(host: str) -> bool:
    """Whether a host is this machine: a socket in a folder, its own name, or a loop address."""
    if host.startswith(("/", "@")) or host.casefold() in {"", "localhost"}:
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _without_password(said: str) -> str:
    """What the driver says of a URL; it repeats parts of it, which may hold the password."""
    kinds = ("invalid URI query parameter", "invalid percent-encoded token", "invalid port number")
    return next((kind for kind in kinds if kind in said), f"it must look like {SHAPE}")
