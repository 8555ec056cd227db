"""The register on a server elsewhere, as the README sets it up: a sealed line and few rights."""

import json
import os
import shutil
import subprocess
from pathlib import Path

import psycopg
import pytest

from tests import postgres
from tests.apart import TABLES, Apart

pytestmark = [pytest.mark.long, pytest.mark.needs("postgres"), pytest.mark.once]
NAME = "db.relations.test"  # RFC 6761: a name under .test belongs to nobody
PASSWORD = "p@ss/w%rd of a role"
# What an own role needs: to come in, and a schema of its own. It makes no other role or database.
ROLE = f"""
CREATE ROLE site LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE CONNECTION LIMIT 12 PASSWORD '{PASSWORD}'
"""
DATABASE = """
REVOKE ALL ON DATABASE register FROM PUBLIC;
GRANT CONNECT ON DATABASE register TO site;
REVOKE ALL ON SCHEMA public FROM PUBLIC;
CREATE SCHEMA site AUTHORIZATION site;
"""
# The site's work on it: all tables, a row, what an erasing clears, what may be lost, a backup.
WORK = """
import datetime
from django.core.management import call_command
from django.db import connection
from relations.people.models import Participant
from relations.privacy import durable, residue
from relations.privacy.home import home
from relations.privacy.slots import new_key_file, write_key_file
from relations.privacy import opening
from relations.rights import backing_up
write_key_file(home().keys, new_key_file("rehearsal", {"open": "in it"}, bytes(range(32))))
opening._write_private(home().root / "cookie.key", "k" * 50)
day = datetime.date(2026, 11, 23)
Participant.objects.create(code="A1", call_name="X", heard_on=day, standing_since=day)
with connection.cursor() as cursor:
    cursor.execute("SELECT ssl, version FROM pg_stat_ssl WHERE pid = pg_backend_pid()")
    line = cursor.fetchone()
    cursor.execute("SELECT DISTINCT schemaname FROM pg_tables WHERE tableowner = current_user")
    schemas = [name for name, in cursor.fetchall()]
    may = "SELECT rolsuper OR rolcreatedb OR rolcreaterole FROM pg_roles WHERE rolname ="
    cursor.execute(f"{may} current_user")
    may_more = cursor.fetchone()[0]
from pathlib import Path
Path(sys.argv[1]).mkdir()
made = backing_up.make(Path(sys.argv[1]))
is_clear = residue._vacuum([Participant._meta.db_table])
print(json.dumps([line, schemas, may_more, durable.forgets(), is_clear, made.faults]))
"""


@pytest.fixture(scope="module")
def papers(tmp_path_factory):
    """A certificate authority of our own and what it signed, by the README's commands."""
    folder = Path(tmp_path_factory.mktemp("papers"))
    (folder / "server.ext").write_text(f"subjectAltName=DNS:{NAME}\nextendedKeyUsage=serverAuth\n")
    for said in (
        "req -x509 -newkey rsa:3072 -nodes -sha256 -days 3 -keyout ca.key -out ca.crt"
        " -subj /CN=Ours -addext keyUsage=critical,keyCertSign",
        f"req -newkey rsa:3072 -nodes -keyout server.key -out server.csr -subj /CN={NAME}",
        "x509 -req -in server.csr -CA ca.crt -CAkey ca.key -CAcreateserial -days 3 -sha256"
        " -extfile server.ext -out server.crt",
        "req -x509 -newkey rsa:3072 -nodes -sha256 -days 3 -keyout other.key -out other.crt"
        " -subj /CN=Another",
    ):
        subprocess.run(["openssl", *said.split()], cwd=folder, check=True, capture_output=True)
    return folder


@pytest.fixture(scope="module")
def server(papers, tmp_path_factory):
    """A server that answers on a sealed line only."""
    settings = {"ssl": "on"} | {
        f"ssl_{kind}_file": f"server.{ending}" for kind, ending in (("cert", "crt"), ("key", "key"))
    }
    with postgres.running(postgres.DURABLE) as made:
        made.stop()
        data = made.folder / "data"
        for name in ("server.crt", "server.key"):
            shutil.copy(papers / name, data / name)
            (data / name).chmod(0o600)
            if os.geteuid() == 0:
                shutil.chown(data / name, made.user)
        made.settings = postgres.DURABLE | settings
        made.start()
        with psycopg.connect(made.new_database("register"), autocommit=True) as superuser:
            superuser.execute(ROLE)
            superuser.execute(DATABASE)
            (data / "pg_hba.conf").write_text("hostssl register site 127.0.0.1/32 scram-sha-256\n")
            superuser.execute("SELECT pg_reload_conf()")
        yield made


def address(server, papers, name=NAME, ca="ca.crt"):
    return (
        f"postgresql://site:p%40ss%2Fw%25rd%20of%20a%20role@{name}:{server.port}/register"
        f"?hostaddr=127.0.0.1&sslmode=verify-full&sslrootcert={papers / ca}"
    )


def test_a_role_with_few_rights_does_all_the_work_on_a_sealed_line(server, papers, tmp_path):
    apart = Apart(tmp_path / "home", address(server, papers))
    (tmp_path / "home").mkdir()
    apart.run(TABLES)
    line, schemas, may_more, forgets, is_clear, faults = json.loads(
        apart.run(WORK, str(tmp_path / "backups"))
    )
    assert line == [True, "TLSv1.3"]
    assert (schemas, may_more) == (["site"], False)
    assert (forgets, is_clear, faults) == ([], True, [])


@pytest.mark.parametrize(
    ("name", "ca", "said"),
    [
        (NAME, "other.crt", "certificate verify failed"),
        ("other.relations.test", "ca.crt", "does not match host name"),
    ],
)
def test_a_server_that_is_not_the_one_named_is_told_nothing(server, papers, name, ca, said):
    with pytest.raises(psycopg.OperationalError, match=said):
        psycopg.connect(address(server, papers, name, ca))


def test_the_server_answers_on_no_line_in_clear(server, papers):
    plain = address(server, papers).replace("verify-full", "disable")
    with pytest.raises(psycopg.OperationalError, match="no encryption"):
        psycopg.connect(plain)
